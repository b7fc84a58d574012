/** Temperatures at which cold counts towards vernalization, C: nothing at or beyond the ends, a whole day between the inner two. */
export type ColdLimits = { least: number; from: number; to: number; most: number }

/** Hours of a day at which its temperature is sampled on a cosine from maximum to minimum. */
const SAMPLES = [0.125, 0.375, 0.625, 0.875].map((part) => Math.cos(Math.PI * part))

/**
 * Vernalization that one day brings, 0 to 1: the share of a trapezoid over temperature, averaged over the course of the day.
 * Source of the shape: Weir et al. 1984 (J. agric. Sci. 102:371-382), from memory; limits come as data.
 */
export function vernalDay(tmin_c: number, tmax_c: number, cold: ColdLimits): number {
  const mean = (tmin_c + tmax_c) / 2
  const half = (tmax_c - tmin_c) / 2
  let sum = 0
  for (const sample of SAMPLES) sum += cold01(mean + half * sample, cold)
  return sum / SAMPLES.length
}

function cold01(t: number, cold: ColdLimits): number {
  const rising = (t - cold.least) / (cold.from - cold.least)
  const falling = (cold.most - t) / (cold.most - cold.to)
  return Math.max(0, Math.min(1, rising, falling))
}
