import { dayFromNumber, isLeapYear, partsOf } from "../values/day.ts"

const MONTH_STARTS = [0, 31, 60, 91, 121, 152, 182, 213, 244, 274, 305, 335]
/** Place of 29 February in a leap year, counted from 0. */
const LEAP_DAY = 59
/** Places of a leap year: every calendar day has the same place in each year. */
export const SLOTS = 366

export type Slots = { years: Int32Array; slots: Uint16Array }

/** One sowing asks for the same days again and again, for each course of the weather; many sowings share a garden. */
const MOST_KEPT = 200
const kept = new Map<string, Slots>()

/** Years and places in a leap year (0 to 365) of so many days from day number `first` on. Not to be written to. */
export function slotsOf(first: number, days: number): Slots {
  const key = `${first} ${days}`
  const before = kept.get(key)
  if (before) return before
  if (kept.size >= MOST_KEPT) kept.clear()
  const made = walkSlots(first, days)
  kept.set(key, made)
  return made
}

function walkSlots(first: number, days: number): Slots {
  const years = new Int32Array(days)
  const slots = new Uint16Array(days)
  const start = partsOf(dayFromNumber(first))
  let year = start.year
  let slot = MONTH_STARTS[start.month - 1]! + start.dayOfMonth - 1
  let leap = isLeapYear(year)
  for (let i = 0; i < days; i += 1) {
    years[i] = year
    slots[i] = slot
    slot += 1
    if (slot === LEAP_DAY && !leap) slot += 1
    if (slot === SLOTS) {
      slot = 0
      year += 1
      leap = isLeapYear(year)
    }
  }
  return { years, slots }
}

/** Month (0 to 11) of each place of a leap year. */
export const MONTH_OF_SLOT = Uint8Array.from({ length: SLOTS }, (_, slot) =>
  MONTH_STARTS.findLastIndex((start) => start <= slot),
)

/** Values of twelve months spread over the places of a leap year: straight lines between the middles of the months. */
export function overYear(monthly: readonly number[]): Float64Array {
  return Float64Array.from({ length: SLOTS }, (_, slot) => {
    const month = MONTH_OF_SLOT[slot]!
    const start = MONTH_STARTS[month]!
    const length = (MONTH_STARTS[month + 1] ?? SLOTS) - start
    const along = (slot - start + 0.5) / length - 0.5
    const other = (along < 0 ? month + 11 : month + 1) % 12
    const weight = Math.abs(along)
    return monthly[month]! * (1 - weight) + monthly[other]! * weight
  })
}
