import type { Season } from "../handbook/species.ts"
import { type Day, dayOfYear } from "../values/day.ts"

/** The season of sowing as the tables of the trade group it, from the day of the year; half a year on in the south. */
export function seasonOf(sown: Day, lat: number): Season {
  const day = ((dayOfYear(sown) + (lat < 0 ? 182 : 0) - 1) % 365) + 1
  if (day < 15 || day > 258) return "autumn"
  if (day < 152) return "spring"
  return day < 202 ? "summer" : "late-summer"
}
