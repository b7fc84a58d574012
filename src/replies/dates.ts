import type { DateOrder } from "../garden/garden.ts"
import { type Day, dayOf } from "../values/day.ts"
import { inOrder, type SaidDay } from "./days.ts"
import type { Found } from "./phrases.ts"
import { isTagged } from "./says.ts"
import type { Words } from "./vocabulary.ts"
import type { Word } from "./words.ts"

/** What the grammar of days looks at. */
export type DayScene = {
  words: readonly Word[]
  vocabulary: Words
  today: Day
  order: DateOrder
  /** Numbers of the open reminders: "1-3" is a list of them, not the 3rd of January. */
  numbers: ReadonlySet<number>
  phrasesAt(index: number): readonly Found[]
}

/** A day that was read, up to word `to`. */
export type Part = { to: number; day: SaidDay }

/** 2026-05-14 */
export function isoDay({ words }: DayScene, at: number): Part | null {
  const [year, dash, month, dash2, day] = words.slice(at, at + 5)
  if (year?.kind !== "number" || year.word.length !== 4 || !isMark(dash, "-/.") || !isMark(dash2, "-/.")) return null
  if (month?.kind !== "number" || day?.kind !== "number") return null
  const found = dayOf(year.value as number, month.value as number, day.value as number)
  return { to: at + 5, day: found ? { said: "day", day: found } : { said: "wrong" } }
}

/** 5/14, 5-14, 14/5/26 */
export function slashed({ words, order, numbers }: DayScene, at: number, led: boolean): Part | null {
  const [first, mark, second] = words.slice(at, at + 3)
  if (!isWhole(first) || !isWhole(second) || !isMark(mark, "/-") || !mark.glued || !second.glued) return null
  const [mark2, third] = words.slice(at + 3, at + 5)
  const year = isMark(mark2, "/-") && mark2.glued && isWhole(third) ? third : null
  const a = first.value as number
  const b = second.value as number
  if (!year && !led && numbers.has(a) && numbers.has(b) && a < b) return null
  if (!year && (a > 31 || b > 31)) return null
  const day = inOrder(a, b, order)
  if (!day) return { to: year ? at + 5 : at + 3, day: { said: "wrong" } }
  return {
    to: year ? at + 5 : at + 3,
    day: { said: "month-day", ...day, year: year ? (year.value as number) : null, weekday: null },
  }
}

/** 14.5., 05.06, 5.6.2026; two numbers only behind a leading word, with a closing point or with two leading zeros. */
export function dottedDay({ words, order }: DayScene, at: number, led: boolean): Part | null {
  const word = words[at]
  if (word?.kind !== "number") return null
  const parts = word.dotted ?? word.word.split(".").map(Number)
  if (parts.length < 2 || parts.some((part) => Number.isNaN(part))) return null
  // "soil 11.5." ends a sentence.
  const measured = isTagged(words[at - 1], "measure") || isTagged(words[at - 1], "was-is")
  const closing = !measured && isMark(words[at + 1], ".") && words[at + 1]?.glued === true
  const zeros = /^0\d\.\d\d$|^\d\d\.0\d$/.test(word.word)
  if (parts.length === 2 && !led && !closing && !zeros) return null
  const day = inOrder(parts[0] as number, parts[1] as number, order)
  if (!day) return parts.length === 2 ? null : { to: at + 1, day: { said: "wrong" } }
  return {
    to: at + (closing && parts.length === 2 ? 2 : 1),
    day: { said: "month-day", ...day, year: parts[2] ?? null, weekday: null },
  }
}

/** may 20, 20 may, the 20th of may 2026, may the 4th */
export function monthDay(scene: DayScene, at: number): Part | null {
  const { words } = scene
  let i = at
  if (isTagged(words[i], "article")) i += 1
  const front = dayNumberAt(scene, i)
  if (front) {
    let j = i + 1
    if (isTagged(words[j], "date-of")) j += 1
    const month = monthAt(scene, j)
    // "done 1 may 10": the first figure is a reminder's.
    const other = j === i + 1 && scene.numbers.has(front) && dayNumberAt(scene, j + 1) > 0 && !isUnit(scene, j + 2)
    if (month && !other) return withYear(scene, j + 1, month, front)
  }
  const month = monthAt(scene, at)
  if (!month) return null
  let j = at + 1
  if (isMark(words[j], ".") && words[j]?.glued) j += 1
  if (isTagged(words[j], "article")) j += 1
  const behind = dayNumberAt(scene, j)
  // "may 20 inches": the number belongs to what follows it.
  if (!behind || isUnit(scene, j + 1)) return null
  return withYear(scene, j + 1, month, behind)
}

function withYear({ words }: DayScene, at: number, month: number, dayOfMonth: number): Part {
  let i = at
  if (isMark(words[i], ",")) i += 1
  const year = words[i]
  const said = isWhole(year) && year.word.length === 4 && (year.value as number) >= 1900 ? (year.value as number) : null
  const exists = dayOf(said ?? 2024, month, dayOfMonth) !== null
  return {
    to: said === null ? at : i + 1,
    day: exists ? { said: "month-day", month, dayOfMonth, year: said, weekday: null } : { said: "wrong" },
  }
}

/** the end of may, mid june, early july, until june */
export function monthAlone(scene: DayScene, at: number, led: boolean): Part | null {
  const { words, vocabulary } = scene
  let i = at
  if (isTagged(words[i], "article")) i += 1
  const part = vocabulary.facts.get(words[i]?.word ?? "")?.monthPart
  if (part !== undefined) {
    let j = i + 1
    if (isTagged(words[j], "part-of")) j += 1
    const month = monthAt(scene, j)
    if (month) return { to: j + 1, day: { said: "month-part", month, part } }
  }
  const month = monthAt(scene, at)
  if (!month || !led) return null
  return { to: at + 1, day: { said: "month-part", month, part: 1 } }
}

/** the 7th, 7th, the seventh */
export function ordinalDay(scene: DayScene, at: number, led: boolean): Part | null {
  const { words, vocabulary } = scene
  const the = isTagged(words[at], "article")
  const i = the ? at + 1 : at
  const word = words[i]
  if (word?.kind === "number" && word.ordinal && (word.value as number) >= 1 && (word.value as number) <= 31)
    return { to: i + 1, day: { said: "day-of-month", dayOfMonth: word.value as number, weekday: null } }
  const spelt = the && word?.kind === "word" ? vocabulary.facts.get(word.word)?.ordinal : undefined
  const behind = words[i + 1]
  // "the first" and "the second" are more often not days, save behind "on".
  if (spelt === undefined || (spelt < 3 && !led)) return null
  const ends = behind?.kind !== "word" || scene.phrasesAt(i + 1).some(({ sense }) => sense === "courtesy")
  if (!ends && behind) return null
  return { to: i + 1, day: { said: "day-of-month", dayOfMonth: spelt, weekday: null } }
}

function monthAt({ words, vocabulary }: DayScene, at: number): number {
  const word = words[at]
  return word?.kind === "word" ? (vocabulary.facts.get(word.word)?.month ?? 0) : 0
}

/** A number that can be a day of a month: 1 to 31 or an ordinal. 0 where there is none. */
function dayNumberAt({ words, vocabulary }: DayScene, at: number): number {
  const word = words[at]
  if (word?.kind === "number") return Number.isInteger(word.value) && !word.dotted ? (word.value as number) : 0
  if (word?.kind !== "word") return 0
  return vocabulary.facts.get(word.word)?.ordinal ?? 0
}

export function isUnit({ words, vocabulary }: DayScene, at: number): boolean {
  const word = words[at]
  if (!word) return false
  if (word.kind === "mark") return word.word === '"' || word.word === "'" || word.word === "%" || word.word === "°"
  return word.word !== "in" && vocabulary.units.has(word.word)
}

export function isWhole(word: Word | undefined): word is Word {
  return word?.kind === "number" && Number.isInteger(word.value) && !word.dotted && !word.ordinal
}

export function isMark(word: Word | undefined, marks: string): word is Word {
  return word?.kind === "mark" && marks.includes(word.word)
}
