import type { WateringTable } from "./watering-table.ts"

type Hargreaves = WateringTable["hargreaves"]

const RADIANS = Math.PI / 180

/**
 * Radiation at the top of the air in MJ per m2 and day. Source: FAO Irrigation and Drainage Paper 56 (1998), equations 21
 * to 25. `dayOfYear` 1 to 366; beyond the polar circles the sunset angle is held to 0 and pi.
 */
export function skyRadiation(latitude: number, dayOfYear: number, table: Hargreaves): number {
  const { distance, declination, sunset } = sunAngles(latitude, dayOfYear)
  const at = latitude * RADIANS
  const turned = sunset * Math.sin(at) * Math.sin(declination) + Math.cos(at) * Math.cos(declination) * Math.sin(sunset)
  return ((24 * 60) / Math.PI) * table.solar_mj_m2_min * distance * turned
}

/** Inverse relative distance to the sun, its declination and the sunset hour angle in radians. Source: FAO-56, equations 23 to 25. */
export function sunAngles(latitude: number, dayOfYear: number) {
  const turn = (2 * Math.PI * dayOfYear) / 365
  const distance = 1 + 0.033 * Math.cos(turn)
  const declination = 0.409 * Math.sin(turn - 1.39)
  const sunset = Math.acos(Math.min(1, Math.max(-1, -Math.tan(latitude * RADIANS) * Math.tan(declination))))
  return { distance, declination, sunset }
}

/** Water that radiation could evaporate, mm a day. Source: FAO-56, equation 20. */
export function asWater(radiation_mj: number, table: Hargreaves): number {
  return radiation_mj * table.mmPerMj
}

/**
 * Reference evapotranspiration in mm a day from the day's temperatures alone, after Hargreaves. Source: FAO-56, equation 52.
 * Never below 0.
 */
export function referenceEvaporation(
  tmin_c: number,
  tmax_c: number,
  latitude: number,
  dayOfYear: number,
  table: Hargreaves,
): number {
  const range = Math.max(0, tmax_c - tmin_c)
  const mean = (tmin_c + tmax_c) / 2
  const water = asWater(skyRadiation(latitude, dayOfYear, table), table)
  return Math.max(0, table.factor * (mean + table.offset_c) * Math.sqrt(range) * water)
}
