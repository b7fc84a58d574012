import type { DateOrder } from "../garden/garden.ts"
import { addDays, type Day, dayOf, daysBetween, monthLength, partsOf, weekday } from "../values/day.ts"

/** A day as it was said; which day it is depends on whether it lies before or ahead (`settleDay`). */
export type SaidDay =
  | { said: "day"; day: Day }
  /** ISO weekday 1 (Monday) to 7; `which`: said with last, next or this; `weeks` more weeks on. */
  | { said: "weekday"; weekday: number; which: "bare" | "last" | "next" | "this"; weeks: number }
  | { said: "month-day"; month: number; dayOfMonth: number; year: number | null; weekday: number | null }
  | { said: "day-of-month"; dayOfMonth: number; weekday: number | null }
  | { said: "span"; days: number }
  | { said: "months"; months: number }
  | { said: "month-part"; month: number | null; part: number }
  | { said: "weekend"; weeks: number }
  | { said: "after-weekend" }
  | { said: "week-end" }
  | { said: "vague" }
  | { said: "wrong" }

/** The way a day lies: before today (done, seen), ahead (sleep, promise, want), or as near as can be. */
export type Direction = "past" | "future"

/** A day more than this far off is asked about. */
const FARTHEST_DAYS = 400

/** Which day was meant; null where it cannot be told or lies on the wrong side of today: then the day is asked for. */
export function settleDay(said: SaidDay, today: Day, direction: Direction): Day | null {
  const day = meant(said, today, direction)
  if (day === null) return null
  const ahead = daysBetween(today, day)
  if (Math.abs(ahead) > FARTHEST_DAYS) return null
  return (direction === "past" ? ahead <= 0 : ahead >= 0) ? day : null
}

function meant(said: SaidDay, today: Day, direction: Direction): Day | null {
  switch (said.said) {
    case "day":
      return said.day
    case "weekday":
      return weekdayMeant(said, today, direction)
    case "month-day": {
      const day = monthDayMeant(said.month, said.dayOfMonth, said.year, today)
      return day && agrees(day, said.weekday) ? day : null
    }
    case "day-of-month":
      return dayOfMonthMeant(said.dayOfMonth, said.weekday, today)
    case "span":
      return direction === "future" ? addDays(today, said.days) : null
    case "months":
      return direction === "future" ? monthsOn(today, said.months) : null
    case "month-part":
      return monthPartMeant(said.month, said.part, today, direction)
    case "weekend":
      // On a Saturday what is left of the weekend is Sunday.
      if (direction === "past") return null
      if (said.weeks > 0) return addDays(nextWeekday(today, 6, true), 7 * said.weeks)
      return nextWeekday(today, weekday(today) === 6 ? 7 : 6, true)
    case "after-weekend":
      return direction === "future" ? nextWeekday(today, 1, false) : null
    case "week-end":
      return direction === "future" ? nextWeekday(today, 5, true) : null
    case "vague":
    case "wrong":
      return null
  }
}

/** A bare weekday is the nearest in its direction: ahead never today, behind today counts unless "last" was said. */
function weekdayMeant(said: Extract<SaidDay, { said: "weekday" }>, today: Day, direction: Direction): Day | null {
  if (direction === "past") {
    if (said.which === "next") return null
    const back = (weekday(today) - said.weekday + 7) % 7
    const days = back === 0 && said.which === "last" ? 7 : back
    return addDays(today, -days - 7 * said.weeks)
  }
  if (said.which === "last") return null
  return addDays(nextWeekday(today, said.weekday, false), 7 * said.weeks)
}

function nextWeekday(today: Day, wanted: number, todayCounts: boolean): Day {
  const ahead = (wanted - weekday(today) + 7) % 7
  return addDays(today, ahead === 0 && !todayCounts ? 7 : ahead)
}

/** The nearest such day, before or ahead; null where there is no such day. */
function monthDayMeant(month: number, dayOfMonth: number, year: number | null, today: Day): Day | null {
  if (year !== null) return dayOf(year < 100 ? 2000 + year : year, month, dayOfMonth)
  const now = partsOf(today).year
  return nearest(
    [now - 1, now, now + 1].map((each) => dayOf(each, month, dayOfMonth)),
    today,
  )
}

function dayOfMonthMeant(dayOfMonth: number, said: number | null, today: Day): Day | null {
  const { year, month } = partsOf(today)
  const days = [-1, 0, 1].map((n) => {
    const shifted = month - 1 + n
    return dayOf(year + Math.floor(shifted / 12), (((shifted % 12) + 12) % 12) + 1, dayOfMonth)
  })
  if (said === null) return nearest(days, today)
  return nearest(
    days.map((day) => (day && agrees(day, said) ? day : null)),
    today,
  )
}

function nearest(days: readonly (Day | null)[], today: Day): Day | null {
  let best: Day | null = null
  for (const day of days) {
    if (day && (best === null || Math.abs(daysBetween(today, day)) < Math.abs(daysBetween(today, best)))) best = day
  }
  return best
}

function agrees(day: Day, said: number | null): boolean {
  return said === null || weekday(day) === said
}

/** The same day a number of months on, or the last of that month where it is shorter. */
function monthsOn(today: Day, months: number): Day {
  const { year, month, dayOfMonth } = partsOf(today)
  const shifted = month - 1 + months
  const inYear = year + Math.floor(shifted / 12)
  const inMonth = (shifted % 12) + 1
  return dayOf(inYear, inMonth, Math.min(dayOfMonth, monthLength(inYear, inMonth))) as Day
}

/** Early is the 1st, mid the 15th, late the 25th, end (31) the last; only what lies ahead can be told so. */
function monthPartMeant(month: number | null, part: number, today: Day, direction: Direction): Day | null {
  if (direction === "past") return null
  const now = partsOf(today)
  const wanted = month ?? now.month
  for (const year of [now.year, now.year + 1]) {
    const day = dayOf(year, wanted, Math.min(part, monthLength(year, wanted))) as Day
    if (day >= today) return day
  }
  return null
}

/** Month and day of two numbers in the gardener's order; null where that order makes no day of the calendar. */
export function inOrder(first: number, second: number, order: DateOrder): { month: number; dayOfMonth: number } | null {
  const [month, dayOfMonth] = order === "month-first" ? [first, second] : [second, first]
  // 2024 is a leap year: the 29th of February is a day of the calendar.
  return dayOf(2024, month, dayOfMonth) ? { month, dayOfMonth } : null
}
