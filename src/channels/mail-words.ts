import { introductionAt } from "./mail-attribution.ts"
import { earlierMailAt, isRule } from "./mail-block.ts"
import type { MailLine } from "./mail-lines.ts"
import { tellsHowToReply } from "./mail-own-words.ts"
import { isSentFrom, isSignatureMark, withoutPictureNames } from "./mail-signature.ts"

const DIRECTIONS = /[\u200e\u200f\u202a-\u202e\u2066-\u2069]/g

/** The width at which mail programs break long lines; a word that would still have fitted was no break of theirs. */
const WRAP_AT = 72

/** The narrowest width at which a program breaks lines. */
const NARROW = 55

/** Lines that are looked at: far more than anybody writes. */
const MOST_LINES = 20_000

export type NewWords = {
  text: string
  /** Which of the given lines hold the writer's own words. */
  lines: ReadonlySet<number>
}

/**
 * The words a mail adds: without what it quotes, what introduces the quote, earlier mails below, signatures and the lines
 * that phones put in. Words below or between quotes stay (failure M6). One pass, each line looked at a bounded number of
 * times, no pattern that goes back over what it has read (failure X16).
 */
export function newWords(all: readonly MailLine[]): NewWords {
  const lines = all.length > MOST_LINES ? all.slice(0, MOST_LINES) : all
  const kept: { index: number; text: string }[] = []
  const isQuoted = quotedLines(lines)
  const nextWords = nextWordsOf(lines)
  const lineAt = (index: number): string | null => {
    const line = lines[index]
    return line === undefined || isQuoted[index] || line.hint === "signature" ? null : line.text
  }
  // Marks of direction stand around names and dates in scripts that run from right to left; nobody sees them.
  const newLineAt = (index: number) => lineAt(index)?.replace(DIRECTIONS, "") || null
  let inSignature = false
  let index = 0
  while (index < lines.length) {
    const line = lines[index] as MailLine
    if (line.hint === "earlier") break
    if (isQuoted[index] || line.hint === "signature") {
      if (isQuoted[index] && line.text !== "") inSignature = false
      index += 1
      continue
    }
    const text = line.text
    const followedBy = (from: number) => {
      const at = nextWords[from] ?? lines.length
      return { at, quoted: at < lines.length && isQuoted[at] === true }
    }
    const behind = text === "" ? null : earlierMailAt(index, lineAt)
    const introduction = text === "" ? null : introductionAt(index, newLineAt, followedBy(index + 1).quoted)
    if (behind !== null || introduction !== null) {
      if (introduction && behind === null) {
        while (kept.length > 0 && (kept.at(-1)?.index ?? -1) >= introduction.first) kept.pop()
        if (introduction.before !== "" && !inSignature) kept.push({ index, text: introduction.before })
      }
      const next = followedBy(behind ?? index + 1)
      // Without marks on what follows, all of it is the earlier mail.
      if (!next.quoted) break
      inSignature = false
      index = next.at
      continue
    }
    if (isSignatureMark(text)) inSignature = true
    const words = inSignature ? "" : withoutPictureNames(text)
    const isLeftBehind = words === "" && text !== ""
    const isPrograms = isSentFrom(text) || isRule(text) || tellsHowToReply(text) || line.hint === "introduces"
    if (!inSignature) kept.push(isLeftBehind || isPrograms ? { index: -1, text: "" } : { index, text: words })
    index += 1
  }
  return { text: joined(kept.map((each) => each.text)), lines: new Set(kept.map((each) => each.index)) }
}

/** Which lines are quoted, with the pieces that a program broke off quoted lines and forgot to mark. */
function quotedLines(lines: readonly MailLine[]): boolean[] {
  const quoted = lines.map((line) => line.quoted)
  const widest = lines.reduce((most, line) => (line.quoted ? Math.max(most, line.text.length) : most), 0)
  const width = Math.min(WRAP_AT, Math.max(NARROW, widest))
  for (let i = 1; i < lines.length; i += 1) {
    if (quoted[i] || !quoted[i - 1]) continue
    const before = (lines[i - 1] as MailLine).text
    const text = (lines[i] as MailLine).text
    if (text === "" || !isOpenEnded(before)) continue
    const [firstWord = ""] = text.trim().split(" ", 1)
    const needed = before.length + 1 + firstWord.length
    // Below the usual width only what also ends like a sentence: a short answer in between does not.
    const brokeHere = text.startsWith(" ") || needed > WRAP_AT || (needed > width && /[.!?;]$/.test(text))
    const next = lines[i + 1]
    const goesOnQuoted = next === undefined || quoted[i + 1] === true || (next.text === "" && text.startsWith(" "))
    if (brokeHere && goesOnQuoted) quoted[i] = true
  }
  return quoted
}

/** Does a quoted line stop in the middle of a sentence? */
function isOpenEnded(quotedText: string): boolean {
  const bare = quotedText.replace(/^[>\s]+/, "")
  return bare.length > 20 && !/[.!?:)\]"”]$/.test(bare)
}

/** For each line, where the next one with words stands, itself included. */
function nextWordsOf(lines: readonly MailLine[]): number[] {
  const next: number[] = new Array(lines.length + 1).fill(lines.length)
  for (let i = lines.length - 1; i >= 0; i -= 1) {
    const line = lines[i] as MailLine
    next[i] = line.text.replace(/^[>\s]+/, "") !== "" ? i : (next[i + 1] as number)
  }
  return next
}

function joined(texts: readonly string[]): string {
  const lines: string[] = []
  for (const text of texts) {
    const trimmed = text.trimEnd()
    if (trimmed === "" && (lines.length === 0 || lines.at(-1) === "")) continue
    lines.push(trimmed)
  }
  while (lines.at(-1) === "") lines.pop()
  return lines.join("\n").trim()
}
