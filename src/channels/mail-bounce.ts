import { header, splitHead } from "./mail-header.ts"
import { keyOfMessageId, keysNamed } from "./mail-keys.ts"
import { allParts, type MailPart } from "./mail-mime.ts"

/** What a mail system reports of a mail of ours to one address. */
export type Bounce = {
  /** The address that did not take it, as reported. */
  address: string
  /** Our key of the mail; null where the report does not prove which mail it is about. */
  key: string | null
  /** For good (5.x.x) or for now (4.x.x, delayed): RFC 3463. */
  permanent: boolean
  /** Such as `5.1.1`; empty where none is given. */
  status: string
}

/** Reports that a delivery went well are none that we act on (RFC 3464, 2.3.3). */
const GOOD_ACTIONS = new Set(["delivered", "relayed", "expanded"])
const MOST_RECIPIENTS = 20
/** Letters of a plain report that are looked at. */
const MOST_TEXT = 100_000

/**
 * Who did not get which mail of ours, by a delivery report (RFC 3464) or an older one in plain words. The mail is found by
 * the envelope id we gave it, by the Message-ID of what came back, or by the thread; all are signed, so that nobody can
 * take a person's mail from them with a made-up report.
 */
export function bouncesOf(mail: MailPart, from: string, secrets: readonly string[]): Bounce[] {
  const key = keyReported(mail, from, secrets)
  const status = [...allParts(mail)].find((part) => /^message\/(global-)?delivery-status$/.test(part.type))
  if (status) return fromStatus(status.content(), key)
  return fromPlain(mail, key, from)
}

function fromStatus(content: Buffer, key: string | null): Bounce[] {
  const bounces: Bounce[] = []
  let rest = content
  for (let group = 0; rest.length > 0 && group <= MOST_RECIPIENTS; group += 1) {
    const { headers, body } = splitHead(rest)
    if (body.length >= rest.length) break
    rest = body
    const recipient = header(headers, "original-recipient") || header(headers, "final-recipient")
    const action = header(headers, "action").toLowerCase().split(/[\s(]/)[0] ?? ""
    if (recipient === "" || GOOD_ACTIONS.has(action)) continue
    const status = /\b([245]\.\d{1,3}\.\d{1,3})\b/.exec(header(headers, "status"))?.[1] ?? ""
    bounces.push({
      address: addressOf(recipient),
      key,
      permanent: action !== "delayed" && (status === "" ? action === "failed" : status.startsWith("5")),
      status,
    })
  }
  return bounces
}

/** `rfc822; name@example.org` with its angles or without. */
function addressOf(recipient: string): string {
  return (recipient.split(";").at(-1) ?? "").replace(/[<>\s"]/g, "")
}

/** Older reports: the first address in angles that is not ours, and the first reply code that the text names. */
function fromPlain(mail: MailPart, key: string | null, from: string): Bounce[] {
  const text = [...allParts(mail)]
    .filter((part) => part.type.startsWith("text/"))
    .map((part) => part.text().slice(0, MOST_TEXT))
    .join("\n")
  const failed = header(mail.headers, "x-failed-recipients").split(",")[0]?.trim()
  const ours = from.toLowerCase()
  const named = (text.match(/[^\s<>"'(),;:]{1,64}@[^\s<>"'(),;:]{1,255}/g) ?? []).find(
    (each) => !ours.includes(each.toLowerCase()),
  )
  const address = failed || named
  if (!address) return []
  const status = /\b([45]\.\d{1,3}\.\d{1,3})\b/.exec(text)?.[1] ?? ""
  const reply = /\b([45]\d\d)[ -]/.exec(text)?.[1] ?? ""
  return [
    {
      address: address.replace(/[.>]+$/, ""),
      key,
      permanent: status === "" ? reply.startsWith("5") : status.startsWith("5"),
      status,
    },
  ]
}

function keyReported(mail: MailPart, from: string, secrets: readonly string[]): string | null {
  const parts = [...allParts(mail)]
  const status = parts.find((part) => part.type.endsWith("delivery-status"))
  if (status) {
    const envelope = header(splitHead(status.content()).headers, "original-envelope-id")
    const key = envelope === "" ? null : keyOfMessageId(unxtext(envelope), from, secrets)
    if (key !== null) return key
  }
  const thread = ["in-reply-to", "references"].flatMap((name) => keysNamed(header(mail.headers, name), from, secrets))
  // What came back: the head of our mail, in a part of its own or below the report's words.
  const returned = parts
    .filter((part) => part.type === "message/rfc822" || part.type.startsWith("text/"))
    .flatMap((part) => keysNamed(messageIdsIn(part.content()), from, secrets))
  return returned[0] ?? thread[0] ?? null
}

function messageIdsIn(content: Buffer): string {
  const text = content.toString("latin1", 0, MOST_TEXT)
  return [...text.matchAll(/^message-id:\s*(<[^<>\s]{3,900}>)/gim)].map((match) => match[1]).join(" ")
}

/** RFC 3461, 4: `+` and two hex digits stand for a letter that may not. */
function unxtext(value: string): string {
  return value.trim().replace(/\+([0-9A-F]{2})/g, (_, hex: string) => String.fromCharCode(Number.parseInt(hex, 16)))
}
