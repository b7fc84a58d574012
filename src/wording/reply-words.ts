import { listOf } from "../reminders/names.ts"

/** Words that settle by number and so are written with it. */
const NUMBERED = new Set(["DONE", "SNOOZE", "SKIP"])

/** A tail that makes a lone reply sentence read like one. */
const TAILS: ReadonlyMap<string, string> = new Map([
  ["SOWED", " when you have"],
  ["UP", " when you see it"],
  ["PLANTED", " when you have"],
  ["BLOOM", " if you see it"],
  ["BOOT", " if you see it"],
  ["WHY", " to see how I reckon it"],
])

/** The most words that one reply sentence offers. */
const MOST = 3

/** `everyNumber`: each word goes with its number, since something else of the same kind is open too. */
export type Answerable = { n: number; words: readonly string[]; everyNumber?: boolean | undefined }

/** Does any word of a reminder need its number? */
export function takesNumber(words: readonly string[]): boolean {
  return words.some((word) => NUMBERED.has(firstOf(word)))
}

/** The reply sentence of a text about one thing: `Reply DONE 1 or SNOOZE 1 SAT.` */
export function replyToOne({ n, words, everyNumber }: Answerable): string {
  const shown = words.slice(0, MOST).map((word) => (everyNumber ? behindNumber(word, n) : withNumber(word, n)))
  const tail = shown.length <= 2 ? TAILS.get(words[0] as string) : undefined
  if (tail === undefined) return `Reply ${listOf(shown, "or")}.`
  return `Reply ${[`${shown[0]}${tail}`, ...shown.slice(1)].join(", or ")}.`
}

/**
 * The reply sentence of a text about several things: the first word of each with its number, and a way out for the most
 * urgent where there is room; with more than three things the words alone.
 */
export function replyToSeveral(lines: readonly Answerable[]): string {
  const first = lines.map((line) => ({ n: line.n, word: line.words[0] as string }))
  if (lines.length > MOST) {
    const kinds = [...new Set(first.map(({ word }) => word))].slice(0, MOST)
    return `Reply ${listOf(kinds, "or")} with the number.`
  }
  const shown = first.map(({ n, word }) => behindNumber(word, n))
  const wayOut = lines.flatMap((line) =>
    line.words
      .filter((word) => firstOf(word) === "SNOOZE" || firstOf(word) === "SKIP")
      .map((word) => withNumber(word, line.n)),
  )[0]
  return `Reply ${listOf(wayOut && shown.length < MOST ? [...shown, wayOut] : shown, "or")}.`
}

/** `SNOOZE SAT` of number 3 is `SNOOZE 3 SAT`. */
function withNumber(word: string, n: number): string {
  if (!NUMBERED.has(firstOf(word))) return word
  const [first, ...rest] = word.split(" ")
  return [first, String(n), ...rest].join(" ")
}

/** Any word with a number: `UP 3`, `SNOOZE 3 SAT`. */
function behindNumber(word: string, n: number): string {
  return NUMBERED.has(firstOf(word)) ? withNumber(word, n) : `${word} ${n}`
}

function firstOf(word: string): string {
  return word.split(" ")[0] as string
}
