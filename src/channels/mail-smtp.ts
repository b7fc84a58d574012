import { PassThrough } from "node:stream"
import { createTransport, type SentMessageInfo } from "nodemailer"
import type { Channel, Outgoing, SendOutcome } from "../bot/needs.ts"
import { addMs, type Instant } from "../values/instant.ts"
import { mailOf } from "./mail-compose.ts"
import { addressIn, messageIdOf } from "./mail-keys.ts"
import { serverWords } from "./server-words.ts"

export type Dkim = { domain: string; selector: string; privateKey: string }

export type SmtpOptions = {
  /** `smtp://` or `smtps://`, with user and password where the server wants them. */
  url: string
  /** Who sends: an address, or `Name <address>`. */
  from: string
  dkim?: Dkim | null
  /** Sign Message-IDs, so that an answer can be told from a forgery; the first makes them. */
  secrets?: readonly string[]
  /** The address that an answer to this message should go to; null: the sender's. */
  replyAddressFor?(message: Outgoing): string | null
  /** Milliseconds until the next try after so many in a row. */
  wait(attempt: number, key: string): number
  /** Longest waits on the server, in milliseconds: to connect, for its greeting, for any answer. */
  timeouts?: { connectMs?: number; greetingMs?: number; answerMs?: number }
}

export type SmtpChannel = Channel & {
  /** Connects and logs in without sending anything. Throws the server's error. */
  verify(): Promise<void>
  close(): void
}

/** The library's own waits are minutes; a message being sent is held by a lease of two. */
const TIMEOUTS = { connectMs: 15_000, greetingMs: 15_000, answerMs: 45_000 }

/** What a signature covers. The unsubscribe headers must be in it (RFC 8058, 3), and the library's own list lacks one. */
const SIGNED_HEADERS =
  "from:to:reply-to:subject:date:message-id:in-reply-to:references:auto-submitted:mime-version:content-type:list-unsubscribe:list-unsubscribe-post"

/** An address as it may stand in an envelope: one, and nothing that an envelope could be cut at. */
const ENVELOPE_ADDRESS = /^[^\s<>()[\],;:"\\@]+@[^\s<>()[\],;:"\\@]+$/

/**
 * Sends mails through any SMTP server, one connection a mail. Outcomes by the reply code's first digit and by where it
 * stood: what may pass is tried again (4xx, no connection, a wrong password, a server that refuses us), what is final about
 * the recipient holds the channel, and a connection lost behind the final dot leaves it unknown (RFC 1047, failure D18).
 */
export function smtpChannel(options: SmtpOptions): SmtpChannel {
  const timeouts = { ...TIMEOUTS, ...options.timeouts }
  const { hostname, username } = new URL(options.url)
  const transport = createTransport({
    url: options.url,
    connectionTimeout: timeouts.connectMs,
    greetingTimeout: timeouts.greetingMs,
    socketTimeout: timeouts.answerMs,
    // A password never leaves this machine in the clear.
    ...(username !== "" && !isLoopback(hostname) ? { requireTLS: true } : {}),
    ...(options.dkim
      ? {
          dkim: {
            domainName: options.dkim.domain,
            keySelector: options.dkim.selector,
            privateKey: options.dkim.privateKey,
            headerFieldNames: SIGNED_HEADERS,
          },
        }
      : {}),
    disableFileAccess: true,
    disableUrlAccess: true,
  })
  const handedOver = new Set<string>()
  transport.use("stream", (mail, done) => {
    const key = mail.data.messageId ?? ""
    const passing = () =>
      new PassThrough({
        flush(end) {
          handedOver.add(key)
          end()
        },
      })
    mail.message.transform(passing)
    done()
  })
  return {
    via: "email",
    async send(message: Outgoing, now: Instant): Promise<SendOutcome> {
      const to = message.to.trim()
      if (!ENVELOPE_ADDRESS.test(to))
        return { is: "failed", code: "bad-address", text: "this is no mail address that can be sent to", hold: "held" }
      const id = messageIdOf(message.key, options.from, options.secrets)
      handedOver.delete(id)
      try {
        const info: SentMessageInfo = await transport.sendMail({
          ...mailOf(message, options.from, new Date(now), {
            ...(options.secrets ? { secrets: options.secrets } : {}),
            replyTo: options.replyAddressFor?.(message) ?? null,
          }),
          envelope: { from: addressIn(options.from), to: [to] },
          dsn: { id: id.slice(1, -1), return: "headers", notify: ["failure", "delay"] },
        })
        return { is: "sent", carrierId: typeof info.messageId === "string" ? info.messageId : id }
      } catch (error) {
        const dueAt = addMs(now, options.wait(message.attempts, message.key))
        return outcomeOf(error as SmtpError, handedOver.has(id), dueAt)
      } finally {
        handedOver.delete(id)
      }
    },
    /**
     * A mail server cannot be asked. A mail that may have gone is sent again under the same Message-ID, by which its copies
     * are one to every program that looks: a double costs less than a loss (failures D1, D18).
     */
    async wasTaken() {
      return { taken: false, carrierId: null }
    },
    async verify() {
      await transport.verify()
    },
    close() {
      transport.close()
    },
  }
}

type SmtpError = Error & { code?: string; command?: string; responseCode?: number; response?: string }

/** What a failed try comes to. `handedOver`: the whole mail, final dot included, was on its way. */
export function outcomeOf(error: SmtpError, handedOver: boolean, dueAt: Instant): SendOutcome {
  const reply = error.responseCode
  const enhanced = /\b([245]\.\d{1,3}\.\d{1,3})\b/.exec(error.response ?? "")?.[1] ?? ""
  const code = [reply, enhanced].filter(Boolean).join(" ") || error.code || "mail-error"
  const later = (text: string): SendOutcome => ({ is: "later", dueAt, code, text })
  if (error.code === "EAUTH" || /^AUTH/.test(error.command ?? ""))
    return later("the mail server does not accept the user or password of SMTP_URL")
  if (reply === undefined) {
    if (error.code === "EENVELOPE")
      return { is: "failed", code: "bad-address", text: "this is no mail address that can be sent to", hold: "held" }
    if (handedOver)
      return {
        is: "unknown",
        dueAt,
        code: code || "lost-behind-dot",
        text: "the connection was lost before the server said whether it took the mail",
      }
    return later(serverWords(error, "SMTP_URL") ?? "the mail server could not be reached, or the connection was lost")
  }
  if (reply < 500) return later("the mail server asks to try again later")
  if (error.command === "RCPT TO") return recipientRefused(code, enhanced, later)
  if (error.code === "EMESSAGE")
    return { is: "failed", code, text: "the mail server refuses this mail for what it holds or how large it is" }
  return later("the mail server refuses to take mail from here")
}

/** Refused for good at the recipient: gone, or full, or we are the ones who are not wanted (RFC 3463, 3.2 to 3.8). */
function recipientRefused(code: string, enhanced: string, later: (text: string) => SendOutcome): SendOutcome {
  if (enhanced.startsWith("5.7.") || /^530/.test(code))
    return later("the mail server does not let us send to this address")
  if (enhanced === "5.2.2" || (enhanced === "" && code.startsWith("552")))
    return later("the recipient's mailbox is full")
  return { is: "failed", code, text: "the mail server says that this address takes no mail", hold: "held" }
}

function isLoopback(host: string): boolean {
  return host === "localhost" || host === "[::1]" || /^127\.\d+\.\d+\.\d+$/.test(host)
}
