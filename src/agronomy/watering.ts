import type { BedKind } from "../garden/garden.ts"
import { type Day, dayFromNumber, dayNumber, dayOfYear } from "../values/day.ts"
import { referenceEvaporation } from "./evaporation.ts"
import type { WateringTable } from "./watering-table.ts"
import { indexIn, type WeatherCourse } from "./weather-course.ts"

/** Litres that so many millimetres over an area are: by definition. */
export function litres(depth_mm: number, area_m2: number): number {
  return depth_mm * area_m2
}

/** Water in mm that a depth of soil holds for plants between wilting and field capacity. Source: FAO-56, Table 19. */
export function heldWater(
  soil: "sand" | "loam" | "clay",
  depth_mm: number,
  table: WateringTable,
): { low: number; high: number } {
  const share = table.available_share[soil]
  return { low: share.low * depth_mm, high: share.high * depth_mm }
}

/** What a bed was given and what fell on it. */
export type WaterFacts = { watered: readonly Day[]; rain: readonly { on: Day; value_mm: number }[] }

export type Shortage = {
  /** Millimetres missing at the end of day `on`, before any rain to come. */
  short_mm: number
  /** Rain of the next day as forecast; 0 where none is told. */
  coming_mm: number
  /** Rain since `from`, where it was measured. */
  fell_mm: number
}

/**
 * How many millimetres a layer of soil is short of at the end of a day. It starts empty (a fresh seedbed) or full, loses
 * the reference evaporation and fills with rain and waterings; a watering fills it. No rain falls under glass.
 */
export function shortage(
  course: WeatherCourse,
  layer: { from: Day; holds_mm: number; start: "empty" | "full"; loses: number },
  bed: BedKind,
  facts: WaterFacts,
  table: WateringTable,
): Shortage {
  let water = layer.start === "full" ? layer.holds_mm : 0
  let fell = 0
  const lossShare = layer.loses * (bed === "greenhouse" ? table.greenhouseEvaporation.value : 1)
  for (let number = dayNumber(layer.from); number <= course.on; number += 1) {
    const d = dayFromNumber(number)
    const i = indexIn(course, d)
    const rain = bed === "greenhouse" ? 0 : (facts.rain.find((one) => one.on === d)?.value_mm ?? rainOf(course, i))
    fell += rain
    const loss =
      lossShare * referenceEvaporation(course.tmin_c[i]!, course.tmax_c[i]!, course.lat, dayOfYear(d), table.hargreaves)
    // On the first day the bed is sown: what evaporates is from then on.
    water = Math.min(layer.holds_mm, water + rain) - (number === dayNumber(layer.from) ? 0 : loss)
    if (facts.watered.includes(d)) water = layer.holds_mm
    water = Math.max(0, water)
  }
  const next = Math.min(course.rain_mm.length - 1, course.on + 1 - course.first)
  const coming = bed !== "greenhouse" && course.known[next] === 1 ? course.rain_mm[next]! : 0
  return { short_mm: layer.holds_mm - water, coming_mm: Number.isNaN(coming) ? 0 : coming, fell_mm: fell }
}

/** Measured rain of a day; 0 where it was not measured: a normal is no rain that fell. */
function rainOf(course: WeatherCourse, i: number): number {
  const rain = course.rain_mm[i]!
  return course.known[i] === 0 || Number.isNaN(rain) ? 0 : rain
}
