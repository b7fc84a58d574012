import { addDays, later } from "../values/day.ts"
import { bedOfScene, type Kind } from "./kind.ts"
import { cropName } from "./names.ts"
import { aroundOrNothing } from "./rest-over.ts"
import { resting, restSince } from "./resting.ts"
import { TIMING } from "./timing.ts"

/** Plant the next crop: never before the bed is likely ready, and near the day it was wanted. */
export const plant: Kind = {
  drafts(scene) {
    const { sowing, on } = scene
    if (sowing.next === null || sowing.state === "planned" || sowing.endedOn !== null) return []
    const { ready, wanted, crop } = sowing.next
    const nominal = later(ready.likely, addDays(wanted, -TIMING.plantAhead))
    const opens = resting(scene) ? nominal : later(nominal, addDays(on, 1))
    const bed = bedOfScene(scene)
    const name = cropName(scene.handbook, crop)
    return [
      {
        ordinal: 1,
        opens,
        lapses: later(addDays(opens, TIMING.plantOpen), ready.late),
        since: restSince(sowing, opens),
        days: { early: ready.early, likely: ready.likely, late: ready.late },
        calls: [
          {
            call: 1,
            role: "first",
            on: opens,
            about: "likely",
            urgency: 64,
            pressing: false,
            say(day) {
              const when = aroundOrNothing(ready, day)
              return {
                text: `${bed} looks ready for the ${name}${when}. If the stems crumble, plant away.`,
                short: `${bed} looks ready for the ${name}${when}.`,
                title: `plant the ${name} on ${bed}`,
                words: ["PLANTED", "SNOOZE"],
              }
            },
          },
        ],
      },
    ]
  },
  settles: (fact) => fact.fact === "planted",
}
