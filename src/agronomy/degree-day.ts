/**
 * Degree-days of one day by simple averaging: the mean of minimum and maximum above the base, not below zero.
 * Source: McMaster and Wilhelm 1997 (Agric. For. Meteorol. 87:291-300), method 1. Any unit of temperature.
 */
export function averageDegreeDays(tmin: number, tmax: number, base: number): number {
  return Math.max(0, (tmin + tmax) / 2 - base)
}

/**
 * Degree-days of one day with minimum and maximum first held between base and upper limit ("modified", "86/50").
 * Source: McMaster and Wilhelm 1997, method 2; rules of Iowa State University, Agronomy 541. Any unit of temperature.
 */
export function heldDegreeDays(tmin: number, tmax: number, base: number, upper: number): number {
  const held = (t: number) => Math.min(upper, Math.max(base, t))
  return (held(tmin) + held(tmax)) / 2 - base
}

/**
 * Degree-days of one day between two limits under a sine curve through minimum and maximum, with horizontal cut-off: warmth
 * above the upper limit counts as the upper limit. It never falls where the day is warmer. Source: Baskerville and Emin 1969
 * (Ecology 50:514-517) for the lower limit, Allen 1976 (Environ. Entomol. 5:388-396) for the upper. Any unit of temperature.
 */
export function sineDegreeDays(tmin: number, tmax: number, lower: number, upper = Number.POSITIVE_INFINITY): number {
  const above = sineAbove(tmin, tmax, lower)
  return upper === Number.POSITIVE_INFINITY ? above : above - sineAbove(tmin, tmax, upper)
}

/** Mean of a sine curve above a limit, zero where it lies below. */
function sineAbove(tmin: number, tmax: number, limit: number): number {
  if (tmax <= limit) return 0
  const mean = (tmin + tmax) / 2
  if (tmin >= limit) return mean - limit
  const half = (tmax - tmin) / 2
  const crossing = Math.asin((limit - mean) / half)
  return ((mean - limit) * (Math.PI / 2 - crossing) + half * Math.cos(crossing)) / Math.PI
}
