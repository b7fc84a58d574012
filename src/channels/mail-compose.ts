import { createTransport, type SendMailOptions } from "nodemailer"
import type { Outgoing } from "../bot/needs.ts"
import type { Instant } from "../values/instant.ts"

/** Domain of our Message-IDs where the sender's address gives none. */
const FALLBACK_DOMAIN = "ryebell.invalid"

/**
 * A message as nodemailer takes it: what SMTP sends and what the terminal writes to a file is the same mail. The
 * Message-ID follows from our own key, so a copy that was sent twice can be told and merged (failure D18).
 */
export function mailOf(message: Outgoing, from: string, at: Instant): SendMailOptions {
  return {
    from,
    to: message.to,
    subject: message.subject ?? "",
    text: message.text,
    ...(message.html === undefined ? {} : { html: message.html }),
    ...(message.headers === undefined ? {} : { headers: message.headers }),
    messageId: messageIdOf(message.key, from),
    date: new Date(at),
    attachments: (message.enclosures ?? []).map((enclosure) => ({
      filename: enclosure.name,
      content: Buffer.from(enclosure.base64, "base64"),
      contentType: enclosure.type,
      ...(enclosure.cid === undefined ? {} : { cid: enclosure.cid, contentDisposition: "inline" as const }),
    })),
    // Nothing that a person typed may ever name a file or an address to be read into a mail.
    disableFileAccess: true,
    disableUrlAccess: true,
  }
}

/** `<key@domain of the sender>`, with every character that is none of a Message-ID written as a dot. */
export function messageIdOf(key: string, from: string): string {
  const domain = /@([a-zA-Z0-9.-]+)/.exec(from)?.[1] ?? FALLBACK_DOMAIN
  return `<${key.replace(/[^a-zA-Z0-9-]+/g, ".")}@${domain}>`
}

/** The bytes of a mail, as they would leave. */
export async function composeMail(message: Outgoing, from: string, at: Instant): Promise<Buffer> {
  const transport = createTransport({ streamTransport: true, buffer: true })
  const info = await transport.sendMail(mailOf(message, from, at))
  return info.message as Buffer
}
