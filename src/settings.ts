import { z } from "zod"
import { asInstant, type Instant } from "./values/instant.ts"
import { nearestWord } from "./values/nearest.ts"
import { type Problem, WrongInput } from "./values/problem.ts"

const LOOPBACK = new Set(["localhost", "127.0.0.1", "::1", "[::1]"])

const text = z.string().trim().min(1)
const url = (...protocols: string[]) =>
  text.refine((value) => URL.canParse(value) && protocols.includes(new URL(value).protocol), {
    message: `expected an address that begins with ${protocols.map((each) => `${each}//`).join(" or ")}`,
  })

/** A server's address in which a password was not taken for a host or a path. */
const serverUrl = (...protocols: string[]) =>
  url(...protocols).refine((value) => !/#|@.*@/.test(value), {
    message: "expected in a password %40 for @, %2F for /, %23 for #: as they stand they end it",
  })

const environment = z.object({
  RYEBELL_GARDEN: text.default("config/garden.yaml"),
  RYEBELL_DATA: text.default("data"),
  DATABASE_URL: url("postgres:", "postgresql:").optional(),
  PUBLIC_URL: url("http:", "https:").optional(),
  HOST: text.default("127.0.0.1"),
  PORT: z.coerce.number({ message: "expected a port, 0 to 65535" }).int().min(0).max(65535).default(8080),
  TWILIO_ACCOUNT_SID: text.optional(),
  TWILIO_AUTH_TOKEN: text.optional(),
  TWILIO_FROM: text.optional(),
  TWILIO_MESSAGING_SERVICE_SID: text.optional(),
  TWILIO_API_URL: url("http:", "https:").optional(),
  TEXT_COUNTRIES: text
    .regex(/^\d{1,3}(\s*,\s*\d{1,3})*$/, { message: "expected calling codes, such as 1 or 44,353" })
    .optional(),
  TEXT_RATE: z.coerce.number({ message: "expected texts a second, such as 1" }).min(0.1).max(1000).optional(),
  TEXT_DAY_LIMIT: z.coerce.number({ message: "expected a whole number of texts" }).int().min(1).optional(),
  SMTP_URL: serverUrl("smtp:", "smtps:").optional(),
  MAIL_FROM: text
    .regex(/^[^<>]*<[^\s<>@]+@[^\s<>@]+>$|^[^\s<>@]+@[^\s<>@]+$/, {
      message: "expected an address, with a name or alone, such as Ryebell <ryebell@example.org>",
    })
    .optional(),
  IMAP_URL: serverUrl("imap:", "imaps:").optional(),
  DKIM_DOMAIN: text.optional(),
  DKIM_SELECTOR: text.optional(),
  DKIM_KEY_FILE: text.optional(),
  WEATHER: text.default("none"),
  WEATHER_API_URL: url("http:", "https:").optional(),
  ALIVE_URL: url("http:", "https:").optional(),
  LOG_LEVEL: z.enum(["trace", "debug", "info", "warn", "error", "fatal", "silent"]).default("info"),
  SECRET_KEY: text.min(16, { message: "expected at least 16 characters" }).optional(),
  RYEBELL_CLOCK: text.optional(),
})

/** Names that belong to us; one that begins like them and is none of them is a slip. */
const OURS = /^(RYEBELL|TWILIO|SMTP|IMAP|DKIM|WEATHER|MAIL|TEXT)_/

export type TrialClock = { start: Instant; speed: number }

export type Settings = {
  /** A garden file, or a folder of them. */
  garden: string
  /** Was the garden named, or is this the default place? */
  gardenNamed: boolean
  /** Folder of the file database, outgoing mails and photos. */
  data: string
  databaseUrl: string | null
  publicUrl: string | null
  host: string
  port: number
  /** Was the port named, or is any free one as good where the usual is taken? */
  portNamed: boolean
  twilio: {
    accountSid: string
    authToken: string
    from: string | null
    messagingServiceSid: string | null
    apiUrl: string | null
  } | null
  /** Calling codes of the countries that may be texted; null: that of the sending number. */
  textCountries: readonly string[] | null
  /** Texts a second that the sender may send; null: the carrier's own queue does. */
  textRate: number | null
  /** The most texts in a day; null: by the number of phones. */
  textDayLimit: number | null
  smtpUrl: string | null
  mailFrom: string | null
  imapUrl: string | null
  dkim: { domain: string; selector: string; keyFile: string } | null
  /** `open-meteo`, `nws`, `none`, or the path of a CSV file. */
  weather: string
  weatherApiUrl: string | null
  /** Where a sign of life goes each minute in which all is well; null: nowhere. */
  aliveUrl: string | null
  logLevel: string
  secretKey: string | null
  clock: TrialClock | null
}

/**
 * Reads the settings from environment variables. Every problem is named at once (WrongInput): a value of the wrong shape,
 * a setting that is there by half (a Twilio account without its token), a slip in a name of ours, and a trial clock beside
 * a live carrier or mail server.
 */
export function readSettings(env: Record<string, string | undefined>): Settings {
  const filled = Object.fromEntries(
    Object.entries(env).filter(([, value]) => value !== undefined && value.trim() !== ""),
  )
  const parsed = environment.safeParse(filled)
  const problems: Problem[] = slipsIn(filled)
  if (!parsed.success) {
    for (const issue of parsed.error.issues) {
      const name = String(issue.path[0])
      problems.push(problem(name, hide(name, filled[name]), issue.message.replace(/^expected /, "")))
    }
    throw new WrongInput(problems)
  }
  const e = parsed.data
  problems.push(...halves(e))
  const clock = e.RYEBELL_CLOCK === undefined ? null : readTrialClock(e.RYEBELL_CLOCK)
  if (clock === "wrong") {
    problems.push(
      problem(
        "RYEBELL_CLOCK",
        e.RYEBELL_CLOCK ?? "",
        "an instant with an optional speed, such as 2026-05-01T08:00:00-04:00x60",
      ),
    )
  }
  const settings: Settings = {
    garden: e.RYEBELL_GARDEN,
    gardenNamed: filled.RYEBELL_GARDEN !== undefined,
    data: e.RYEBELL_DATA,
    databaseUrl: e.DATABASE_URL ?? null,
    publicUrl: e.PUBLIC_URL ?? null,
    host: e.HOST,
    port: e.PORT,
    portNamed: filled.PORT !== undefined,
    twilio:
      e.TWILIO_ACCOUNT_SID && e.TWILIO_AUTH_TOKEN
        ? {
            accountSid: e.TWILIO_ACCOUNT_SID,
            authToken: e.TWILIO_AUTH_TOKEN,
            from: e.TWILIO_FROM ?? null,
            messagingServiceSid: e.TWILIO_MESSAGING_SERVICE_SID ?? null,
            apiUrl: e.TWILIO_API_URL ?? null,
          }
        : null,
    textCountries: e.TEXT_COUNTRIES?.split(",").map((code) => code.trim()) ?? null,
    textRate: e.TEXT_RATE ?? null,
    textDayLimit: e.TEXT_DAY_LIMIT ?? null,
    smtpUrl: e.SMTP_URL ?? null,
    mailFrom: e.MAIL_FROM ?? null,
    imapUrl: e.IMAP_URL ?? null,
    dkim:
      e.DKIM_DOMAIN && e.DKIM_SELECTOR && e.DKIM_KEY_FILE
        ? { domain: e.DKIM_DOMAIN, selector: e.DKIM_SELECTOR, keyFile: e.DKIM_KEY_FILE }
        : null,
    weather: e.WEATHER,
    weatherApiUrl: e.WEATHER_API_URL ?? null,
    aliveUrl: e.ALIVE_URL ?? null,
    logLevel: e.LOG_LEVEL,
    secretKey: e.SECRET_KEY ?? null,
    clock: clock === "wrong" ? null : clock,
  }
  problems.push(...liveOnTrialClock(settings))
  if (problems.length > 0) throw new WrongInput(problems)
  return settings
}

/** Reads `INSTANT[xSPEED]`; `wrong` where it is neither. Speed is how many times faster than life, 0.1 to 1,000,000. */
export function readTrialClock(said: string): TrialClock | "wrong" {
  const parts = /^(.+?)(?:x(\d+(?:\.\d+)?))?$/.exec(said.trim())
  const start = asInstant(parts?.[1] ?? "")
  const speed = Number(parts?.[2] ?? 1)
  if (start === null || !(speed >= 0.1 && speed <= 1_000_000)) return "wrong"
  return { start, speed }
}

function slipsIn(filled: Record<string, string | undefined>): Problem[] {
  const known = Object.keys(environment.shape)
  return Object.keys(filled)
    .filter((name) => OURS.test(name) && !known.includes(name))
    .map((name) => {
      const nearest = nearestWord(name, known)
      return {
        ...problem(name, "a setting that nobody reads", "a setting of Ryebell"),
        ...(nearest ? { nearest } : {}),
      }
    })
}

function halves(e: z.infer<typeof environment>): Problem[] {
  const problems: Problem[] = []
  const together = (names: (keyof typeof e)[]) => {
    const missing = names.filter((name) => e[name] === undefined)
    if (missing.length > 0 && missing.length < names.length) {
      for (const name of missing)
        problems.push(
          problem(name, "nothing", `a value, since ${names.filter((n) => !missing.includes(n)).join(" and ")} is set`),
        )
    }
  }
  together(["TWILIO_ACCOUNT_SID", "TWILIO_AUTH_TOKEN"])
  together(["DKIM_DOMAIN", "DKIM_SELECTOR", "DKIM_KEY_FILE"])
  if (e.TWILIO_ACCOUNT_SID && !e.TWILIO_FROM && !e.TWILIO_MESSAGING_SERVICE_SID) {
    problems.push(problem("TWILIO_FROM", "nothing", "the number that sends (E.164), or TWILIO_MESSAGING_SERVICE_SID"))
  }
  if (e.SMTP_URL && !e.MAIL_FROM)
    problems.push(problem("MAIL_FROM", "nothing", "the address that mails come from, since SMTP_URL is set"))
  return problems
}

/** Nobody outside this machine may hear from a trial (a clock that runs fast, or stands elsewhere). */
function liveOnTrialClock(settings: Settings): Problem[] {
  if (!settings.clock) return []
  const live: string[] = []
  if (settings.twilio && !onLoopback(settings.twilio.apiUrl))
    live.push("the Twilio account (no TWILIO_API_URL on loopback)")
  if (settings.smtpUrl && !onLoopback(settings.smtpUrl)) live.push("SMTP_URL")
  if (settings.imapUrl && !onLoopback(settings.imapUrl)) live.push("IMAP_URL")
  if (settings.aliveUrl && !onLoopback(settings.aliveUrl)) live.push("ALIVE_URL")
  return live.map((what) =>
    problem(
      "RYEBELL_CLOCK",
      `a trial clock beside ${what}`,
      "only carriers, mail servers and watchers on loopback while a trial clock runs",
    ),
  )
}

function onLoopback(address: string | null): boolean {
  if (!address || !URL.canParse(address)) return false
  const host = new URL(address).hostname
  return LOOPBACK.has(host) || /^127\.\d+\.\d+\.\d+$/.test(host)
}

function problem(field: string, found: string, expected: string): Problem {
  return { code: "setting", place: null, field, found, expected }
}

/** A secret is never shown, not even a wrong one. */
function hide(name: string, value: string | undefined): string {
  if (value === undefined) return "nothing"
  return /TOKEN|KEY|URL|SID/.test(name) ? "a value that does not fit" : JSON.stringify(value)
}
