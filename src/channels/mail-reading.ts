import { createHash } from "node:crypto"
import { domainToUnicode } from "node:url"
import addressparser from "nodemailer/lib/addressparser"
import type { Incoming } from "../bot/needs.ts"
import { type Instant, instantOf } from "../values/instant.ts"
import { type Bounce, bouncesOf } from "./mail-bounce.ts"
import { decodeWords, header, type MailHeaders } from "./mail-header.ts"
import { addressIn, isKeyedAddress, keyOfMessageId, keysNamed } from "./mail-keys.ts"
import type { MailPart } from "./mail-mime.ts"
import { readMail } from "./reply-of.ts"

/** What is known of the world when a mail is read. */
export type ReadingNeeds = {
  /** Our own address, as mails leave. */
  from: string
  /** Secrets that sign Message-IDs and addresses. */
  secrets: readonly string[]
  /** Everyone who has this mail address, as `garden/person`; empty: nobody known. */
  peopleAt(address: string): readonly string[]
  /** To which address the mail with this key went; null: there is no such mail. */
  recipientOf(key: string): Promise<string | null>
}

/**
 * How it is known that a mail comes from the person its From names (failure M13): it answers a mail that went to that
 * address, or it came to an address that only that person was told. `none`: anybody may have written it.
 */
export type Proof = "thread" | "address" | "none"

export type MailReading =
  | { is: "reply"; incoming: Incoming; pictures: MailPart[]; known: boolean; proof: Proof }
  | { is: "bounce"; bounces: Bounce[] }
  /** Never answered, never acted on: holiday answers, lists, receipts (RFC 3834). */
  | { is: "auto" }
  /** A copy of what we sent ourselves. */
  | { is: "ours" }
  /** No words and no pictures. */
  | { is: "empty" }

/** How far a mail's own Date may stand before its arrival to be believed, and behind it. */
const EARLIEST_MS = 7 * 24 * 3_600_000
const LATEST_MS = 5 * 60_000

/** Decides what a mail is and what of it the bot gets. `arrived`: when the mailbox took it. */
export async function readIncoming(bytes: Buffer, arrived: Instant, needs: ReadingNeeds): Promise<MailReading> {
  const { reply, auto, bounce, photos, mail, pictures } = readMail(bytes)
  const { headers } = mail
  const sender = senderOf(headers)
  const own = addressIn(needs.from).toLowerCase()
  const messageId = /<[^<>\s]{1,900}>/.exec(header(headers, "message-id"))?.[0] ?? ""
  if (untagged(sender) === untagged(own) || keyOfMessageId(messageId, needs.from, needs.secrets) !== null)
    return { is: "ours" }
  if (bounce) return { is: "bounce", bounces: bouncesOf(mail, needs.from, needs.secrets) }
  if (auto) return { is: "auto" }
  const words = reply === "" && photos === 0 ? stopInSubject(headers) : reply
  if (sender === "" || (words === "" && photos === 0)) return { is: "empty" }
  const { proof, key } = await proofOf(headers, sender, needs)
  const references = [header(headers, "references"), messageId].filter((each) => each !== "").join(" ")
  const extra: Record<string, string> = { proof, subject: decodeWords(header(headers, "subject")).slice(0, 300) }
  if (messageId !== "") Object.assign(extra, { messageId, references: lastIds(references) })
  if (key !== null) extra.key = key
  const incoming: Incoming = {
    id: idOf(messageId, sender, headers, words),
    via: "email",
    from: sender,
    to: own,
    text: words,
    at: writtenAt(headers, arrived),
    media: [],
    extra,
  }
  return { is: "reply", incoming, pictures, known: needs.peopleAt(sender).length > 0, proof }
}

/**
 * Mail programs end a subscription by a mail of its own with one word in the subject (RFC 2369, 3.2) and nothing below. In an
 * answer the subject is ours and is never read (failure M8).
 */
function stopInSubject(headers: MailHeaders): string {
  if (headers.has("in-reply-to") || headers.has("references")) return ""
  const subject = decodeWords(header(headers, "subject")).trim()
  return /^(stop|unsubscribe)\W*$/i.test(subject) ? subject : ""
}

async function proofOf(
  headers: MailHeaders,
  sender: string,
  needs: ReadingNeeds,
): Promise<{ proof: Proof; key: string | null }> {
  const keys = ["in-reply-to", "references"].flatMap((name) =>
    keysNamed(header(headers, name), needs.from, needs.secrets),
  )
  // Two senders in one mail are one too many to believe.
  if ((headers.get("from")?.length ?? 0) !== 1) return { proof: "none", key: null }
  for (const key of keys.slice(0, 5)) {
    const recipient = await needs.recipientOf(key)
    if (recipient !== null && recipient.trim().toLowerCase() === sender) return { proof: "thread", key }
  }
  const people = needs.peopleAt(sender)
  const isTold = addressesTo(headers).some((address) =>
    people.some((person) => isKeyedAddress(address, person, needs.secrets)),
  )
  return { proof: isTold ? "address" : "none", key: keys[0] ?? null }
}

/** Where a mail was sent to, by its head and by what servers wrote on the way. */
function addressesTo(headers: MailHeaders): string[] {
  return ["to", "cc", "delivered-to", "x-original-to", "envelope-to", "x-envelope-to"].flatMap((name) =>
    (headers.get(name) ?? []).flatMap(addresses),
  )
}

function senderOf(headers: MailHeaders): string {
  return addresses(header(headers, "from"))[0] ?? ""
}

function addresses(value: string): string[] {
  return addressparser(value.slice(0, 4000), { flatten: true })
    .slice(0, 50)
    .flatMap(({ address }) => plainAddress(address.trim()))
}

/** An address in letters as people write it. One that hides an encoded word is none (RFC 2047, 5). */
function plainAddress(address: string): string[] {
  if (address === "" || /=\?[^?]+\?[bq]\?/i.test(address)) return []
  const at = address.lastIndexOf("@") + 1
  const domain = address.slice(at)
  return [
    `${address.slice(0, at)}${/(^|\.)xn--/i.test(domain) ? domainToUnicode(domain) || domain : domain}`.toLowerCase(),
  ]
}

function untagged(address: string): string {
  return address.toLowerCase().replace(/\+[^@]*@/, "@")
}

/** The same mail has the same id however often it comes, and under whatever number the mailbox keeps it (failure D16). */
function idOf(messageId: string, sender: string, headers: MailHeaders, reply: string): string {
  const said = messageId === "" ? ["no id", header(headers, "date"), header(headers, "subject"), reply] : [messageId]
  return `mail:${createHash("sha256")
    .update([sender, ...said].join("\n"))
    .digest("hex")
    .slice(0, 32)}`
}

/** When it was written: what the mail says where that can be, else when it arrived. */
function writtenAt(headers: MailHeaders, arrived: Instant): Instant {
  const said = Date.parse(
    header(headers, "date")
      .slice(0, 100)
      .replace(/\([^)]*\)/g, ""),
  )
  const canBe = said >= arrived - EARLIEST_MS && said <= arrived + LATEST_MS
  return canBe ? instantOf(Math.min(said, arrived)) : arrived
}

/** The first and the last ids of a thread, as many as fit a header (RFC 5322, 3.6.4 and common practice). */
function lastIds(references: string): string {
  const ids = references.match(/<[^<>\s]{1,900}>/g) ?? []
  const most = 20
  return (ids.length <= most ? ids : [ids[0], ...ids.slice(1 - most)]).join(" ")
}
