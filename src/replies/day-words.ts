import type { DateOrder } from "../garden/garden.ts"
import { addDays, type Day, dayOf, weekday } from "../values/day.ts"
import { inOrder, type SaidDay } from "./days.ts"
import type { Found } from "./phrases.ts"
import { isTagged } from "./says.ts"
import type { Words } from "./vocabulary.ts"
import type { Word } from "./words.ts"

/** A day found in a text, up to word `to`; `lead`: how it was led to. */
export type DayFound = { to: number; day: SaidDay; lead: DayLead | null }

/** The word that leads to a day: to its end ("until friday", "for a week"), or another ("on friday"). */
export type DayLead = "end" | "other"

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

/** The longest day that starts at word `start`, with the word that leads to it ("until friday") and its time of day. */
export function dayAt(scene: DayScene, start: number): DayFound | null {
  let at = start
  let lead: DayLead | null = null
  const first = scene.words[at]
  if (isTagged(first, "until")) {
    lead = isTagged(first, "day-end") ? "end" : "other"
    at += 1
    const second = scene.words[at]
    if (isTagged(second, "day-lead")) at += 1
  }
  const found = bareDay(scene, at, lead !== null)
  if (!found) return null
  // "in friday" would be a bed; "in" leads to months and spans only.
  if (
    lead !== null &&
    isTagged(first, "day-in") &&
    found.day.said !== "month-part" &&
    found.day.said !== "span" &&
    found.day.said !== "months"
  )
    return null
  let to = found.to
  while (isTagged(scene.words[to], "time-of-day")) to += 1
  return { to, day: found.day, lead }
}

type Part = { to: number; day: SaidDay }

function bareDay(scene: DayScene, at: number, led: boolean): Part | null {
  const tries = [saidPhrase, isoDay, slashed, dottedDay, monthDay, weekDay, span, monthAlone, ordinalDay]
  let best: Part | null = null
  for (const each of tries) {
    const found = each(scene, at, led)
    if (found && (!best || found.to > best.to)) best = found
  }
  return best
}

/** Phrases such as "the day before yesterday". */
function saidPhrase(scene: DayScene, at: number): Part | null {
  let best: Found | null = null
  for (const found of scene.phrasesAt(at)) {
    if (found.sense.startsWith("day:") && (!best || found.to > best.to)) best = found
  }
  if (!best) return null
  const { today } = scene
  const exact = (days: number): SaidDay => ({ said: "day", day: addDays(today, days) })
  const meanings: Record<string, SaidDay> = {
    today: exact(0),
    yesterday: exact(-1),
    two_ago: exact(-2),
    tomorrow: exact(1),
    two_on: exact(2),
    week_on: { said: "span", days: 7 },
    fortnight: { said: "span", days: 14 },
    weekend: { said: "weekend", weeks: 0 },
    next_weekend: { said: "weekend", weeks: 1 },
    after_weekend: { said: "after-weekend" },
    month_end: { said: "month-part", month: null, part: 31 },
    week_end: { said: "week-end" },
    next_month: { said: "months", months: 1 },
    vague_past: { said: "vague" },
    vague_future: { said: "vague" },
  }
  const day = meanings[best.sense.slice("day:".length)]
  if (!day) return null
  // "week" alone is a span only behind a word or number that makes it one.
  if (best.to - best.from === 1 && isTagged(scene.words[at], "week")) return null
  return { to: best.to, day }
}

/** 2026-05-14 */
function isoDay({ words }: DayScene, at: number): Part | null {
  const [year, dash, month, dash2, day] = words.slice(at, at + 5)
  if (year?.kind !== "number" || year.word.length !== 4 || !isMark(dash, "-/.") || !isMark(dash2, "-/.")) return null
  if (month?.kind !== "number" || day?.kind !== "number") return null
  const found = dayOf(year.value as number, month.value as number, day.value as number)
  return { to: at + 5, day: found ? { said: "day", day: found } : { said: "wrong" } }
}

/** 5/14, 5-14, 14/5/26 */
function slashed({ words, order, numbers }: DayScene, at: number, led: boolean): Part | null {
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
function dottedDay({ words, order }: DayScene, at: number, led: boolean): Part | null {
  const word = words[at]
  if (word?.kind !== "number") return null
  const parts = word.dotted ?? word.word.split(".").map(Number)
  if (parts.length < 2 || parts.some((part) => Number.isNaN(part))) return null
  const closing = isMark(words[at + 1], ".") && words[at + 1]?.glued === true
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
function monthDay(scene: DayScene, at: number): Part | null {
  const { words } = scene
  let i = at
  if (isTagged(words[i], "article")) i += 1
  const front = dayNumberAt(scene, i)
  if (front) {
    let j = i + 1
    if (isTagged(words[j], "date-of")) j += 1
    const month = monthAt(scene, j)
    if (month) return withYear(scene, j + 1, month, front)
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

/** friday, next tue, last sat, fri 14, saturday the 16th of may, saturday week, friday next week */
function weekDay(scene: DayScene, at: number): Part | null {
  const { words, vocabulary } = scene
  let i = at
  let which: "bare" | "last" | "next" | "this" = "bare"
  let weeks = 0
  if (isTagged(words[i], "a-an") && isTagged(words[i + 1], "week") && isTagged(words[i + 2], "week-on")) {
    weeks = 1
    i += 3
  }
  if (isTagged(words[i], "day-last")) which = "last"
  else if (isTagged(words[i], "day-next")) which = "next"
  else if (isTagged(words[i], "day-this")) which = "this"
  if (which !== "bare") {
    i += 1
    if (isTagged(words[i], "last-past")) which = "last"
    if (isTagged(words[i], "day-passed")) i += 1
  }
  const found = words[i]?.kind === "word" ? vocabulary.facts.get((words[i] as Word).word)?.weekday : undefined
  if (found === undefined) return null
  i += 1
  if (isMark(words[i], ".") && words[i]?.glued && (words[i - 1] as Word).word.length <= 4 && words[i + 1]) i += 1
  if (which === "bare" && weeks === 0) {
    const dated = datedWeekday(scene, i, found)
    if (dated) return dated
  }
  if (isTagged(words[i], "week") && which !== "last") {
    weeks += 1
    i += 1
  } else if (isTagged(words[i], "plain-next") && isTagged(words[i + 1], "week")) {
    return { to: i + 2, day: { said: "day", day: addDays(scene.today, found - weekday(scene.today) + 7) } }
  } else if (isTagged(words[i], "plain-last") && isTagged(words[i + 1], "week")) {
    return { to: i + 2, day: lastWeeks(scene.today, found) }
  }
  if (isTagged(words[i], "before") && isTagged(words[i + 1], "plain-last"))
    return { to: i + 2, day: { said: "weekday", weekday: found, which: "last", weeks: 1 } }
  if (isTagged(words[i], "last-past"))
    return { to: i + 1, day: { said: "weekday", weekday: found, which: "last", weeks } }
  return { to: i, day: { said: "weekday", weekday: found, which, weeks } }
}

/** "tuesday last week": the Tuesday of the week before this one. */
function lastWeeks(today: Day, wanted: number): SaidDay {
  return { said: "day", day: addDays(today, wanted - weekday(today) - 7) }
}

/** The number behind a weekday: "fri 14", "friday 5/14", "sat may 16". */
function datedWeekday(scene: DayScene, at: number, wanted: number): Part | null {
  let i = at
  if (isMark(scene.words[i], ",")) i += 1
  for (const each of [slashed, monthDay, ordinalDay]) {
    const found = each(scene, i, true)
    if (found?.day.said === "month-day" || found?.day.said === "day-of-month")
      return { to: found.to, day: { ...found.day, weekday: wanted } }
  }
  const plain = scene.words[i]
  if (i === at && isWhole(plain) && (plain.value as number) <= 31 && plain.value !== 0 && !isUnit(scene, i + 1)) {
    if (scene.numbers.has(plain.value as number)) return null
    return { to: i + 1, day: { said: "day-of-month", dayOfMonth: plain.value as number, weekday: wanted } }
  }
  return null
}

/** 2 days, in a couple of weeks, 3d, two weeks ago, ten days from now */
function span(scene: DayScene, at: number): Part | null {
  const { words, vocabulary } = scene
  let i = at
  if (isTagged(words[i], "span-lead") && words[i + 1]) i += 1
  const count = countAt(scene, i)
  if (!count) return null
  i = count.to
  if (isTagged(words[i], "span-more")) i += 1
  const unit = words[i]
  const days = unit?.kind === "word" ? vocabulary.facts.get(unit.word)?.span : undefined
  if (days === undefined) return null
  i += 1
  if (days === 1 && isTagged(words[i], "span-or") && isTagged(words[i + 1], "span-so")) i += 2
  const past = isTagged(words[i], "ago")
  if (past) return { to: i + 1, day: { said: "day", day: addDays(scene.today, -Math.round(count.value * days)) } }
  if (isTagged(words[i], "from") && isTagged(words[i + 1], "from-now")) i += 2
  if (isTagged(words[i], "time")) i += 1
  if (days === 30 && Number.isInteger(count.value)) return { to: i, day: { said: "months", months: count.value } }
  return { to: i, day: { said: "span", days: Math.round(count.value * days) } }
}

function countAt({ words, vocabulary }: DayScene, at: number): { to: number; value: number } | null {
  const word = words[at]
  if (!word) return null
  if (word.kind === "number" && !word.ordinal) return { to: at + 1, value: word.value as number }
  if (word.kind !== "word") return null
  if (isTagged(word, "couple")) return { to: isTagged(words[at + 1], "part-of") ? at + 2 : at + 1, value: 2 }
  if (isTagged(word, "a-an") && isTagged(words[at + 1], "couple"))
    return { to: isTagged(words[at + 2], "part-of") ? at + 3 : at + 2, value: 2 }
  if (isTagged(word, "a-an")) return { to: at + 1, value: 1 }
  const value = vocabulary.facts.get(word.word)?.number
  return value === undefined ? null : { to: at + 1, value }
}

/** the end of may, mid june, early july, until june */
function monthAlone(scene: DayScene, at: number, led: boolean): Part | null {
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
function ordinalDay(scene: DayScene, at: number): Part | null {
  const { words, vocabulary } = scene
  const the = isTagged(words[at], "article")
  const i = the ? at + 1 : at
  const word = words[i]
  if (word?.kind === "number" && word.ordinal && (word.value as number) >= 1 && (word.value as number) <= 31)
    return { to: i + 1, day: { said: "day-of-month", dayOfMonth: word.value as number, weekday: null } }
  const spelt = the && word?.kind === "word" ? vocabulary.facts.get(word.word)?.ordinal : undefined
  const behind = words[i + 1]
  if (spelt === undefined || spelt < 3 || (behind && behind.kind !== "mark")) return null
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

function isUnit({ words, vocabulary }: DayScene, at: number): boolean {
  const word = words[at]
  if (!word) return false
  if (word.kind === "mark") return word.word === '"' || word.word === "'" || word.word === "%" || word.word === "°"
  return word.word !== "in" && vocabulary.units.has(word.word)
}

function isWhole(word: Word | undefined): word is Word {
  return word?.kind === "number" && Number.isInteger(word.value) && !word.dotted && !word.ordinal
}

function isMark(word: Word | undefined, marks: string): word is Word {
  return word?.kind === "mark" && marks.includes(word.word)
}
