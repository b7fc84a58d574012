import type { SowingPlan, SowingState } from "../season/bed-plan.ts"
import type { Day } from "../values/day.ts"
import type { Scene } from "./kind.ts"

const RESTING: readonly SowingState[] = ["cut", "resting", "ready"]

/** Is the cover down, so that the bed is on its way to the next crop? Before that its ready day is only reckoned. */
export function resting(scene: Scene): boolean {
  return RESTING.includes(scene.sowing.state)
}

/** The day since which planting and broken stems count: the cut, else the sowing. */
export function restSince(sowing: SowingPlan, otherwise: Day): Day {
  return sowing.wasCut?.on ?? sowing.sown ?? otherwise
}
