import type { ImapFlow, MessageStructureObject } from "imapflow"
import { MOST_MAIL_BYTES } from "./reply-of.ts"

/** A mail as fetched. `left`: pictures that were not fetched, since the whole is over the limit. */
export type FetchedMail = { bytes: Buffer; left: number }

/** Text of a mail over the limit that is fetched all the same. */
const MOST_TEXT_BYTES = 1024 * 1024

/**
 * Fetches a mail without marking it as read. Of one over the limit only its head and its text come (messaging is about the
 * words); null where the mailbox has it no more.
 */
export async function fetchMail(client: ImapFlow, uid: number, size: number): Promise<FetchedMail | null> {
  if (size <= MOST_MAIL_BYTES) {
    const whole = (await client.fetchOne(String(uid), { source: true }, { uid: true })) || null
    return whole?.source ? { bytes: whole.source, left: 0 } : null
  }
  const outline = (await client.fetchOne(String(uid), { headers: true, bodyStructure: true }, { uid: true })) || null
  if (!outline?.headers || !outline.bodyStructure) return null
  const parts = leaves(outline.bodyStructure)
  const texts = parts.filter((part) => part.disposition !== "attachment" && (part.size ?? 0) <= MOST_TEXT_BYTES)
  const text = texts.find((part) => part.type === "text/plain") ?? texts.find((part) => part.type === "text/html")
  const left = parts.filter((part) => part.type.startsWith("image/")).length
  const head = withoutContent(outline.headers)
  if (!text?.part) return { bytes: head, left }
  const wanted = [`${text.part}.mime`, text.part]
  const found = (await client.fetchOne(String(uid), { bodyParts: wanted }, { uid: true })) || null
  const mime = found?.bodyParts?.get(`${text.part}.mime`) || Buffer.alloc(0)
  const body = found?.bodyParts?.get(text.part) || Buffer.alloc(0)
  return { bytes: Buffer.concat([head, mime.length > 0 ? mime : Buffer.from("\r\n"), body]), left }
}

function leaves(part: MessageStructureObject): MessageStructureObject[] {
  return part.childNodes ? part.childNodes.flatMap(leaves) : [part]
}

/** The head without what describes the body, and without its closing blank line. */
function withoutContent(head: Buffer): Buffer {
  const lines = head.toString("latin1").split(/\r?\n/)
  const kept: string[] = []
  let isDropped = false
  for (const line of lines) {
    if (line === "") break
    if (!/^[ \t]/.test(line)) isDropped = /^content-/i.test(line)
    if (!isDropped) kept.push(`${line}\r\n`)
  }
  return Buffer.from(kept.join(""), "latin1")
}
