import { decodeEntities } from "./mail-entities.ts"
import { htmlPieces } from "./mail-html-tags.ts"
import { isMarkedQuoted, type MailLine, type PictureInLine, plainBlanks } from "./mail-lines.ts"

const VOID = new Set("area base br col embed hr img input link meta param source track wbr".split(" "))
/** Elements that stand on lines of their own. */
const BLOCKS = new Set(
  "address article aside blockquote body center dd div dl dt fieldset figure footer form h1 h2 h3 h4 h5 h6 header html li main nav ol p pre section table tbody tfoot thead tr ul".split(
    " ",
  ),
)
/** Of these, the ones with a gap around them. */
const GAPS = new Set("p h1 h2 h3 h4 h5 h6".split(" "))
const UNSEEN = new Set("head object template noscript select textarea svg math".split(" "))
const MOST_DEPTH = 20_000

/** An emoji with what may belong to it: skin, joiner, variant. */
const EMOJI = /^\p{Extended_Pictographic}(?:\p{Extended_Pictographic}|\p{Emoji_Modifier}|\u200d|\ufe0f){0,12}$/u

type Open = { name: string; quoted: boolean; unseen: boolean; pre: boolean; hint: MailLine["hint"] }

/** Lines of an HTML part, with what its markup says of them. Linear in its length; never throws. */
export function htmlLines(html: string): MailLine[] {
  const writer = lineWriter()
  const stack: Open[] = []
  const openByName = new Map<string, number>()
  const counts = { quoted: 0, unseen: 0, pre: 0 }
  const hints: MailLine["hint"][] = []
  const count = (open: Open, by: 1 | -1) => {
    openByName.set(open.name, (openByName.get(open.name) ?? 0) + by)
    if (open.quoted) counts.quoted += by
    if (open.unseen) counts.unseen += by
    if (open.pre) counts.pre += by
    if (open.hint) by === 1 ? hints.push(open.hint) : hints.pop()
  }
  const here = () => ({ quoted: counts.quoted > 0, hint: hints.at(-1) })
  for (const piece of htmlPieces(html)) {
    if (piece.is === "text") {
      if (counts.unseen === 0) writer.text(decodeEntities(piece.text), counts.pre > 0, here())
    } else if (piece.is === "open") {
      const { name, attributes } = piece
      if (BLOCKS.has(name)) writer.block(GAPS.has(name))
      if (name === "br") writer.lineBreak(here())
      else if (name === "hr") writer.rule(here())
      else if (name === "img" && counts.unseen === 0) writer.picture(attributes, here())
      else if (name === "td" || name === "th") writer.text(" ", false, here())
      if (VOID.has(name) || piece.closed || stack.length >= MOST_DEPTH) continue
      const open = opened(name, attributes)
      stack.push(open)
      count(open, 1)
    } else if (openByName.get(piece.name)) {
      let last: Open | undefined
      do {
        last = stack.pop()
        if (last) {
          if (BLOCKS.has(last.name)) writer.block(GAPS.has(last.name))
          count(last, -1)
        }
      } while (last && last.name !== piece.name)
    }
  }
  return writer.end()
}

/** What an element says about all that stands in it. */
function opened(name: string, attributes: ReadonlyMap<string, string>): Open {
  const style = (attributes.get("style") ?? "").toLowerCase().replace(/\s+/g, "")
  const classes = (attributes.get("class") ?? "").toLowerCase().split(/\s+/)
  const id = (attributes.get("id") ?? "").toLowerCase()
  return {
    name,
    quoted: (name === "blockquote" && !isIndent(attributes, style)) || classes.includes("yahoo_quoted"),
    unseen: UNSEEN.has(name) || attributes.has("hidden") || /display:none|visibility:hidden|mso-hide:all/.test(style),
    pre: name === "pre" || style.includes("white-space:pre"),
    hint: hintOf(id, classes),
  }
}

/** A blockquote without border is how programs indent words of one's own. */
function isIndent(attributes: ReadonlyMap<string, string>, style: string): boolean {
  return (
    /border:(none|0|medium)/.test(style) &&
    !attributes.has("type") &&
    !attributes.has("cite") &&
    !attributes.has("class")
  )
}

function hintOf(id: string, classes: readonly string[]): MailLine["hint"] {
  if (/(^|_)(divrplyfwdmsg|mail-editor-reference-message-container)$/.test(id)) return "earlier"
  if (classes.some((each) => /^(gmail_attr|moz-cite-prefix)$/.test(each))) return "introduces"
  const isSignature = (word: string) => /(^|[_-])signature([_-]block)?$/.test(word)
  return isSignature(id) || classes.some(isSignature) ? "signature" : undefined
}

type Where = { quoted: boolean; hint: MailLine["hint"] }

function lineWriter() {
  const lines: MailLine[] = []
  // Pieces, not one growing string: looking at the end of a growing string costs its whole length each time.
  let words: string[] = []
  let endsBlank = true
  const add = (said: string) => {
    if (said === "") return
    words.push(said)
    endsBlank = said.endsWith(" ")
  }
  let pictures: PictureInLine[] = []
  let where: Where = { quoted: false, hint: undefined }
  let begun = false
  const flush = () => {
    if (!begun) return
    const text = plainBlanks(words.join("")).trim()
    lines.push({
      text,
      quoted: where.quoted || isMarkedQuoted(text),
      ...(where.hint ? { hint: where.hint } : {}),
      ...(pictures.length > 0 ? { pictures } : {}),
    })
    words = []
    endsBlank = true
    pictures = []
    begun = false
  }
  const enter = (next: Where) => {
    if (begun && (next.quoted !== where.quoted || next.hint !== where.hint)) flush()
    where = next
    begun = true
  }
  return {
    text(said: string, pre: boolean, at: Where) {
      if (pre) {
        const [first = "", ...rest] = said.split("\n")
        if (first !== "") enter(at)
        add(first)
        for (const line of rest) {
          enter(at)
          flush()
          enter(at)
          add(line)
        }
        return
      }
      // Blanks of the source fold; a no-break blank is a letter.
      const folded = said.replace(/[ \t\n\r\f]+/g, " ")
      if (folded === "" || (folded === " " && !begun)) return
      enter(at)
      add(endsBlank && folded.startsWith(" ") ? folded.slice(1) : folded)
    },
    lineBreak(at: Where) {
      enter(at)
      flush()
    },
    block(gap: boolean) {
      flush()
      if (gap && lines.length > 0 && lines.at(-1)?.text !== "")
        lines.push({ text: "", quoted: lines.at(-1)?.quoted ?? false })
    },
    rule(at: Where) {
      flush()
      enter(at)
      add("________________")
      flush()
    },
    picture(attributes: ReadonlyMap<string, string>, at: Where) {
      enter(at)
      const alt = decodeEntities(attributes.get("alt") ?? "")
      if (EMOJI.test(alt)) {
        add(alt)
        return
      }
      const source = (attributes.get("src") ?? "").trim()
      const cid = /^cid:/i.test(source) ? safeUnescape(source.slice(4)) : null
      if (cid === null && !/^data:image\//i.test(source)) return
      pictures.push({
        cid,
        width: pixels(attributes.get("width")),
        height: pixels(attributes.get("height")),
        name: alt,
      })
    },
    end() {
      flush()
      return lines
    },
  }
}

function safeUnescape(text: string): string {
  try {
    return decodeURIComponent(text)
  } catch {
    return text
  }
}

function pixels(said: string | undefined): number | null {
  const found = /^\s*(\d{1,5})(?:px)?\s*$/.exec(said ?? "")
  return found ? Number(found[1]) : null
}
