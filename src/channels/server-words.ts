/** Which setting holds the address of a mail server. */
export type ServerSetting = "SMTP_URL" | "IMAP_URL"

const PASSWORD_HINT =
  "many mailboxes want a password made for programs, and in an address @ is written %40, / is %2F, # is %23"

/** What a failed connection says, and what to look at; the first that fits counts. */
const REASONS: readonly [RegExp, (setting: ServerSetting) => string][] = [
  [
    /\b(?:EDNS|ENOTFOUND|EAI_AGAIN)\b/,
    (setting) =>
      `no server of that name is known: look at the host in ${setting}, and whether this machine has a network`,
  ],
  [/\bECONNREFUSED\b/, (setting) => `nothing listens there: look at host and port in ${setting}`],
  [
    /wrong version number|packet length too long|\bEPROTO\b/i,
    (setting) => `it does not speak TLS from the first byte on that port: begin ${setting} with ${plain(setting)}`,
  ],
  [
    /self-signed|certificate|altnames/i,
    (setting) => `its certificate is not trusted: in ${setting} name the host as its certificate does`,
  ],
  [
    /\b(?:ETIMEDOUT|mute)\b|timed? ?out|Greeting never received/i,
    (setting) => `it does not answer: look at host and port in ${setting}, and whether a firewall lies between`,
  ],
  [
    /NONEXISTENT|doesn't exist/i,
    (setting) => `there is no mailbox of that name: look at what stands behind the host in ${setting}`,
  ],
]

function plain(setting: ServerSetting): string {
  return setting === "SMTP_URL" ? "smtp:// (port 587 in most places)" : "imap:// (port 143 in most places)"
}

/** Why a mail server cannot be used, in words that say what to look at; null where the error says nothing that is known. */
export function serverWords(error: unknown, setting: ServerSetting): string | null {
  const text = told(error)
  if (/\bEAUTH\b|login-refused/.test(text))
    return `the server does not accept the user or password of ${setting}: ${PASSWORD_HINT}`
  const found = REASONS.find(([pattern]) => pattern.test(text))
  return found ? found[1](setting) : null
}

/** Codes and words of an error and of what caused it. */
function told(error: unknown): string {
  if (!(error instanceof Error)) return ""
  const { code, authenticationFailed, serverResponseCode, responseText, cause } = error as Error &
    Record<string, unknown>
  const login = authenticationFailed === true ? "login-refused" : ""
  return [code, login, serverResponseCode, responseText, error.message, told(cause)].join(" ")
}
