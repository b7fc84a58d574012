import type { SeenStages } from "../agronomy/stage-points.ts"
import type { Stage } from "../garden/acts.ts"
import { type Day, daysBetween } from "../values/day.ts"
import type { Seen } from "./stage-estimates.ts"

/** Reports that are no sign of life. */
export const NOT_ALIVE: readonly Stage[] = ["not-up", "no-bloom", "frost-killed", "no-regrowth", "broken-down"]

/** What reports up to the end of day `on` say of a sowing's stages, in days after sowing. Later reports count before earlier ones. */
export function seenStages(observed: readonly Seen[], sown: Day, on: Day): SeenStages {
  const of = (...what: Stage[]) =>
    observed
      .filter((one) => what.includes(one.what) && one.on >= sown && one.on <= on)
      .map((one) => daysBetween(sown, one.on))
  const first = (days: number[]) => (days.length > 0 ? Math.min(...days) : null)
  const last = (days: number[]) => (days.length > 0 ? Math.max(...days) : null)
  const flower = first(of("bloom"))
  const grown = first(of("flag-leaf", "boot", "heading", "bloom", "full-bloom", "seed"))
  const up = first(of("up", "patchy"))
  const notUp = last(of("not-up"))
  const grass = (["heading", "boot", "flag-leaf"] as const).flatMap((what) => {
    const at = last(of(what))
    return at === null ? [] : [{ stage: what === "flag-leaf" ? ("leaf" as const) : what, at }]
  })[0]
  const noFlower = last(of("no-bloom"))
  const flowerBy = first(of("full-bloom", "seed", "seed-drop"))
  return {
    up: up !== null && (notUp === null || up > notUp) ? up : null,
    notUp: up === null && grown === null ? notUp : null,
    grass: grass ?? null,
    flower,
    noFlower: flower === null && flowerBy === null ? noFlower : null,
    flowerBy: flower === null ? flowerBy : null,
  }
}
