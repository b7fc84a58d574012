import { type Day, dayFromNumber, dayNumber, partsOf } from "../values/day.ts"

/** Day number of the next MM-DD on or after a day number. */
export function nextDay(number: number, monthDay: string): number {
  const { year } = partsOf(dayFromNumber(number))
  const here = dayNumber(`${String(year).padStart(4, "0")}-${monthDay}` as Day)
  return here >= number ? here : dayNumber(`${String(year + 1).padStart(4, "0")}-${monthDay}` as Day)
}
