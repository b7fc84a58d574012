import { isGsm7 } from "./gsm7.ts"
import { measure, ONE_SEGMENT, TWO_SEGMENTS } from "./segments.ts"

/** Words that a reply may consist of. */
const REPLY_WORDS =
  /\b(?:DONE|SNOOZE|SKIP|UP|NOT YET|PATCHY|BOOT|NO BLOOM|BLOOM|SEED|CUT|REGROWTH|NONE|SOWED|PLANTED|WATERED|WINTERKILLED|SURVIVED|WHY|NEXT|HOW MUCH|UNDO|PAUSE|RESUME|JOIN|BOTH|HELP|LOG|STATUS|STOP|START)\b/g
/** Words that the carrier answers itself, or that mean consent: never taught beside our own. */
const CARRIER_WORDS = /\b(?:CANCEL|END|QUIT|STOP|STOPALL|UNSUBSCRIBE|REVOKE|OPTOUT|YES|START)\b/
const MONTH = "(?:Jan|Feb|Mar|Apr|May|June|July|Aug|Sep|Oct|Nov|Dec)"
const DATE = new RegExp(`\\b\\d{1,2} ${MONTH}\\b`)
const RANGE = new RegExp(`\\b\\d{1,2}(?: ${MONTH})?-\\d{1,2} ${MONTH}\\b`)
const LIMIT = new RegExp(
  `\\b(?:by|till|until|past|about|around|from|after|before|since|on|of|for|like|was|Mon|Tue|Wed|Thu|Fri|Sat|Sun) \\d{1,2} ${MONTH}\\b`,
)

/** What kind of text it is, where that changes the rules. */
export type TextKind = {
  /** Several things in one text, or a caution in it: two segments are allowed. */
  several?: boolean
  /** A text that may have no reply words: an answer that only tells. */
  replies?: "one" | "none" | "any"
  /** The joining text and the one that confirms a stop may name the carrier's words. */
  carrierWords?: boolean
  /** Names of beds, longest first, so that one line names one bed at most. */
  beds?: readonly string[]
}

/**
 * Everything about a text that is against the rules of how the bot writes; empty where all is well. The rules are the
 * product's own (one act, a range, plain letters, one sentence of reply words).
 */
export function checkText(text: string, kind: TextKind = {}): string[] {
  const wrong: string[] = []
  const { units, segments } = measure(text)
  const most = kind.several ? TWO_SEGMENTS : ONE_SEGMENT
  if (!isGsm7(text)) wrong.push("a letter outside the 7-bit alphabet")
  if (units > most || segments > 2) wrong.push(`${units} units, at most ${most}`)
  if (text.includes("!")) wrong.push("an exclamation mark")
  if (/\bjust\b/i.test(text)) wrong.push('the word "just"')
  if (/\b\d{1,2}\/\d{1,2}\b/.test(text.replace(/\b1\/[2348]\b|\b2\/3\b|\b3\/[48]\b/g, "")))
    wrong.push("a day in figures")
  if (!kind.carrierWords && CARRIER_WORDS.test(text)) wrong.push("a word that the carrier owns")
  if (DATE.test(text) && !RANGE.test(text) && !LIMIT.test(text)) wrong.push("a bare day without range or limit")
  if (/ {2}| \n|\n /.test(text) || text.trim() !== text) wrong.push("stray spaces")
  if (/(?<!\.)\.\.(?!\.)|\.{4}|\. \.|,\.|\bundefined\b|\bnull\b|NaN/.test(text)) wrong.push("a seam that shows")
  const sentences = sentencesOf(text)
  for (const sentence of sentences)
    if (wordsOf(sentence) > 19) wrong.push(`a sentence of ${wordsOf(sentence)} words: ${sentence}`)
  // "Thank you." and "Not right?" cost a reader nothing.
  const long = sentences.filter((sentence) => wordsOf(sentence) > 2)
  if (!kind.several && long.length > 5) wrong.push(`${long.length} sentences, at most 5`)
  wrong.push(...replyProblems(sentences, kind.replies ?? "one"))
  wrong.push(...bedProblems(text, kind.beds ?? []))
  return wrong
}

function replyProblems(sentences: readonly string[], wanted: "one" | "none" | "any"): string[] {
  const replying = sentences.map((sentence) => sentence.match(REPLY_WORDS)?.length ?? 0).filter((count) => count > 0)
  const wrong: string[] = []
  if (wanted === "one" && replying.length !== 1) wrong.push(`${replying.length} sentences with reply words, not one`)
  if (wanted === "none" && replying.length > 0) wrong.push("reply words where none belong")
  if (wanted === "any" && replying.length > 1) wrong.push(`${replying.length} sentences with reply words, at most one`)
  if (replying.some((count) => count > 3)) wrong.push("more than three reply words")
  return wrong
}

function bedProblems(text: string, beds: readonly string[]): string[] {
  const wrong: string[] = []
  for (const line of text.split("\n")) {
    let rest = line
    const named = beds.filter((bed) => {
      const found = rest.includes(bed)
      rest = rest.replaceAll(bed, "")
      return found
    })
    if (named.length > 1) wrong.push(`two beds in one line: ${named.join(", ")}`)
  }
  return wrong
}

function sentencesOf(text: string): string[] {
  return text.split(/(?<=[.?:])\s+(?=[A-Z0-9"])|\n/).filter((sentence) => sentence.trim() !== "")
}

function wordsOf(sentence: string): number {
  const words = sentence.replace(/^\d{1,2}\) /, "").split(/\s+/)
  return words.filter((word) => word !== "").length
}
