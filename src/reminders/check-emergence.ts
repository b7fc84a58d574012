import type { Stage } from "../garden/acts.ts"
import type { Fact } from "../garden/facts.ts"
import { addDays, daysBetween, later } from "../values/day.ts"
import { showDay, showRange } from "./dates.ts"
import { emergenceOf } from "./emergence-range.ts"
import { bedOfScene, factsSince, type Kind } from "./kind.ts"
import { TIMING } from "./timing.ts"

/** Whatever is seen of a plant that stands settles whether it came up. */
const NOT_STANDING: readonly Stage[] = ["not-up", "frost-killed", "broken-down"]

/** Is it up? Asked when the last seedlings should show; "not yet" asks again, anything seen settles it. */
export const checkEmergence: Kind = {
  drafts(scene) {
    const { sowing } = scene
    const emergence = emergenceOf(sowing)
    if (sowing.sown === null || emergence === null || sowing.endedOn !== null) return []
    const opens = later(emergence.late, sowing.sown)
    const until = sowing.resowBy ?? opens
    const lapses = later(until, addDays(opens, TIMING.emergenceOpen))
    const bed = bedOfScene(scene)
    const notUp = factsSince(scene, sowing.sown)
      .filter((fact) => fact.fact === "observed" && fact.what === "not-up")
      .at(-1)
    return [
      {
        ordinal: 1,
        opens,
        lapses,
        since: sowing.sown,
        days: { early: emergence.early, late: emergence.late },
        notYet: notUp ? { until: later(addDays(notUp.on, TIMING.notUpYet), opens), seq: notUp.seq } : null,
        calls: [
          {
            call: 1,
            role: "first",
            on: opens,
            about: "late",
            urgency: 50,
            pressing: false,
            say(day) {
              const range = showRange(emergence.early, emergence.late, day)
              const time =
                daysBetween(day, until) > 2 ? ` There is time to resow till about ${showDay(until, day)}.` : ""
              return {
                text: `${bed} should be showing green by now (${range}). Have a look when you pass.${time}`,
                short: `${bed}: is it showing green by now (${range})?`,
                title: `see whether ${bed} is up`,
                words: ["UP", "PATCHY", "NOT YET"],
              }
            },
          },
        ],
      },
    ]
  },
  settles: stands,
}

/** Does this say that the stand came up, whole or in part? */
export function stands(fact: Fact): boolean {
  if (fact.fact === "observed") return !NOT_STANDING.includes(fact.what)
  return fact.fact === "cut"
}
