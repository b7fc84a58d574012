import { isAscii, isUtf8 } from "node:buffer"

/** Charsets whose bytes can pass for UTF-8 by chance, or that have a mark of their own: here the label is believed. */
const TRUSTED = /^(utf-?16|iso-2022|gb|big5|euc|shift|sjis|ks_c|cp9|windows-31j|x-)/i

// biome-ignore lint/suspicious/noControlCharactersInRegex: form feed and vertical tab end lines in old mails
const LINE_ENDS = /\r\n?|[\u000b\u000c\u2028\u2029]/g
// biome-ignore lint/suspicious/noControlCharactersInRegex: these are the very characters to strike out
const NO_LETTERS = /[\u0000-\u0008\u000e-\u001f\u007f\u00ad\u200b\u2060\ufeff]/g

/**
 * The letters of a text part. Labels are often wrong, so bytes that are UTF-8 with at least one letter beyond ASCII are
 * read as that whatever they call themselves; bytes that call themselves UTF-8 or ASCII and are neither are read as
 * windows-1252, which most of them are.
 */
export function decodeText(bytes: Uint8Array, charset: string | undefined): string {
  return visible(decoded(bytes, charset?.trim() ?? ""))
}

/** Text with one kind of line end and without letters that nobody sees. */
export function visible(text: string): string {
  return text.replace(LINE_ENDS, "\n").replace(NO_LETTERS, "")
}

function decoded(bytes: Uint8Array, charset: string): string {
  const byMark =
    bytes[0] === 0xff && bytes[1] === 0xfe ? "utf-16le" : bytes[0] === 0xfe && bytes[1] === 0xff ? "utf-16be" : null
  if (byMark) return decodeAs(byMark, bytes) ?? ""
  if (TRUSTED.test(charset)) {
    const text = decodeAs(charset, bytes)
    if (text !== null) return text
  }
  if (isAscii(bytes)) return Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength).toString("latin1")
  if (isUtf8(bytes)) return decodeAs("utf-8", bytes) ?? ""
  const said = charset.toLowerCase()
  const isPlain = said === "" || /^(utf-?8|us-ascii|ascii|unknown)/.test(said)
  if (!isPlain) {
    const text = decodeAs(said, bytes)
    if (text !== null) return text
  }
  const lenient = decodeAs("utf-8", bytes) ?? ""
  return isMostlyRight(lenient) ? lenient : (decodeAs("windows-1252", bytes) ?? lenient)
}

/** Null where nobody knows a charset of this name. */
function decodeAs(charset: string, bytes: Uint8Array): string | null {
  try {
    return new TextDecoder(charset).decode(bytes)
  } catch {
    return null
  }
}

/** UTF-8 that was cut or damaged still has right letters beyond ASCII, at least as many as wrong ones; others hardly ever have one. */
function isMostlyRight(text: string): boolean {
  let wrong = 0
  let right = 0
  for (const letter of text) {
    if (letter === "\ufffd") wrong += 1
    else if (letter > "\u007f") right += 1
  }
  return right > 0 && right >= wrong
}
