import { natureOf } from "./mail-auto.ts"
import { bodyOf } from "./mail-body.ts"
import { type MailPart, parseMail } from "./mail-mime.ts"

/** Bytes of a mail that are read; what is larger is not taken apart (failure X15). */
export const MOST_MAIL_BYTES = 25 * 1024 * 1024

export type ReplyOf = {
  /** The new words only: no quotes, no signature, no earlier mails. Empty for a report. */
  reply: string
  /** An automatic answer, by RFC 3834 or the common headers. */
  auto: boolean
  /** A report of a mail system on what it could not deliver (RFC 3464, or an older plain form). */
  bounce: boolean
  /** Pictures that the writer attached; ornaments of signatures and quotes not counted. */
  photos: number
}

/** A mail as the bot needs it: what `ReplyOf` says, with the parts behind it. */
export type ReadMail = ReplyOf & { mail: MailPart; pictures: MailPart[] }

/** The new words of a mail, and what kind of mail it is. Never throws; a mail over the limit gives no words. */
export function replyOf(bytes: Buffer): ReplyOf {
  const { reply, auto, bounce, photos } = readMail(bytes)
  return { reply, auto, bounce, photos }
}

export function readMail(bytes: Buffer): ReadMail {
  const mail = parseMail(bytes.length > MOST_MAIL_BYTES ? Buffer.alloc(0) : bytes)
  const { auto, bounce, report } = natureOf(mail)
  if (report) return { reply: "", auto, bounce, photos: 0, mail, pictures: [] }
  const body = bodyOf(mail)
  return { reply: body.words, auto, bounce, photos: body.photos.length + body.writtenIn, mail, pictures: body.photos }
}
