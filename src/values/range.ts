import { addDays, type Day, dayNumber, later } from "./day.ts"

/**
 * What is believed of a day to come: `early` and `late` are the 10th and 90th percentile, `likely` the middle, `why` one
 * sentence. Always early <= likely <= late.
 */
export type Range = { early: Day; likely: Day; late: Day; why: string }

/** A range from three days in any order of surprise: made monotone by lifting the later ones. */
export function rangeOf(early: Day, likely: Day, late: Day, why: string): Range {
  const middle = later(early, likely)
  return { early, likely: middle, late: later(middle, late), why }
}

/** The range a number of days later, with another reason where one is given. */
export function shiftRange(range: Range, days: number, why = range.why): Range {
  return {
    early: addDays(range.early, days),
    likely: addDays(range.likely, days),
    late: addDays(range.late, days),
    why,
  }
}

/** Length from early to late in days. */
export function rangeWidth(range: Range): number {
  return dayNumber(range.late) - dayNumber(range.early)
}

/** A range for a thing that was seen: all three days are that day. */
export function seenOn(day: Day, why: string): Range {
  return { early: day, likely: day, late: day, why }
}
