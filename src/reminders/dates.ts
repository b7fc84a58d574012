import { type Day, daysBetween, partsOf, weekday } from "../values/day.ts"

/** Months as texts write them: letters always, so that no reader takes 5/6 for another day. */
const MONTHS = ["Jan", "Feb", "Mar", "Apr", "May", "June", "July", "Aug", "Sep", "Oct", "Nov", "Dec"]
const WEEKDAYS = ["Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"]

/** Up to half a year off, day and month can only be read as the nearest such day. */
const HALF_A_YEAR = 183

/** A day in words: `14 May`; with its year where that is another than that of `on` and half a year or more away. */
export function showDay(d: Day, on: Day): string {
  const { year, month, dayOfMonth } = partsOf(d)
  const clear = year === partsOf(on).year || Math.abs(daysBetween(on, d)) <= HALF_A_YEAR
  return `${dayOfMonth} ${MONTHS[month - 1]}${clear ? "" : ` ${year}`}`
}

/** A day with its weekday: `Sat 16 May`. For days that somebody chose, as a snooze does. */
export function showWeekday(d: Day, on: Day): string {
  return `${WEEKDAYS[weekday(d) - 1]} ${showDay(d, on)}`
}

/** A stretch of days in words: `6-11 May`, `30 May-14 June`; one day where both ends are the same. */
export function showRange(from: Day, to: Day, on: Day): string {
  if (to <= from) return showDay(from, on)
  const a = partsOf(from)
  const b = partsOf(to)
  const last = showDay(to, on)
  if (a.year !== b.year) return `${showDay(from, on)}-${last}`
  if (a.month === b.month) return `${a.dayOfMonth}-${last}`
  return `${a.dayOfMonth} ${MONTHS[a.month - 1]}-${last}`
}

/** Where the first day of a range in the past of a text may be left out: `8-14` of `8-14 May`, beside the same month. */
export function showDaysOnly(from: Day, to: Day, beside: Day, on: Day): string {
  const month = (d: Day) => d.slice(0, 7)
  if (month(from) !== month(beside) || month(to) !== month(beside)) return showRange(from, to, on)
  const first = partsOf(from).dayOfMonth
  return from === to ? `${first}` : `${first}-${partsOf(to).dayOfMonth}`
}

/** How a past or coming day is called on `on`: today, yesterday, tomorrow, else the day in words. */
export function showNearDay(d: Day, on: Day): string {
  const days = daysBetween(on, d)
  if (days === 0) return "today"
  if (days === -1) return "yesterday"
  if (days === 1) return "tomorrow"
  return showDay(d, on)
}

/** Three capital letters of a weekday, as a reply word takes it. */
export function weekdayWord(d: Day): string {
  return (WEEKDAYS[weekday(d) - 1] as string).toUpperCase()
}
