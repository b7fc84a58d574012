import { sunAngles } from "./evaporation.ts"

const RADIANS = Math.PI / 180

/** How far the sun's centre is below the horizon at the end of the day, degrees: rise and set of the upper edge, with refraction. */
export const SUNSET = 0.8333
/** The same for civil twilight, which plants that measure the day still see. */
export const CIVIL_TWILIGHT = 6

/**
 * Daylight hours of the evapotranspiration handbook: sun's centre, no refraction. `dayOfYear` 1 to 366, latitude in degrees,
 * south negative; 0 and 24 beyond the polar circles. Source: FAO Irrigation and Drainage Paper 56 (1998), equations 24, 25, 34.
 */
export function daylightHours(latitude: number, dayOfYear: number): number {
  return (24 / Math.PI) * sunAngles(latitude, dayOfYear).sunset
}

/**
 * Hours from the sun's rise to its setting at so many degrees below the horizon. `dayOfYear` 1 to 366, latitude in degrees,
 * south negative; 0 and 24 where it does not rise or set. Source: Forsythe et al. 1995 (Ecol. Modelling 80:87-95), model
 * "CBM" with its coefficient p, from memory.
 */
export function dayLengthHours(latitude: number, dayOfYear: number, below_deg: number): number {
  const turn = 0.2163108 + 2 * Math.atan(0.9671396 * Math.tan(0.0086 * (dayOfYear - 186)))
  const declination = Math.asin(0.39795 * Math.cos(turn))
  const at = latitude * RADIANS
  const x =
    (Math.sin(below_deg * RADIANS) + Math.sin(at) * Math.sin(declination)) / (Math.cos(at) * Math.cos(declination))
  return 24 - (24 / Math.PI) * Math.acos(Math.min(1, Math.max(-1, x)))
}
