import type { SowingPlan } from "../season/bed-plan.ts"
import { type Day, earlier, later } from "../values/day.ts"

/** From the first species of a sowing to show green to the last; null where it has none left alive. */
export function emergenceOf(sowing: SowingPlan): { early: Day; late: Day } | null {
  const ranges = sowing.species
    .filter((species) => !species.gone || species.gone.how === "not-up")
    .map((species) => species.emergence)
  const [first, ...rest] = ranges
  if (!first) return null
  return rest.reduce((all, one) => ({ early: earlier(all.early, one.early), late: later(all.late, one.late) }), {
    early: first.early,
    late: first.late,
  })
}
