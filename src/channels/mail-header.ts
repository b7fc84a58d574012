import { decodeText } from "./mail-charset.ts"

/** Header fields by lower-case name, each with its values in order, unfolded and otherwise as they came. */
export type MailHeaders = ReadonlyMap<string, readonly string[]>

/** A header value with parameters, such as Content-Type. */
export type Structured = { value: string; params: ReadonlyMap<string, string> }

const LINE_FEED = 10
const RETURN = 13
/** Bytes of a head that are looked at; programs that mean well stay far below. */
const MOST_HEAD = 256 * 1024

/**
 * Cuts a mail or a part into head and body. Lines that are no header field are passed over (they happen); where there is
 * not one field in the whole head, everything is body.
 */
export function splitHead(bytes: Buffer): { headers: MailHeaders; body: Buffer } {
  const lines: string[] = []
  let at = 0
  let body = bytes.length
  while (at < bytes.length) {
    const found = bytes.indexOf(LINE_FEED, at)
    const end = found < 0 ? bytes.length : found
    const length = (bytes[end - 1] === RETURN && end > at ? end - 1 : end) - at
    if (length === 0) {
      body = Math.min(end + 1, bytes.length)
      break
    }
    if (at < MOST_HEAD) lines.push(bytes.toString("latin1", at, at + length))
    at = end + 1
  }
  const headers = fieldsOf(lines)
  return headers.size === 0 && lines.length > 0 ? { headers, body: bytes } : { headers, body: bytes.subarray(body) }
}

function fieldsOf(lines: readonly string[]): MailHeaders {
  const fields = new Map<string, string[]>()
  let parts: string[] | null = null
  let name = ""
  const close = () => {
    if (!parts) return
    const value = decodeText(Buffer.from(parts.join(" "), "latin1"), undefined)
      .replace(/\n/g, " ")
      .trim()
    const known = fields.get(name)
    if (known) known.push(value)
    else fields.set(name, [value])
    parts = null
  }
  for (const line of lines) {
    if (line[0] === " " || line[0] === "\t") {
      parts?.push(line.trim())
      continue
    }
    close()
    const colon = line.indexOf(":")
    const before = line.slice(0, colon).trimEnd()
    if (colon < 1 || colon > 100 || !/^[!-9;-~]+$/.test(before)) continue
    name = before.toLowerCase()
    parts = [line.slice(colon + 1).trim()]
  }
  close()
  return fields
}

export function header(headers: MailHeaders, name: string): string {
  return headers.get(name)?.[0] ?? ""
}

/** Encoded words (RFC 2047) as letters; words that stand side by side are joined before they are read. */
export function decodeWords(value: string): string {
  if (!value.includes("=?")) return value
  let out = ""
  let from = 0
  let pending: { charset: string; bytes: Buffer[] } | null = null
  const flush = () => {
    if (pending) out += decodeText(Buffer.concat(pending.bytes), pending.charset)
    pending = null
  }
  for (const match of value.matchAll(/=\?([^?\s*]{1,40})(?:\*[^?\s]{0,20})?\?([bq])\?([^?\s]{0,4000})\?=/gi)) {
    const between = value.slice(from, match.index)
    if (between.trim() !== "" || (from === 0 && between !== "")) {
      flush()
      out += between
    }
    const [, charset = "", way = "", coded = ""] = match
    const bytes = way.toLowerCase() === "b" ? Buffer.from(coded, "base64") : wordBytes(coded)
    if (pending && pending.charset.toLowerCase() !== charset.toLowerCase()) flush()
    if (pending) pending.bytes.push(bytes)
    else pending = { charset, bytes: [bytes] }
    from = match.index + match[0].length
  }
  flush()
  return out + value.slice(from)
}

function wordBytes(coded: string): Buffer {
  return Buffer.from(
    coded
      .replace(/_/g, " ")
      .replace(/=([0-9a-f]{2})/gi, (_, hex: string) => String.fromCharCode(Number.parseInt(hex, 16))),
    "latin1",
  )
}

/** Reads `value; name=value; name="value"` with the long forms of RFC 2231. Rubbish gives what can be made of it. */
export function structured(value: string): Structured {
  const [first = "", ...rest] = pieces(value)
  const plain = new Map<string, string>()
  const long = new Map<string, { index: number; text: string; coded: boolean }[]>()
  for (const piece of rest) {
    const equals = piece.indexOf("=")
    if (equals < 1) continue
    const name = piece.slice(0, equals).trim().toLowerCase()
    const text = unquoted(piece.slice(equals + 1).trim())
    const star = name.indexOf("*")
    if (star < 0) {
      if (!plain.has(name)) plain.set(name, decodeWords(text))
      continue
    }
    const [, index = "0"] = /\*(\d{1,4})/.exec(name) ?? []
    const base = name.slice(0, star)
    const known = long.get(base) ?? []
    known.push({ index: Number(index), text, coded: name.endsWith("*") })
    long.set(base, known)
  }
  for (const [name, parts] of long) plain.set(name, joined(parts))
  return { value: first.trim().toLowerCase(), params: plain }
}

function joined(parts: { index: number; text: string; coded: boolean }[]): string {
  const sorted = parts.toSorted((a, b) => a.index - b.index)
  let charset = ""
  const bytes = sorted.map(({ text, coded }, index) => {
    if (!coded) return Buffer.from(text, "utf8")
    const [, label, rest] = (index === 0 && /^([^']{0,40})'[^']{0,40}'(.*)$/s.exec(text)) || [null, null, text]
    if (label) charset = label
    return Buffer.from(
      (rest ?? "").replace(/%([0-9a-f]{2})/gi, (_, hex: string) => String.fromCharCode(Number.parseInt(hex, 16))),
      "latin1",
    )
  })
  return decodeText(Buffer.concat(bytes), charset)
}

/** Cuts at semicolons outside quotation marks. */
function pieces(value: string): string[] {
  const found: string[] = []
  let start = 0
  let inQuotes = false
  for (let i = 0; i < value.length; i += 1) {
    const letter = value[i]
    if (letter === "\\" && inQuotes) i += 1
    else if (letter === '"') inQuotes = !inQuotes
    else if (letter === ";" && !inQuotes) {
      found.push(value.slice(start, i))
      start = i + 1
    }
  }
  found.push(value.slice(start))
  return found
}

function unquoted(value: string): string {
  if (!value.startsWith('"')) return value.replace(/^'(.*)'$/s, "$1")
  return value.slice(1, value.endsWith('"') && value.length > 1 ? -1 : undefined).replace(/\\(.)/gs, "$1")
}
