import { visible } from "./mail-charset.ts"
import { htmlLines } from "./mail-html.ts"
import { type MailLine, type PictureInLine, plainLines } from "./mail-lines.ts"
import { allParts, type MailPart } from "./mail-mime.ts"
import { newWords } from "./mail-words.ts"

/** What a mail adds: its new words, and the pictures its writer attached. */
export type Body = { words: string; photos: MailPart[]; writtenIn: number }

const TEXT_TYPES = new Set(["text/plain", "text/html", "text/markdown", "text/enriched", "text/x-markdown"])
/** Kinds of picture that are drawings of programs rather than photos. */
const DRAWINGS = new Set([
  "image/svg+xml",
  "image/x-icon",
  "image/vnd.microsoft.icon",
  "image/x-emf",
  "image/x-wmf",
  "image/emf",
])
const PICTURE_NAME = /\.(jpe?g|jfif|png|gif|heic|heif|heics|webp|avif|tiff?|bmp|dng)$/i
/** A picture of this many pixels or fewer along a side is an icon, or a mark that tells when a mail was opened. */
const ICON_PX = 48
/** And shown no larger than this it is the sign of a firm below a name. */
const SIGN_PX = { width: 240, height: 120 }
const ORNAMENT = /logo|signature|signatur|icon\b|banner|facebook|linkedin|instagram|twitter|youtube|spacer|emoji/i

/** The new words of a mail and its photos. Plain text is read where there is any, else HTML. */
export function bodyOf(mail: MailPart): Body {
  const reaction = reactionOf(mail)
  const plain = viewOf(mail, "plain")
  const html = viewOf(mail, "html")
  const fromPlain = newWords(linesOf(plain))
  const isSame = plain.length === html.length && plain.every((part, i) => part === html[i])
  const htmlLinesOfMail = isSame ? linesOf(plain) : linesOf(html)
  const fromHtml = isSame ? fromPlain : newWords(htmlLinesOfMail)
  // Once more at the end: HTML can name any letter by its number.
  const words = visible(reaction ?? (fromPlain.text !== "" ? fromPlain.text : fromHtml.text)).trim()
  const { photos, writtenIn } = photosOf(mail, htmlLinesOfMail, fromHtml.lines)
  return { words: isReactionLine(words) ? "" : words, photos, writtenIn }
}

/** The text parts to read, in order: in an alternative the plain one, or the richest. */
function viewOf(part: MailPart, want: "plain" | "html"): MailPart[] {
  if (part.children.length === 0) return isReadable(part) ? [part] : []
  const views = part.children.map((child) => viewOf(child, want))
  if (part.type === "multipart/signed") return views[0] ?? []
  if (part.type !== "multipart/alternative") return views.flat()
  const withWords = views.filter((view) => view.some((each) => each.text().trim() !== ""))
  const isHtml = (view: MailPart[]) => view.some((each) => isMarkup(each))
  const wanted = want === "plain" ? withWords.find((view) => !isHtml(view)) : withWords.findLast(isHtml)
  return wanted ?? withWords.at(-1) ?? []
}

/** A part that holds words of the mail itself: no attachment, and no file that is shown with it. */
function isReadable(part: MailPart): boolean {
  return (
    TEXT_TYPES.has(part.type) &&
    part.disposition !== "attachment" &&
    part.disposition !== "reaction" &&
    part.fileName === null
  )
}

function linesOf(parts: readonly MailPart[]): MailLine[] {
  const all: MailLine[] = []
  let before = ""
  for (const part of parts) {
    const lines = isMarkup(part) ? htmlLines(part.text()) : plainLines(part.text(), flowedOf(part))
    const letters = lettersOf(lines)
    // Some programs put the same words beside each other, once plain and once as HTML.
    if (letters !== "" && letters === before) continue
    before = letters
    if (all.length > 0) all.push({ text: "", quoted: false })
    for (const line of lines) all.push(line)
  }
  return all
}

function lettersOf(lines: readonly MailLine[]): string {
  return lines.map((line) => line.text.replace(/[^\p{L}\p{N}]+/gu, "")).join("")
}

function flowedOf(part: MailPart): { deleteBlank: boolean } | null {
  if ((part.params.get("format") ?? "").toLowerCase() !== "flowed") return null
  return { deleteBlank: (part.params.get("delsp") ?? "").toLowerCase() === "yes" }
}

/** Is it HTML, whatever it calls itself? */
function isMarkup(part: MailPart): boolean {
  const start = part.text().slice(0, 2000).trimStart().toLowerCase()
  if (part.type === "text/html") return /<\/?[a-z!]/.test(part.text().slice(0, 20_000).toLowerCase())
  return /^<(!doctype html|html[ >]|head>|body[ >])/.test(start)
}

/** An emoji that was put to our mail (RFC 9078, and the form of one large webmail). */
function reactionOf(mail: MailPart): string | null {
  for (const part of allParts(mail)) {
    if (part.disposition === "reaction") return part.text().trim().slice(0, 40)
    if (part.type !== "text/vnd.google.email-reaction+json") continue
    try {
      const said: unknown = JSON.parse(part.text())
      if (typeof said === "object" && said !== null && "emoji" in said && typeof said.emoji === "string")
        return said.emoji.slice(0, 40)
    } catch {
      return ""
    }
  }
  return null
}

/** The line that desk programs send for a reaction says nothing of its own. */
function isReactionLine(words: string): boolean {
  return (
    words.length < 200 &&
    /^[^\n]{1,120} reacted (?:to your message:?|via Gmail)\s*$/.test(words.split("\n").slice(-1)[0] ?? "") &&
    words.split("\n").length <= 3
  )
}

/**
 * Attached pictures, without those that stand in a signature or in what was quoted, and without ornaments. `writtenIn` are
 * pictures inside the markup itself, which no part holds.
 */
function photosOf(
  mail: MailPart,
  lines: readonly MailLine[],
  own: ReadonlySet<number>,
): { photos: MailPart[]; writtenIn: number } {
  const shown = new Map<string, boolean>()
  let writtenIn = 0
  lines.forEach((line, index) => {
    for (const picture of line.pictures ?? []) {
      const counts = own.has(index) && !isOrnament(picture)
      if (picture.cid === null) writtenIn += counts ? 1 : 0
      else shown.set(picture.cid, counts || shown.get(picture.cid) === true)
    }
  })
  const photos = [...ownParts(mail)].filter(({ part, related }) => {
    if (!isPicture(part)) return false
    const verdict = part.cid === null ? undefined : shown.get(part.cid)
    if (verdict !== undefined) return verdict && !ORNAMENT.test(part.fileName ?? "")
    // Never shown: an attachment counts, a leftover of a picture that the quote showed does not.
    return !(
      related &&
      part.disposition !== "attachment" &&
      part.cid !== null &&
      lines.some((line) => line.text !== "")
    )
  })
  return { photos: photos.map(({ part }) => part), writtenIn }
}

/** An icon, a mark, a company's sign: by the size it is shown in, or by its name. */
function isOrnament({ width, height, name, cid }: PictureInLine): boolean {
  if ((width ?? ICON_PX + 1) <= ICON_PX || (height ?? ICON_PX + 1) <= ICON_PX) return true
  if (width !== null && height !== null && width <= SIGN_PX.width && height <= SIGN_PX.height) return true
  return ORNAMENT.test(name) || ORNAMENT.test(cid ?? "")
}

/** The parts without children of the mail itself: a mail inside the mail is not taken apart. */
function* ownParts(part: MailPart, related = false): Generator<{ part: MailPart; related: boolean }> {
  if (part.children.length === 0) yield { part, related }
  for (const child of part.children) yield* ownParts(child, related || part.type === "multipart/related")
}

function isPicture(part: MailPart): boolean {
  if (part.type.startsWith("image/")) return !DRAWINGS.has(part.type)
  return part.type === "application/octet-stream" && PICTURE_NAME.test(part.fileName ?? "")
}
