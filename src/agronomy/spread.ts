/**
 * The value that a standard normal variable stays below with chance `p` (0 to 1, ends excluded). Source: P. J. Acklam's
 * rational approximation, from memory; relative error below 1.2e-9, checked in the tests against the error function.
 */
export function normalQuantile(p: number): number {
  if (!(p > 0 && p < 1)) throw new RangeError(`no quantile at ${p}, expected a chance between 0 and 1`)
  if (p < 0.02425) return tail(Math.sqrt(-2 * Math.log(p)))
  if (p > 1 - 0.02425) return -tail(Math.sqrt(-2 * Math.log(1 - p)))
  const q = p - 0.5
  const r = q * q
  const over = ((((A[0]! * r + A[1]!) * r + A[2]!) * r + A[3]!) * r + A[4]!) * r + A[5]!
  const under = ((((B[0]! * r + B[1]!) * r + B[2]!) * r + B[3]!) * r + B[4]!) * r + 1
  return (over * q) / under
}

const A = [
  -3.969683028665376e1, 2.209460984245205e2, -2.759285104469687e2, 1.38357751867269e2, -3.066479806614716e1,
  2.506628277459239,
]
const B = [-5.447609879822406e1, 1.615858368580409e2, -1.556989798598866e2, 6.680131188771972e1, -1.328068155288572e1]
const C = [
  -7.784894002430293e-3, -3.223964580411365e-1, -2.400758277161838, -2.549732539343734, 4.374664141464968,
  2.938163982698783,
]
const D = [7.784695709041462e-3, 3.224671290700398e-1, 2.445134137142996, 3.754408661907416]

function tail(q: number): number {
  const over = ((((C[0]! * q + C[1]!) * q + C[2]!) * q + C[3]!) * q + C[4]!) * q + C[5]!
  return over / ((((D[0]! * q + D[1]!) * q + D[2]!) * q + D[3]!) * q + 1)
}

/** The z of the 10th and 90th percentile. */
export const TENTH = 1.2815515655446004

/** So many points of equal weight on the standard normal distribution, lowest first. */
export function normalGrid(points: number): number[] {
  return Array.from({ length: points }, (_, i) => normalQuantile((i + 0.5) / points))
}

/** Factors that spread a requirement: `low`, `likely`, `high` are its 10th, 50th and 90th percentile, each side a lognormal half. */
export function spreadFactors(
  spread: { low: number; likely: number; high: number },
  grid: readonly number[],
): Float64Array {
  const key = `${spread.low} ${spread.likely} ${spread.high} ${grid.length}`
  const before = factors.get(key)
  if (before) return before
  if (factors.size >= MOST_FACTORS) factors.clear()
  const below = Math.log(spread.likely / spread.low) / TENTH
  const above = Math.log(spread.high / spread.likely) / TENTH
  const made = Float64Array.from(grid, (z) => spread.likely * Math.exp(z * (z < 0 ? below : above)))
  factors.set(key, made)
  return made
}

/** Each walk of a sowing through the weather asks for the same factors; the grid of a length is one and the same. */
const MOST_FACTORS = 200
const factors = new Map<string, Float64Array>()

/** Parts of a day that a distribution tells apart. */
const PARTS = 8

/** A distribution of moments, in days from a beginning; moments beyond its end are kept apart. */
export type Moments = {
  add(moment: number, weight: number): void
  /** All weight, that beyond the end included. */
  total(): number
  /** Weight of moments that do not come before the end. */
  beyond(): number
  /** The moment before which a share `p` of the weight lies, straight lines within a part of a day. The end where it lies beyond. */
  quantile(p: number): number
}

/** An empty distribution over so many days. */
export function momentsOver(days: number): Moments {
  const bins = new Float64Array(days * PARTS)
  let total = 0
  let beyond = 0
  return {
    add(moment, weight) {
      total += weight
      if (!(moment < days)) beyond += weight
      else {
        const bin = Math.max(0, Math.floor(moment * PARTS))
        bins[bin] = bins[bin]! + weight
      }
    },
    total: () => total,
    beyond: () => beyond,
    quantile(p) {
      const wanted = p * total
      let before = 0
      for (let bin = 0; bin < bins.length; bin += 1) {
        const here = bins[bin]!
        if (here > 0 && before + here >= wanted) return (bin + (wanted - before) / here) / PARTS
        before += here
      }
      return days
    },
  }
}
