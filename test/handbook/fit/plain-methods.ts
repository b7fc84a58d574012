import { lightHours } from "../../../src/agronomy/development-clock.ts"
import { type Course, type Outlook, prepareWeather } from "../../../src/agronomy/ensemble.ts"
import type { KnownWeather } from "../../../src/agronomy/weather-series.ts"
import type { Response } from "../../../src/agronomy/weather-tape.ts"
import { addDays, type Day, day, dayFromNumber, dayNumber, partsOf } from "../../../src/values/day.ts"
import { groupOf, type Line, stageDays } from "./lines.ts"
import { median } from "./model.ts"
import type { Row } from "./rows.ts"

/** Mean error in days of each simple method over the rows of a line that are left out in turn. */
export type PlainErrors = Readonly<
  Record<"days" | "calendar" | "heat" | "heat, base fitted" | "light and cold", number>
>

/** How a sum of heat is counted: above a base and below a ceiling (C), times a ramp over hours of light and one over days of cold. */
type Counting = { base: number; ceiling: number; from_h: number; to_h: number; cold_days: number }

const HEAT: Counting = { base: 0, ceiling: 99, from_h: 0, to_h: 0, cold_days: 0 }
const BASES = Array.from({ length: 21 }, (_, i) => ({ ...HEAT, base: i / 2 }))
const DRAWS = 200
const SPAN_DAYS = 330
const LOW: Response = { key: "low", of: (low) => low }
const HIGH: Response = { key: "high", of: (_, high) => high }

type Way = { low: Float64Array; high: Float64Array; hours: Float64Array; cold: Float64Array }
type Case = { group: string; sown: Day; south: boolean; days: number; past: Way; ways: Way[] }

/**
 * The simple methods that a fit must beat: mean days from sowing, mean calendar day, degree-days above 0 C, above a fitted base,
 * and with a ceiling, day length and cold (the best of 200 countings drawn by a fixed sequence). Each is fitted to the rows
 * of a line that are kept, with all weather known, and foretells those left out with the weather that is known `before` days
 * before the event (null: all of it) and the place's own past years after that, just as the clocks do.
 */
export function plainErrors(
  line: Line,
  before: number | null,
  rows: readonly Row[],
  weather: (row: Row) => KnownWeather,
): PlainErrors | null {
  const cases = rows.flatMap((row) => caseOf(line, before, row, weather(row)) ?? [])
  const groups = new Set(cases.map((one) => one.group))
  if (groups.size < 2) return null
  const countings = drawn()
  const off = { days: 0, calendar: 0, heat: 0, "heat, base fitted": 0, "light and cold": 0 }
  for (const group of groups) {
    const kept = cases.filter((one) => one.group !== group)
    const days = mean(kept.map((one) => one.days))
    const calendar = mean(kept.map((one) => calendarOf(addDays(one.sown, one.days), one.south)))
    const best = [fittedTo(kept, [HEAT]), fittedTo(kept, BASES), fittedTo(kept, countings)] as const
    for (const one of cases) {
      if (one.group !== group) continue
      const year = (calendar - calendarOf(one.sown, one.south) + 2 * 365.25) % 365.25
      off.days += Math.abs(Math.round(days) - one.days)
      off.calendar += Math.abs(Math.round(year) - one.days)
      const heats = best.map(({ counting, sum }) =>
        Math.abs(Math.floor(median(one.ways.map((way) => dayOf(way, counting, sum)))) - one.days),
      )
      off.heat += heats[0]!
      off["heat, base fitted"] += heats[1]!
      off["light and cold"] += heats[2]!
    }
  }
  const share = (total: number) => total / cases.length
  return {
    days: share(off.days),
    calendar: share(off.calendar),
    heat: share(off.heat),
    "heat, base fitted": share(off["heat, base fitted"]),
    "light and cold": share(off["light and cold"]),
  }
}

function caseOf(line: Line, before: number | null, row: Row, weather: KnownWeather): Case | null {
  const days = stageDays(line, row)
  if (days === null) return null
  const { first, tmin_c } = weather.observed!
  const last = dayFromNumber(first + tmin_c.length - 1)
  const on = before === null ? last : addDays(row.sown, days - before)
  if (on <= row.sown) return null
  const way = (outlook: Outlook, course: Course): Way => {
    const low = outlook.along(course, LOW, dayNumber(row.sown), SPAN_DAYS)
    const high = outlook.along(course, HIGH, dayNumber(row.sown), SPAN_DAYS)
    let received = 0
    const cold = low.map((tmin, i) => {
      received += coldOf((tmin + high[i]!) / 2)
      return received
    })
    return { low, high, cold, hours: lightHours(row.lat, dayNumber(row.sown), SPAN_DAYS) }
  }
  const all = prepareWeather(weather, last)
  const past = way(all, all.courses[0]!)
  const outlook = prepareWeather(weather, on)
  const ways = before === null ? [past] : outlook.courses.map((course) => way(outlook, course))
  return { group: groupOf(line, row), sown: row.sown, south: row.lat < 0, days, past, ways }
}

/** The counting that is least off on the rows it is fitted to, with their mean sum. */
function fittedTo(kept: readonly Case[], countings: readonly Counting[]): { counting: Counting; sum: number } {
  const tried = countings.map((counting) => {
    const sum = mean(kept.map((one) => sumUntil(one.past, counting, one.days)))
    const off = mean(kept.map((one) => Math.abs(Math.floor(dayOf(one.past, counting, sum)) - one.days)))
    return { counting, sum, off }
  })
  return tried.reduce((best, one) => (one.off < best.off ? one : best))
}

/** Degree-days of one day of the modified kind: both ends held between base and ceiling before their mean is taken. */
function heatOf({ low, high, hours, cold }: Way, { base, ceiling, from_h, to_h, cold_days }: Counting, i: number) {
  const held = (t: number) => Math.min(ceiling, Math.max(base, t))
  const heat = (held(low[i]!) + held(high[i]!)) / 2 - base
  const light = from_h === to_h ? 1 : Math.min(1, Math.max(0, (hours[i]! - from_h) / (to_h - from_h)))
  return heat * light * (cold_days === 0 ? 1 : Math.min(1, cold[i]! / cold_days))
}

function sumUntil(way: Way, counting: Counting, days: number): number {
  let sum = 0
  for (let i = 0; i <= days && i < SPAN_DAYS; i += 1) sum += heatOf(way, counting, i)
  return sum
}

function dayOf(way: Way, counting: Counting, sum: number): number {
  let reached = 0
  for (let i = 0; i < SPAN_DAYS; i += 1) {
    reached += heatOf(way, counting, i)
    if (reached >= sum) return i
  }
  return SPAN_DAYS
}

/** A day's share of cold, from -1 to 18 C, whole from 3 to 8 C. */
function coldOf(mean_c: number): number {
  if (mean_c <= -1 || mean_c >= 18) return 0
  return mean_c < 3 ? (mean_c + 1) / 4 : mean_c <= 8 ? 1 : (18 - mean_c) / 10
}

/** Day of the year, from 1 April in the south, where crops stand over New Year. */
function calendarOf(on: Day, south: boolean): number {
  const { year } = partsOf(on)
  const days = dayNumber(on) - dayNumber(day(`${year}-${south ? "04" : "01"}-01`))
  return days < 0 ? days + 365.25 : days
}

/** Countings by a fixed sequence (the fractional parts of multiples of irrational numbers), so that any run draws the same. */
function drawn(): Counting[] {
  const part = (i: number, step: number) => (i * step) % 1
  return Array.from({ length: DRAWS }, (_, i) => {
    const from_h = 5 + 8 * part(i, Math.SQRT2)
    return {
      base: [0, 3, 6][i % 3]!,
      ceiling: [22, 26, 99][Math.floor(3 * part(i, Math.sqrt(3)))]!,
      from_h,
      to_h: from_h + 0.5 + (17 - from_h) * part(i, Math.sqrt(5)),
      cold_days: [0, 15, 30, 60][Math.floor(4 * part(i, Math.sqrt(7)))]!,
    }
  })
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length
}
