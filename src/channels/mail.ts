import { readFileSync } from "node:fs"
import type { Incoming, Outgoing, Store } from "../bot/needs.ts"
import type { Instant } from "../values/instant.ts"
import { WrongInput } from "../values/problem.ts"
import type { Bounce } from "./mail-bounce.ts"
import { type ImapInbox, imapInbox } from "./mail-imap.ts"
import type { MailLog } from "./mail-imap-options.ts"
import { addressIn, keyedAddress } from "./mail-keys.ts"
import { photoSaver } from "./mail-photos.ts"
import { type Dkim, type SmtpChannel, smtpChannel } from "./mail-smtp.ts"

/** The settings of mail, as the environment has them. */
export type MailSettings = {
  smtpUrl: string | null
  mailFrom: string | null
  imapUrl: string | null
  dkim: { domain: string; selector: string; keyFile: string } | null
}

export type MailNeeds = {
  settings: MailSettings
  /** Sign Message-IDs and addresses; the first makes them, the others were in use before. */
  secrets: readonly string[]
  store: Pick<Store, "recall" | "remember" | "outgoing">
  /** Everyone who has this address, as `garden/person`. */
  peopleAt(address: string): readonly string[]
  /** Keeps a reply durably. */
  receive(incoming: Incoming): Promise<unknown>
  /** A mail of ours did not arrive. */
  onBounce?(bounce: Bounce & { key: string }): Promise<void>
  /** What was sent to an address of late, to know it where it comes back unmarked. */
  sentTo?(address: string): Promise<readonly string[]>
  /** Folder in which pictures are kept. */
  photos: string
  /** Milliseconds until the next try after so many in a row. */
  wait(attempt: number, key: string): number
  now(): Instant
  log: MailLog
  strangers?: "ignore" | "pass"
  /** Words by which a stranger asks to be let in. */
  letsIn?(words: string): boolean
  step?(name: "fetched" | "mail-logged" | "mail-flagged"): void | Promise<void>
}

export type Mail = {
  /** Sends; null where no mail server is set. */
  channel: SmtpChannel | null
  /** Reads, once it is started; null where no mailbox is set. */
  inbox: ImapInbox | null
  /** Where a mail that says stop is read; null where none is. */
  stopAddress: string | null
  close(): Promise<void>
}

/**
 * Mail in both directions as the settings have it: SMTP alone, a mailbox alone, both or neither. Nothing connects before a
 * mail is sent or the inbox is started. WrongInput where the DKIM key cannot be read.
 */
export function openMail(needs: MailNeeds): Mail {
  const { settings, secrets } = needs
  const from = settings.mailFrom
  const hasMailbox = settings.imapUrl !== null && from !== null
  const channel =
    settings.smtpUrl === null || from === null
      ? null
      : smtpChannel({
          url: settings.smtpUrl,
          from,
          secrets,
          dkim: settings.dkim === null ? null : readDkim(settings.dkim),
          // An answer is read from the mailbox only, so only then is there an address of one's own to answer to.
          replyAddressFor: (message: Outgoing) =>
            hasMailbox ? keyedAddress(from, `${message.garden}/${message.person}`, secrets) : null,
          wait: needs.wait,
        })
  const inbox =
    settings.imapUrl === null || from === null
      ? null
      : imapInbox({
          url: settings.imapUrl,
          from,
          secrets,
          peopleAt: needs.peopleAt,
          recipientOf: async (key) => (await needs.store.outgoing(key))?.to ?? null,
          onMail: async (incoming) => void (await needs.receive(incoming)),
          ...(needs.onBounce ? { onBounce: needs.onBounce } : {}),
          ...(needs.sentTo ? { sentTo: needs.sentTo } : {}),
          ...(needs.strangers ? { strangers: needs.strangers } : {}),
          ...(needs.letsIn ? { letsIn: needs.letsIn } : {}),
          ...(needs.step ? { step: needs.step } : {}),
          memory: needs.store,
          savePhoto: photoSaver(needs.photos),
          now: needs.now,
          log: needs.log,
        })
  return {
    channel,
    inbox,
    stopAddress: inbox === null || from === null ? null : addressIn(from),
    async close() {
      channel?.close()
      await inbox?.stop()
    },
  }
}

function readDkim({ domain, selector, keyFile }: NonNullable<MailSettings["dkim"]>): Dkim {
  const wrong = (found: string): WrongInput =>
    new WrongInput([
      {
        code: "setting",
        place: null,
        field: "DKIM_KEY_FILE",
        found,
        expected: "a file with a private key in PEM form",
      },
    ])
  let privateKey: string
  try {
    privateKey = readFileSync(keyFile, "utf8")
  } catch {
    throw wrong("a file that cannot be read")
  }
  if (!/-----BEGIN [A-Z ]*PRIVATE KEY-----/.test(privateKey)) throw wrong("a file without a private key")
  return { domain, selector, privateKey }
}
