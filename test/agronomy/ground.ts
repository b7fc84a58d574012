import type { Ground } from "../../src/agronomy/soil-warmth.ts"
import { type Day, dayNumber } from "../../src/values/day.ts"

/** Ground of even warmth and wetness from a day on, as worked examples have it. */
export function evenGround(first: Day, days: number, soil_c: number, surfaceWet = 0.6, soilWet = 1): Ground {
  const even = (value: number) => new Float64Array(days).fill(value)
  return {
    first: dayNumber(first),
    soil_c: { early: even(soil_c), likely: even(soil_c), late: even(soil_c) },
    soilWet: even(soilWet),
    surfaceWet: even(surfaceWet),
  }
}
