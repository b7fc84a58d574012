import { middle } from "../handbook/figure.ts"
import type { Handbook } from "../handbook/handbook.ts"
import type { SowingPlan } from "../season/bed-plan.ts"

/** Fractions that people picture, in twelfths. */
const PARTS: readonly [number, string][] = [
  [3, "1/4"],
  [4, "1/3"],
  [6, "1/2"],
  [8, "2/3"],
  [9, "3/4"],
  [12, "all"],
]

/**
 * How much of a crop's nitrogen the cover brings, as a sentence: likely part with its range. null where the plan gives no
 * credit or the crop is unknown. "Their" is the crop's.
 */
export function nitrogenShare(sowing: SowingPlan, crop: string, handbook: Handbook): string | null {
  const credit = sowing.nitrogen?.credit_g_per_m2
  const figure = handbook.crops.get(crop)?.nitrogen.need_g_per_m2
  if (!credit || !figure) return null
  const need = middle(figure)
  const [low, likely, high] = [credit.low, credit.likely, credit.high].map((grams) => part(grams / need)) as [
    string,
    string,
    string,
  ]
  if (likely === "little") return "Little of their nitrogen is there already: feed them as usual."
  const range = low === high ? "" : ` (${low} to ${high})`
  return `About ${likely} of their nitrogen is there already${range}.`
}

function part(share: number): string {
  const twelfths = share * 12
  if (twelfths < 2) return "little"
  return PARTS.reduce((best, each) => (Math.abs(each[0] - twelfths) < Math.abs(best[0] - twelfths) ? each : best))[1]
}
