import { addDays, type Day, weekday } from "../values/day.ts"
import {
  type DayScene,
  dottedDay,
  isMark,
  isoDay,
  isUnit,
  isWhole,
  monthAlone,
  monthDay,
  ordinalDay,
  type Part,
  slashed,
} from "./dates.ts"
import type { SaidDay } from "./days.ts"
import type { DayLead } from "./item.ts"
import type { Found } from "./phrases.ts"
import { isTagged } from "./says.ts"
import type { Word } from "./words.ts"

/** A day found in a text, up to word `to`; `lead`: how it was led to. */
export type DayFound = { to: number; day: SaidDay; lead: DayLead | null }

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
  if (!found) return lead === null ? null : unled(scene, start)
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

/** A phrase that begins with a word that leads to days: "in the morning". */
function unled(scene: DayScene, at: number): DayFound | null {
  const found = saidPhrase(scene, at)
  return found ? { ...found, lead: null } : null
}

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
