/** A piece of HTML: text between tags, or one tag. */
export type HtmlPiece =
  | { is: "text"; text: string }
  | { is: "open"; name: string; attributes: Map<string, string>; closed: boolean }
  | { is: "close"; name: string }

const NAME = /[a-zA-Z0-9:_-]/
/** Longest attribute that is looked at, save `src`, whose beginning is enough too. */
const MOST_ATTRIBUTE = 2000

/**
 * Cuts HTML into text and tags in one pass, however broken it is. Every step goes forward, and a mark that is not found once
 * is not looked for again, so that time grows with length only (failure X16).
 */
export function* htmlPieces(html: string): Generator<HtmlPiece> {
  const missing = new Set<string>()
  /** Where a mark stands at or behind `from`; -1 where it does not, remembered for the rest of the text. */
  const find = (mark: string, from: number): number => {
    if (missing.has(mark)) return -1
    const at = html.indexOf(mark, from)
    if (at < 0) missing.add(mark)
    return at
  }
  let at = 0
  while (at < html.length) {
    const angle = find("<", at)
    if (angle < 0) {
      yield { is: "text", text: html.slice(at) }
      return
    }
    if (angle > at) yield { is: "text", text: html.slice(at, angle) }
    const next = html[angle + 1] ?? ""
    if (html.startsWith("<!--", angle)) {
      const end = find("-->", angle + 4)
      at = end < 0 ? html.length : end + 3
    } else if (next === "!" || next === "?") {
      const end = find(">", angle + 2)
      at = end < 0 ? html.length : end + 1
    } else if (/[a-zA-Z]/.test(next) && find(">", angle) > 0) {
      const tag = readTag(html, angle + 1, find)
      yield { is: "open", name: tag.name, attributes: tag.attributes, closed: tag.closed }
      at = tag.end
      if (tag.name === "script" || tag.name === "style" || tag.name === "title")
        at = behindRaw(html, at, tag.name, find)
    } else if (next === "/" && /[a-zA-Z]/.test(html[angle + 2] ?? "") && find(">", angle) > 0) {
      const tag = readTag(html, angle + 2, find)
      yield { is: "close", name: tag.name }
      at = tag.end
    } else {
      yield { is: "text", text: "<" }
      at = angle + 1
    }
  }
}

type Find = (mark: string, from: number) => number

function readTag(
  html: string,
  from: number,
  find: Find,
): { name: string; attributes: Map<string, string>; closed: boolean; end: number } {
  let at = from
  while (at < html.length && NAME.test(html[at] as string)) at += 1
  const name = html.slice(from, at).toLowerCase()
  const attributes = new Map<string, string>()
  let closed = false
  while (at < html.length && html[at] !== ">") {
    if (/[\s/]/.test(html[at] as string)) {
      closed = html[at] === "/"
      at += 1
      continue
    }
    const nameStart = at
    at += 1
    while (at < html.length && !/[\s=>/]/.test(html[at] as string)) at += 1
    const attribute = html.slice(nameStart, Math.min(at, nameStart + 60)).toLowerCase()
    let behind = at
    while (behind < html.length && /\s/.test(html[behind] as string)) behind += 1
    if (html[behind] !== "=") {
      if (!attributes.has(attribute)) attributes.set(attribute, "")
      continue
    }
    at = behind + 1
    while (at < html.length && /\s/.test(html[at] as string)) at += 1
    const mark = html[at]
    let value: string
    if (mark === '"' || mark === "'") {
      const end = find(mark, at + 1)
      if (end < 0) {
        // Never closed: the value ends with the tag, so that the words behind it are not lost.
        const tagEnd = find(">", at)
        value = html.slice(at + 1, tagEnd < 0 ? html.length : tagEnd).slice(0, MOST_ATTRIBUTE)
        at = tagEnd < 0 ? html.length : tagEnd
      } else {
        value = html.slice(at + 1, Math.min(end, at + 1 + MOST_ATTRIBUTE))
        at = end + 1
      }
    } else {
      const valueStart = at
      while (at < html.length && !/[\s>]/.test(html[at] as string)) at += 1
      value = html.slice(valueStart, Math.min(at, valueStart + MOST_ATTRIBUTE))
    }
    if (!attributes.has(attribute)) attributes.set(attribute, value)
  }
  return { name, attributes, closed, end: Math.min(html.length, at + 1) }
}

/** The contents of script, style and title are no words: behind their closing tag. */
function behindRaw(html: string, from: number, name: string, find: Find): number {
  let at = from
  for (;;) {
    const close = find("</", at)
    if (close < 0) return html.length
    if (html.slice(close + 2, close + 2 + name.length).toLowerCase() === name) return close
    at = close + 2
  }
}
