import type { BedKind } from "../garden/garden.ts"
import { type Day, dayFromNumber, dayNumber } from "../values/day.ts"
import { moistureFactor, temperatureFactor } from "./residue.ts"
import type { ResidueTable } from "./residue-table.ts"
import { indexIn, type WeatherCourse } from "./weather-course.ts"

/** The ends of a range: `early` reckons with the warm quartile of the normals, `late` with the cold one. */
export const ENDS = ["early", "likely", "late"] as const
export type End = (typeof ENDS)[number]

/** Warmth and wetness of a bed's soil day by day; index 0 is day number `first`. */
export type Ground = {
  first: number
  /** Soil at 5 to 10 cm, C. */
  soil_c: Record<End, Float64Array>
  /** Speed of decay that the warmth of the soil allows, 1 at the reference of 15 C. */
  speed: Record<End, Float64Array>
  /** Speed of decay that the water in the soil allows, 0 to 1. */
  soilWet: Float64Array
  /** Share of the time that residue on the surface is wet, 0 to 1. */
  surfaceWet: Float64Array
}

/** A soil temperature that the gardener measured, and days on which they watered. */
export type GroundFacts = {
  soil: readonly { on: Day; value_c: number }[]
  watered: readonly Day[]
  rain: readonly { on: Day; value_mm: number }[]
}

/**
 * The ground of a bed from the weather: soil warmth as the mean air temperature of the last week, warmer under glass, drawn to
 * what the gardener measured; wetness from rain and watering. Source: common practice, `shared/tables/residue-decay.json`.
 */
export function groundOf(course: WeatherCourse, bed: BedKind, facts: GroundFacts, table: ResidueTable): Ground {
  const length = course.tmin_c.length
  const soil_c = {
    early: new Float64Array(length),
    likely: new Float64Array(length),
    late: new Float64Array(length),
  }
  const { airDays, greenhouse_c, coldestSoil_c, spread } = table.soil
  let air = 0
  let wide = 0
  for (let i = 0; i < length; i += 1) {
    air += (course.tmin_c[i]! + course.tmax_c[i]!) / 2
    wide += course.spread_c[i]!
    if (i >= airDays) {
      air -= (course.tmin_c[i - airDays]! + course.tmax_c[i - airDays]!) / 2
      wide -= course.spread_c[i - airDays]!
    }
    const days = Math.min(i + 1, airDays)
    const likely = air / days + (bed === "greenhouse" ? greenhouse_c : 0)
    const off = (wide / days) * spread
    soil_c.early[i] = Math.max(coldestSoil_c, likely + off)
    soil_c.likely[i] = Math.max(coldestSoil_c, likely)
    soil_c.late[i] = Math.max(coldestSoil_c, likely - off)
  }
  drawToMeasured(soil_c, course, facts, table)
  const speed = speedOf(soil_c, table)
  return { first: course.first, soil_c, speed, ...wetness(course, bed, facts, table) }
}

/** Speed of decay by soil temperature, day by day. */
export function speedOf(soil_c: Ground["soil_c"], table: ResidueTable): Ground["speed"] {
  const of = (series: Float64Array) => series.map((soil) => temperatureFactor(soil, table))
  return { early: of(soil_c.early), likely: of(soil_c.likely), late: of(soil_c.late) }
}

/** Soil temperature of a day, C. */
export function soilOn(ground: Ground, d: Day, end: End = "likely"): number {
  const series = ground.soil_c[end]
  return series[Math.min(series.length - 1, Math.max(0, dayNumber(d) - ground.first))]!
}

/** The first day from `from` on that the soil is as warm as this and stays so for a week; null where it never is within a year. */
export function warmFrom(ground: Ground, from: Day, least_c: number, end: End = "likely"): Day | null {
  const series = ground.soil_c[end]
  const start = Math.max(0, dayNumber(from) - ground.first)
  const stop = Math.min(series.length, start + 366)
  let run = 0
  for (let i = start; i < stop; i += 1) {
    run = series[i]! >= least_c ? run + 1 : 0
    if (run === 7) return dayFromNumber(ground.first + i - 6)
  }
  return null
}

/** A measured soil temperature moves the reckoned one, fully on its day and less each day after. */
function drawToMeasured(
  soil_c: Record<End, Float64Array>,
  course: WeatherCourse,
  facts: GroundFacts,
  table: ResidueTable,
): void {
  const holds = table.soil.measuredHolds_days
  const measured = facts.soil.filter((one) => dayNumber(one.on) >= course.first && dayNumber(one.on) <= course.on)
  measured.forEach((one, place) => {
    const start = indexIn(course, one.on)
    const next = measured[place + 1]
    const stop = Math.min(
      soil_c.likely.length,
      start + holds,
      next ? indexIn(course, next.on) : Number.MAX_SAFE_INTEGER,
    )
    const off = one.value_c - soil_c.likely[start]!
    for (let i = start; i < stop; i += 1) {
      const fading = off * (1 - (i - start) / holds)
      for (const end of ENDS) soil_c[end][i] = Math.max(table.soil.coldestSoil_c, soil_c[end][i]! + fading)
    }
  })
}

function wetness(course: WeatherCourse, bed: BedKind, facts: GroundFacts, table: ResidueTable) {
  const length = course.rain_mm.length
  const { wetness: wet } = table
  const soilWet = new Float64Array(length)
  const surfaceWet = new Float64Array(length)
  const fell = bed === "greenhouse" ? new Float64Array(length) : Float64Array.from(course.rain_mm)
  if (bed !== "greenhouse")
    for (const one of facts.rain) if (holds(course, one.on)) fell[indexIn(course, one.on)] = one.value_mm
  for (const d of facts.watered) if (holds(course, d)) fell[indexIn(course, d)]! += wet.wateringCounts_mm
  let lately = 0
  let surface = wet.humid
  for (let i = 0; i < length; i += 1) {
    // Where nobody knows the rain, the place is taken as humid.
    const today = Number.isNaN(fell[i]!) ? wet.soaked_mm / wet.soakedDays : fell[i]!
    fell[i] = today
    lately += today - (i >= wet.soakedDays ? fell[i - wet.soakedDays]! : 0)
    const days = Math.min(i + 1, wet.soakedDays)
    const soaked = Math.min(1, ((lately / days) * wet.soakedDays) / wet.soaked_mm)
    const longRun = wet.dry + (wet.humid - wet.dry) * soaked
    surface = course.known[i] === 0 ? longRun : today >= wet.rainWets_mm ? 1 : surface * wet.dryDay
    surfaceWet[i] = bed === "greenhouse" ? wet.watered : surface
    const share = bed === "greenhouse" ? wet.soilMoist : wet.soilDry + (wet.soilMoist - wet.soilDry) * soaked
    soilWet[i] = moistureFactor(share, table)
  }
  return { soilWet, surfaceWet }
}

function holds(course: WeatherCourse, d: Day): boolean {
  const i = dayNumber(d) - course.first
  return i >= 0 && i < course.rain_mm.length && dayNumber(d) <= course.on
}
