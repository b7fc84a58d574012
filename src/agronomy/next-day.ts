import { type Day, dayFromNumber, dayNumber, partsOf } from "../values/day.ts"

/** Day number of the next MM-DD on or after a day number. */
export function nextDay(number: number, monthDay: string): number {
  const { year } = partsOf(dayFromNumber(number))
  const here = dayNumber(`${String(year).padStart(4, "0")}-${monthDay}` as Day)
  return here >= number ? here : dayNumber(`${String(year + 1).padStart(4, "0")}-${monthDay}` as Day)
}

/** Days from a day to the next longest day of the year. */
export function daysToLongestDay(number: number, lat: number): number {
  return nextDay(number, lat < 0 ? "12-21" : "06-21") - number
}

/** Days from a day to 1 January (1 July in the south), where that comes within the next eight months; else 0. */
export function daysToNewYear(number: number, lat: number): number {
  const days = nextDay(number, lat < 0 ? "07-01" : "01-01") - number
  return days < 245 ? days : 0
}
