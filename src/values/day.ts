/**
 * A day of the calendar, `YYYY-MM-DD`: no hour and no zone. It is never an instant; `zone.ts` holds the only bridge.
 * The text form sorts as the calendar does, so days compare with `<` and `===`.
 */
declare const dayMark: unique symbol
export type Day = string & { readonly [dayMark]: true }

const SHAPE = /^(\d{4})-(\d{2})-(\d{2})$/
const MONTH_LENGTHS = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31]

/** Is this a leap year of the Gregorian calendar? */
export function isLeapYear(year: number): boolean {
  return (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0
}

/** Length of a month in days; `month` is 1 to 12. */
export function monthLength(year: number, month: number): number {
  return month === 2 && isLeapYear(year) ? 29 : (MONTH_LENGTHS[month - 1] ?? 0)
}

/** Reads `YYYY-MM-DD`; null where the text has another shape or names a day that does not exist. */
export function asDay(text: string): Day | null {
  const parts = SHAPE.exec(text)
  if (!parts) return null
  return dayOf(Number(parts[1]), Number(parts[2]), Number(parts[3]))
}

/** Reads `YYYY-MM-DD` that is known to be right (tests, constants); throws a RangeError on any other text. */
export function day(text: string): Day {
  const found = asDay(text)
  if (!found) throw new RangeError(`not a day of the calendar: ${JSON.stringify(text)}, expected YYYY-MM-DD`)
  return found
}

/** The day of year, month (1-12) and day of month; null where there is no such day. Years 0 to 9999. */
export function dayOf(year: number, month: number, dayOfMonth: number): Day | null {
  if (!Number.isInteger(year) || year < 0 || year > 9999) return null
  if (!Number.isInteger(month) || month < 1 || month > 12) return null
  if (!Number.isInteger(dayOfMonth) || dayOfMonth < 1 || dayOfMonth > monthLength(year, month)) return null
  return `${String(year).padStart(4, "0")}-${two(month)}-${two(dayOfMonth)}` as Day
}

/** Year, month (1-12) and day of month of a day. */
export function partsOf(d: Day): { year: number; month: number; dayOfMonth: number } {
  return { year: digits(d, 0, 4), month: digits(d, 5, 7), dayOfMonth: digits(d, 8, 10) }
}

/**
 * Days since 1970-01-01 (negative before it): the form in which daily series are walked.
 * Source: the civil-from-days algorithm of the proleptic Gregorian calendar (H. Hinnant, "chrono-compatible
 * low-level date algorithms"), from memory; checked in the tests against the run-time's own calendar.
 */
export function dayNumber(d: Day): number {
  const { year, month, dayOfMonth } = partsOf(d)
  const shifted = month <= 2 ? year - 1 : year
  const era = Math.floor(shifted / 400)
  const yearOfEra = shifted - era * 400
  const dayOfYearFromMarch = Math.floor((153 * (month > 2 ? month - 3 : month + 9) + 2) / 5) + dayOfMonth - 1
  const dayOfEra = yearOfEra * 365 + Math.floor(yearOfEra / 4) - Math.floor(yearOfEra / 100) + dayOfYearFromMarch
  return era * 146097 + dayOfEra - 719468
}

/** Days of 1970 to 2106 that were asked for once: a plan names the same few thousand again and again. */
const written: (Day | undefined)[] = []
const WRITTEN_DAYS = 50_000

/** The day that is `n` days after 1970-01-01; the inverse of `dayNumber`. */
export function dayFromNumber(n: number): Day {
  if (!(n >= 0 && n < WRITTEN_DAYS && Number.isInteger(n))) return write(n)
  const known = written[n]
  if (known !== undefined) return known
  const made = write(n)
  written[n] = made
  return made
}

function write(n: number): Day {
  const z = n + 719468
  const era = Math.floor(z / 146097)
  const dayOfEra = z - era * 146097
  const yearOfEra = Math.floor(
    (dayOfEra - Math.floor(dayOfEra / 1460) + Math.floor(dayOfEra / 36524) - Math.floor(dayOfEra / 146096)) / 365,
  )
  const dayOfYearFromMarch = dayOfEra - (365 * yearOfEra + Math.floor(yearOfEra / 4) - Math.floor(yearOfEra / 100))
  const marchMonth = Math.floor((5 * dayOfYearFromMarch + 2) / 153)
  const dayOfMonth = dayOfYearFromMarch - Math.floor((153 * marchMonth + 2) / 5) + 1
  const month = marchMonth < 10 ? marchMonth + 3 : marchMonth - 9
  const year = yearOfEra + era * 400 + (month <= 2 ? 1 : 0)
  return `${String(year).padStart(4, "0")}-${two(month)}-${two(dayOfMonth)}` as Day
}

/** The day `n` days later (earlier where n is negative). */
export function addDays(d: Day, n: number): Day {
  return dayFromNumber(dayNumber(d) + n)
}

/** Days from `a` to `b`: positive where b is later. */
export function daysBetween(a: Day, b: Day): number {
  return dayNumber(b) - dayNumber(a)
}

/** Day of the year, 1 to 366. */
export function dayOfYear(d: Day): number {
  return dayNumber(d) - dayNumber(`${d.slice(0, 4)}-01-01` as Day) + 1
}

/** ISO weekday: 1 is Monday, 7 is Sunday. */
export function weekday(d: Day): number {
  return ((((dayNumber(d) + 3) % 7) + 7) % 7) + 1
}

/** The earlier of two days. */
export function earlier(a: Day, b: Day): Day {
  return a <= b ? a : b
}

/** The later of two days. */
export function later(a: Day, b: Day): Day {
  return a >= b ? a : b
}

/** The same month and day in another year; 29 February falls on the 28th in a year without it. */
export function inYear(d: Day, year: number): Day {
  const { month, dayOfMonth } = partsOf(d)
  return dayOf(year, month, Math.min(dayOfMonth, monthLength(year, month))) as Day
}

/** Walked millions of times in a season: several times faster than slicing and Number. */
function digits(text: string, from: number, to: number): number {
  let value = 0
  for (let i = from; i < to; i += 1) value = value * 10 + text.charCodeAt(i) - 48
  return value
}

function two(n: number): string {
  return n < 10 ? `0${n}` : String(n)
}
