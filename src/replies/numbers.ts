import type { Fact } from "./facts.ts"
import { BONUS, type ItemScene, type Push } from "./parts.ts"
import { isTagged } from "./says.ts"
import type { Word } from "./words.ts"

/** 7pm, 7:30, at 7, around 6 o'clock: says nothing about the day. */
export function addTime(words: readonly Word[], at: number, push: Push): void {
  let i = at
  const led = isTagged(words[i], "clock-lead")
  if (led) i += 1
  if (isTagged(words[i], "about")) i += 1
  const hour = words[i]
  if (hour?.kind !== "number" || !Number.isInteger(hour.value) || (hour.value as number) > 24) return
  i += 1
  let sure = false
  if (words[i]?.word === ":" && words[i + 1]?.kind === "number" && words[i]?.glued && words[i + 1]?.glued) {
    sure = true
    i += 2
  }
  if (isTagged(words[i], "clock")) {
    sure = true
    i += 1
  }
  if (sure) push(i, BONUS.day, [], { time: true })
}

/** "#2" */
export function numberedMark(words: readonly Word[], at: number, push: Push): void {
  const number = words[at + 1]
  if ((words[at] as Word).word === "#" && number?.kind === "number" && Number.isInteger(number.value))
    push(at + 2, BONUS.number, [], { numbers: [number.value as number], marked: true })
}

/** The number of a reminder, in figures or words: "2", "number two", "1-3", "done won". */
export function addNumber(
  words: readonly Word[],
  at: number,
  scene: ItemScene & { words: readonly Word[] },
  push: Push,
): void {
  const { facts } = scene.context.words
  const word = words[at] as Word
  let i = at
  let marked = false
  if (isTagged(word, "number-lead")) {
    i += 1
    if (words[i]?.word === "." && words[i]?.glued) i += 1
    if (words[i]?.word === "#") i += 1
    marked = true
  }
  const number = words[i]
  if (!number) return
  const sign = words[at - 1]
  const isNegative = sign?.word === "-" && number.glued && !sign.glued
  if (isNegative && number.kind === "number") return
  const fact = facts.get(number.word)
  const heard = fact?.soundsNumber !== undefined && (marked || isHeard(at, scene, fact.soundsNumber))
  const ones = fact?.number !== undefined && fact.number >= 20 && fact.number < 100 ? onesAt(words[i + 1], facts) : 0
  if (ones > 0 && fact?.number !== undefined)
    return push(i + 2, BONUS.number, ["spelt"], {
      numbers: [fact.number + ones],
      ...(marked ? { marked: true } : {}),
    })
  const value = wholeNumber(number) ?? fact?.number ?? (heard ? fact.soundsNumber : undefined)
  if (value === undefined || number.kind === "mark" || value > 999) return
  const last = rangeEnd(words, i) ?? openRange(words, i, scene)
  if (last !== null && last > value && last - value < 20) {
    const all = Array.from({ length: last - value + 1 }, (_, n) => value + n)
    push(i + 3, BONUS.number, [], { numbers: all, ...(marked ? { marked: true } : {}) })
  }
  push(i + 1, heard ? BONUS.bed : BONUS.number, [number.kind === "number" ? "digits" : "spelt"], {
    numbers: [value],
    ...(marked ? { marked: true } : {}),
  })
}

/** "done won", "snooze too": what sounds like an open number, right behind the word that a number answers. */
function isHeard(at: number, { words, context }: ItemScene & { words: readonly Word[] }, value: number): boolean {
  const word = words[at]
  const after = words[at + 1]
  if (!isTagged(words[at - 1], "answer") || !context.open.some((each) => each.n === value)) return false
  if (isTagged(word, "for")) return false
  if (!isTagged(word, "to-too")) return !after || after.kind === "mark" || isTagged(after, "heard-end")
  return at === 1 && (!after || (isTagged(word, "too") && isTagged(after, "heard-day")))
}

function wholeNumber(word: Word): number | undefined {
  return word.kind === "number" && Number.isInteger(word.value) && !word.ordinal && !word.dotted
    ? word.value
    : undefined
}

/** The "one" of "twenty one"; 0 where there is none. */
function onesAt(word: Word | undefined, facts: ReadonlyMap<string, Fact>): number {
  const ones = word?.kind === "word" ? (facts.get(word.word)?.number ?? 0) : 0
  return ones < 10 ? ones : 0
}

/** "12 to 16", where both are open. */
function openRange(words: readonly Word[], at: number, { context }: ItemScene): number | null {
  const [first, to, last] = words.slice(at, at + 3)
  if (!first || !last || !isTagged(to, "to")) return null
  const isOpen = (word: Word): boolean => context.open.some((each) => each.n === wholeNumber(word))
  const [low, high] = [wholeNumber(first) ?? 0, wholeNumber(last) ?? 0]
  const open = context.open.filter((each) => each.n >= low && each.n <= high).length
  return isOpen(first) && isOpen(last) && high > low && open === high - low + 1 ? high : null
}

/** The end of "1-3", "1 to 3", "1 thru 3". */
function rangeEnd(words: readonly Word[], at: number): number | null {
  const [first, mark, last] = words.slice(at, at + 3)
  if (!first || !last || !mark || wholeNumber(first) === undefined) return null
  const ranged = (mark.kind === "mark" && mark.word === "-") || isTagged(mark, "through")
  return ranged ? (wholeNumber(last) ?? null) : null
}
