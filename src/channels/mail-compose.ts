import type { SendMailOptions } from "nodemailer"
import type { Outgoing } from "../bot/needs.ts"
import { addressIn, messageIdOf } from "./mail-keys.ts"

export { messageIdOf } from "./mail-keys.ts"

/** What goes into a mail beside the message. */
export type MailExtras = {
  /** Sign Message-IDs; the first makes them. */
  secrets?: readonly string[]
  /** Where an answer goes, if not to the sender. */
  replyTo?: string | null
}

/** Everything that would end a header line or hide in one (failure X17). */
// biome-ignore lint/suspicious/noControlCharactersInRegex: these are the very characters to neutralise
const LINE_BREAKERS = /[\u0000-\u001f\u007f-\u009f\u2028\u2029]+/g

/**
 * A message as nodemailer takes it: what SMTP sends and what the terminal writes to a file is the same mail. The
 * Message-ID follows from our own key, so a copy that was sent twice can be told and merged (failure D18). Answers say that
 * a machine replied, all else that a machine wrote (RFC 3834, 5), so that holiday programs keep quiet.
 */
export function mailOf(message: Outgoing, from: string, date: Date, extras: MailExtras = {}): SendMailOptions {
  const sender = oneLine(from)
  return {
    from: sender,
    // As a mailbox, not as text: text would be cut at its commas into several.
    to: { name: "", address: oneLine(message.to).trim() },
    subject: oneLine(message.subject ?? ""),
    text: message.text,
    ...(message.html === undefined ? {} : { html: message.html }),
    ...(extras.replyTo ? { replyTo: { name: nameIn(sender), address: oneLine(extras.replyTo) } } : {}),
    headers: headersOf(message),
    messageId: messageIdOf(message.key, sender, extras.secrets),
    date,
    attachments: (message.enclosures ?? []).map((enclosure) => ({
      filename: oneLine(enclosure.name),
      content: Buffer.from(enclosure.base64, "base64"),
      contentType: oneLine(enclosure.type),
      ...(enclosure.cid === undefined ? {} : { cid: oneLine(enclosure.cid), contentDisposition: "inline" as const }),
    })),
    // Nothing that a person typed may ever name a file or an address to be read into a mail.
    disableFileAccess: true,
    disableUrlAccess: true,
  }
}

function headersOf(message: Outgoing): Record<string, string> {
  const headers: Record<string, string> = {
    "Auto-Submitted": message.kind === "answer" ? "auto-replied" : "auto-generated",
  }
  for (const [name, value] of Object.entries(message.headers ?? {})) {
    if (/^[A-Za-z0-9-]+$/.test(name)) headers[name] = oneLine(value)
  }
  return headers
}

function oneLine(text: string): string {
  return text.replace(LINE_BREAKERS, " ")
}

function nameIn(from: string): string {
  return (
    from
      .slice(0, Math.max(0, from.lastIndexOf("<")))
      .replace(/"/g, "")
      .trim() || addressIn(from)
  )
}

/** The bytes of a mail, as they would leave. */
export async function composeMail(
  message: Outgoing,
  from: string,
  date: Date,
  extras: MailExtras = {},
): Promise<Buffer> {
  const { createTransport } = await import("nodemailer")
  const transport = createTransport({ streamTransport: true, buffer: true })
  const info = await transport.sendMail(mailOf(message, from, date, extras))
  return info.message as Buffer
}
