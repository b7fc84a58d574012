import { residueTable } from "../../src/agronomy/residue-table.ts"
import { type Ground, speedOf } from "../../src/agronomy/soil-warmth.ts"
import { type Day, dayNumber } from "../../src/values/day.ts"
import { handbook } from "../given.ts"

/** Ground of even warmth and wetness from a day on, as worked examples have it. */
export function evenGround(first: Day, days: number, soil_c: number, surfaceWet = 0.6, soilWet = 1): Ground {
  const even = (value: number) => new Float64Array(days).fill(value)
  const soil = { early: even(soil_c), likely: even(soil_c), late: even(soil_c) }
  return {
    first: dayNumber(first),
    soil_c: soil,
    speed: speedOf(soil, residueTable(handbook())),
    soilWet: even(soilWet),
    surfaceWet: even(surfaceWet),
  }
}
