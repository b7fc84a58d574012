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
 * south negative; 0 and 24 where it does not rise or set. Within three minutes of almanacs up to 55 degrees (checked in the
 * tests). Source: the hour angle of spherical astronomy; the sun's place by the low-precision formula of the
 * Astronomical Almanac, from memory.
 */
export function dayLengthHours(latitude: number, dayOfYear: number, below_deg: number): number {
  const declination = declinationOn(dayOfYear)
  const at = latitude * RADIANS
  const x =
    (Math.sin(below_deg * RADIANS) + Math.sin(at) * Math.sin(declination)) / (Math.cos(at) * Math.cos(declination))
  return 24 - (24 / Math.PI) * Math.acos(Math.min(1, Math.max(-1, x)))
}

/** Noon of 1 January 2026 in days from noon of 1 January 2000: a year in the middle between leap years, near ours. */
const NEW_YEAR_2026 = 9497

/** The sun's declination in radians at noon. */
function declinationOn(dayOfYear: number): number {
  const days = NEW_YEAR_2026 + dayOfYear - 1
  const anomaly = (357.528 + 0.9856003 * days) * RADIANS
  const longitude = (280.46 + 0.9856474 * days + 1.915 * Math.sin(anomaly) + 0.02 * Math.sin(2 * anomaly)) * RADIANS
  return Math.asin(Math.sin(23.439 * RADIANS) * Math.sin(longitude))
}
