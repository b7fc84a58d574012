import { decodeText } from "./mail-charset.ts"
import { decodeWords, header, type MailHeaders, splitHead, structured } from "./mail-header.ts"

/** A mail, or a part of one. */
export type MailPart = {
  headers: MailHeaders
  /** Lower case, such as `text/plain`. */
  type: string
  params: ReadonlyMap<string, string>
  /** `inline`, `attachment`, or empty where nothing is said. */
  disposition: string
  fileName: string | null
  /** Content-ID without its angles. */
  cid: string | null
  children: MailPart[]
  /** The bytes of a part without children, with their transfer encoding undone. */
  content(): Buffer
  /** The letters of a text part, made once. */
  text(): string
}

/** Bounds on what is taken apart; mail of people stays far below. */
const MOST_DEPTH = 20
const MOST_PARTS = 500
/** Letters of a text part that are looked at. */
const MOST_TEXT = 1024 * 1024

/**
 * Takes a mail apart (RFC 2045, 2046), whatever state it is in: never throws. Own code because the answer depends on bytes
 * that mail libraries hide: the charset is judged by the bytes of each part, and the place of each part counts.
 */
export function parseMail(bytes: Buffer): MailPart {
  const lines = bytes.includes(10) ? bytes : Buffer.from(bytes.toString("latin1").replace(/\r/g, "\n"), "latin1")
  let start = 0
  while (lines[start] === 10 || lines[start] === 13) start += 1
  return partOf(lines.subarray(start), 0, { left: MOST_PARTS }, "text/plain")
}

function partOf(bytes: Buffer, depth: number, budget: { left: number }, fallback: string): MailPart {
  budget.left -= 1
  const { headers, body } = splitHead(bytes)
  const contentType = structured(header(headers, "content-type"))
  const disposition = structured(header(headers, "content-disposition"))
  const type = /^[\w!#$&^.+-]+\/[\w!#$&^.+-]+$/.test(contentType.value) ? contentType.value : fallback
  const encoding =
    header(headers, "content-transfer-encoding")
      .toLowerCase()
      .split(/[\s;(]/)[0] ?? ""
  const fileName = disposition.params.get("filename") ?? contentType.params.get("name") ?? null
  const childBytes =
    type.startsWith("multipart/") && depth < MOST_DEPTH ? partsIn(body, contentType.params.get("boundary")) : null
  const childFallback = type === "multipart/digest" ? "message/rfc822" : "text/plain"
  const children = (childBytes ?? [])
    .slice(0, Math.max(0, budget.left))
    .map((each) => partOf(each, depth + 1, budget, childFallback))
  let text: string | null = null
  const content = () => (children.length > 0 ? Buffer.alloc(0) : undone(body, encoding))
  return {
    headers,
    // A multipart without its parts is read as it stands.
    type: type.startsWith("multipart/") && children.length === 0 ? "text/plain" : type,
    params: contentType.params,
    disposition: disposition.value,
    fileName: fileName === null ? null : decodeWords(fileName),
    cid: header(headers, "content-id").replace(/^<|>$/g, "").trim() || null,
    children,
    content,
    text: () => {
      text ??= decodeText(content().subarray(0, 4 * MOST_TEXT), contentType.params.get("charset")).slice(0, MOST_TEXT)
      return text
    },
  }
}

/** The parts between boundary lines; what stands before the first and behind the last is nobody's. Null where there are none. */
function partsIn(body: Buffer, named: string | undefined): Buffer[] | null {
  const boundary = named || guessedBoundary(body)
  if (!boundary) return null
  const mark = Buffer.from(`--${boundary}`, "utf8")
  const parts: Buffer[] = []
  let start = -1
  let at = body.indexOf(mark)
  while (at >= 0) {
    const after = at + mark.length
    const lineEnd = body.indexOf(10, after)
    const rest = body.toString("latin1", after, Math.min(lineEnd < 0 ? body.length : lineEnd, after + 80)).trimEnd()
    const isBoundary = (at === 0 || body[at - 1] === 10) && (rest === "" || rest === "--")
    if (!isBoundary) {
      at = body.indexOf(mark, after)
      continue
    }
    if (start >= 0) parts.push(body.subarray(start, beforeBreak(body, at, start)))
    start = rest === "--" || lineEnd < 0 ? -1 : lineEnd + 1
    if (start < 0) break
    at = body.indexOf(mark, start)
  }
  if (start >= 0) parts.push(body.subarray(start))
  return parts.length > 0 ? parts : null
}

/** The line break before a boundary belongs to the boundary (RFC 2046, 5.1.1). */
function beforeBreak(body: Buffer, at: number, start: number): number {
  const end = at - 1
  return Math.max(start, body[end - 1] === 13 ? end - 1 : end)
}

/** Where the head does not name a boundary: the first line that looks like one. */
function guessedBoundary(body: Buffer): string | null {
  return /(?:^|\n)--([^\s-][^\r\n]{0,69}?)\s*?\r?\n/.exec(body.toString("latin1", 0, 4000))?.[1] ?? null
}

function undone(body: Buffer, encoding: string): Buffer {
  switch (encoding) {
    case "base64":
      return fromBase64(body)
    case "quoted-printable":
      return fromQuotedPrintable(body)
    default:
      return body
  }
}

/** Base64 up to the first line that is none: lists add lines of their own. A body with no such line at all stays as it is. */
function fromBase64(body: Buffer): Buffer {
  const text = body.toString("latin1")
  const wrong = /[^A-Za-z0-9+/=\s]/.exec(text)
  if (!wrong) return Buffer.from(text, "base64")
  const upTo = text.lastIndexOf("\n", wrong.index)
  return upTo > 0 ? Buffer.from(text.slice(0, upTo), "base64") : body
}

function fromQuotedPrintable(body: Buffer): Buffer {
  const out = Buffer.alloc(body.length)
  let size = 0
  for (let i = 0; i < body.length; i += 1) {
    const byte = body[i] as number
    if (byte !== 0x3d) {
      out[size++] = byte
      continue
    }
    const hex = hexByte(body[i + 1], body[i + 2])
    if (hex >= 0) {
      out[size++] = hex
      i += 2
      continue
    }
    const soft = softBreak(body, i + 1)
    if (soft > 0) i = soft - 1
    else out[size++] = byte
  }
  return out.subarray(0, size)
}

/** Where a soft line break ends (blanks may stand before it), or at the very end of the body; else -1. */
function softBreak(body: Buffer, from: number): number {
  let at = from
  while (at < body.length && at - from < 200 && (body[at] === 0x20 || body[at] === 0x09 || body[at] === 13)) at += 1
  return at >= body.length || body[at] === 10 ? at + 1 : -1
}

function hexByte(high: number | undefined, low: number | undefined): number {
  const h = hexDigit(high)
  const l = hexDigit(low)
  return h < 0 || l < 0 ? -1 : h * 16 + l
}

function hexDigit(byte: number | undefined): number {
  if (byte === undefined) return -1
  if (byte >= 0x30 && byte <= 0x39) return byte - 0x30
  const lower = byte | 0x20
  return lower >= 0x61 && lower <= 0x66 ? lower - 0x57 : -1
}

/** Every part of a mail, itself first. */
export function* allParts(part: MailPart): Generator<MailPart> {
  yield part
  for (const child of part.children) yield* allParts(child)
}
