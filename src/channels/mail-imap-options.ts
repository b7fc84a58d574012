import type { Incoming } from "../bot/needs.ts"
import type { Instant } from "../values/instant.ts"
import type { Bounce } from "./mail-bounce.ts"
import type { SavePhoto } from "./mail-photos.ts"
import type { PlaceMemory } from "./mail-place.ts"
import type { ReadingNeeds } from "./mail-reading.ts"

/** Where the mailbox tells its operator what happens; no address and no words go in. */
export type MailLog = {
  info(what: Record<string, unknown>, message: string): void
  warn(what: Record<string, unknown>, message: string): void
}

export type ImapOptions = ReadingNeeds & {
  /** `imap://` or `imaps://` with user and password; the path names a mailbox other than INBOX. */
  url: string
  /** Keeps a reply durably; what it resolved for is marked as read and not handed over again. A repeat of its id is harmless. */
  onMail(incoming: Incoming): Promise<void>
  /** A mail of ours did not arrive. Called only where the report proves which mail it is about. */
  onBounce?(bounce: Bounce & { key: string }): Promise<void>
  /** How far the mailbox was read, and how people sign. */
  memory: PlaceMemory
  savePhoto?: SavePhoto | null
  /** What we sent to an address of late: lines of it that come back unmarked are not taken for a reply. */
  sentTo?(address: string): Promise<readonly string[]>
  /**
   * Mails of people nobody knows that answer nothing of ours: `ignore` leaves them alone, since the owner may read the same
   * mailbox and an answer to junk goes to whoever it pretends to be from; `pass` hands them on.
   */
  strangers?: "ignore" | "pass"
  /** Words by which a stranger asks to be let in: such a mail is handed on whatever is done with others. */
  letsIn?(words: string): boolean
  now(): Instant
  log: MailLog
  /** Called between the steps of taking a mail in, for trials that stop the program there. */
  step?(name: "fetched" | "mail-logged" | "mail-flagged"): void | Promise<void>
  waits?: Partial<ImapWaits>
}

export type ImapWaits = {
  /** Looks at the mailbox this often even if the server says nothing; also renews IDLE, well under 29 min (RFC 2177). */
  pollMs: number
  /** A server that takes longer to answer is gone, whatever the connection says (failure D17). */
  answerMs: number
  /** Between two tries to connect: doubled from the first to the most. */
  retryFirstMs: number
  retryMostMs: number
}
