import type { SowingRecord } from "../garden/facts.ts"
import { addDays, type Day, later } from "../values/day.ts"
import { seedLimit } from "./member-stages.ts"
import type { Wish } from "./next-crop.ts"
import type { Parts } from "./parts.ts"
import type { Setting } from "./setting.ts"
import { alive, factsOf, type Stand } from "./stand.ts"
import { frostKillDay } from "./winter.ts"

/** When a sowing was over; `planted`: the next crop stands in its place. */
export type Ending = { on: Day | null; planted: boolean }

/** A winter-killed cover lies for so long before its bed counts as given up. */
const WINTER_DAYS = 120
/** A crop that was wanted is waited for a month beyond its day. */
const WISH_DAYS = 30

/** When a sowing was over: planted, followed by the next one, never sown, or given up with nothing heard for long. */
export function endingOf(
  stand: Stand,
  records: readonly SowingRecord[],
  sowBy: Day | null,
  parts: Parts,
  wish: Wish | null,
  setting: Setting,
): Ending {
  const { on, cutting } = setting
  const follower = records.find(
    (other) => other !== stand.record && other.sown !== null && other.sown <= on && other.sown > stand.from,
  )
  const planted = factsOf(stand, "planted").at(-1)
  if (planted) return { on: planted.on, planted: follower === undefined }
  if (follower) return { on: follower.sown, planted: false }
  const given = (d: Day, days: number) => (on > addDays(d, days) ? addDays(d, days) : null)
  if (!stand.sown) return { on: sowBy === null ? null : given(sowBy, cutting.planned.giveUp_days), planted: false }
  const days = [
    ...stand.facts.flatMap((fact) => (fact.fact === "want" ? [] : [fact.on])),
    ...parts.standing.map((member) => seedLimit(member, cutting)?.by ?? addDays(stand.from, 365)),
    ...[...parts.dying, ...parts.dead].map((member) =>
      addDays(frostKillDay(member, setting) ?? stand.from, WINTER_DAYS),
    ),
    ...(wish?.wanted && alive(stand).length + parts.dead.length > 0 ? [addDays(wish.wanted, WISH_DAYS)] : []),
  ]
  return { on: given(days.reduce<Day>(later, stand.from), cutting.giveUp_days.value), planted: false }
}
