import { z } from "zod"
import type { Climate } from "../handbook/climate.ts"
import { type Day, dayFromNumber, dayNumber, dayOf, monthLength, partsOf } from "../values/day.ts"
import { cited, tableReader } from "./table.ts"
import { weatherCourse } from "./weather-course.ts"

const frostSchema = z.strictObject({
  about: z.string(),
  frost_c: z.number(),
  nightsTogether: z.number(),
  /** Days from the middle to the early and to the late date: the 10th and 90th year of a hundred. */
  spread_days: z.number(),
  ...cited,
})

/** `shared/tables/frost-dates.json`. */
export const frostTable = tableReader("frost-dates", frostSchema)
export type FrostTable = z.infer<typeof frostSchema>

/** Usual frosts of a place as MM-DD; null where a place has none in most years. */
export type UsualFrosts = { last: string | null; first: string | null; spread_days: number }

/**
 * Usual last spring and first autumn frost: what the gardener gave, else from the normals: the day after (before) which
 * half of the years bring no night at or below freezing, night minima spread as the daily means are.
 */
export function usualFrosts(
  own: { last: string; first: string } | null,
  climate: Climate,
  table: FrostTable,
): UsualFrosts {
  if (own) return { ...own, spread_days: table.spread_days }
  const before = known.get(climate)
  if (before) return before
  const found = fromNormals(climate, table)
  known.set(climate, found)
  return found
}

/** Climates whose frosts were worked out before, for as long as the climate itself is kept. */
const known = new WeakMap<Climate, UsualFrosts>()

function fromNormals(climate: Climate, table: FrostTable): UsualFrosts {
  const year = dayOf(2023, 1, 1) as Day
  const two = weatherCourse(
    { lat: climate.lat, lon: climate.lon, observed: null, forecast: null, climate },
    year,
    year,
    dayOf(2024, 12, 31) as Day,
  )
  const expected = Array.from(two.tmin_c, (tmin, i) => {
    const { month } = partsOf(dayFromNumber(two.first + i))
    const spread = climate.sdDay_c[month - 1] ?? 4
    return below((table.frost_c - tmin) / spread) / table.nightsTogether
  })
  const warmest = warmestDay(two.tmin_c)
  return {
    last: halfYears(expected, warmest + 365, -1, two.first),
    first: halfYears(expected, warmest, 1, two.first),
    spread_days: table.spread_days,
  }
}

/** The day of a yearly date (MM-DD) that is nearest to a day: of two that are equally near the earlier one. */
export function nearestYearly(monthDay: string, near: Day): Day {
  const { year } = partsOf(near)
  const number = dayNumber(near)
  const days = yearly.get(monthDay) ?? new Map<number, Yearly>()
  yearly.set(monthDay, days)
  let nearest = dayIn(year - 1, monthDay, days)
  for (const each of [year, year + 1]) {
    const found = dayIn(each, monthDay, days)
    if (Math.abs(found.number - number) < Math.abs(nearest.number - number)) nearest = found
  }
  return nearest.day
}

/** Days of a yearly date by year: plans ask for the same few thousands of times. */
type Yearly = { day: Day; number: number }
const yearly = new Map<string, Map<number, Yearly>>()

function dayIn(year: number, monthDay: string, known: Map<number, Yearly>): Yearly {
  const before = known.get(year)
  if (before) return before
  const [month, dayOfMonth] = monthDay.split("-").map(Number) as [number, number]
  const day = dayOf(year, month, Math.min(dayOfMonth, monthLength(year, month))) as Day
  const made = { day, number: dayNumber(day) }
  known.set(year, made)
  return made
}

/** Walks from the warmest day until half of the years have had their frost. */
function halfYears(expected: readonly number[], from: number, step: 1 | -1, first: number): string | null {
  let sum = 0
  for (let i = from, days = 0; days < 330 && i >= 0 && i < expected.length; i += step, days += 1) {
    sum += expected[i]!
    if (sum >= Math.LN2) return dayFromNumber(first + i).slice(5)
  }
  return null
}

function warmestDay(tmin_c: Float64Array): number {
  let warmest = 0
  for (let i = 0; i < 365; i += 1) if (tmin_c[i]! > tmin_c[warmest]!) warmest = i
  return warmest
}

/** Share of a normal distribution below z. Source: Abramowitz and Stegun 26.2.17, from memory; good to 1e-7. */
function below(z0: number): number {
  const t = 1 / (1 + 0.2316419 * Math.abs(z0))
  const tail =
    0.3989422804014327 *
    Math.exp((-z0 * z0) / 2) *
    t *
    (0.31938153 + t * (-0.356563782 + t * (1.781477937 + t * (-1.821255978 + t * 1.330274429))))
  return z0 > 0 ? 1 - tail : tail
}
