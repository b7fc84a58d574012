import { addDays, earlier, later } from "../values/day.ts"
import { showWater, topSoil } from "./amounts.ts"
import { showRange } from "./dates.ts"
import { emergenceOf } from "./emergence-range.ts"
import { bedOfScene, type Kind } from "./kind.ts"
import { TIMING } from "./timing.ts"

/** Keep the seed damp: speaks once after sowing, settled by watering or by green. */
export const waterIn: Kind = {
  drafts(scene) {
    const { sowing, garden } = scene
    const emergence = emergenceOf(sowing)
    if (sowing.sown === null || emergence === null || sowing.endedOn !== null) return []
    const opens = sowing.sown
    const lapses = later(opens, earlier(emergence.late, addDays(opens, TIMING.waterIn)))
    const bed = bedOfScene(scene)
    const litres = sowing.water?.water_l ?? 0
    const units = garden.place.units
    return [
      {
        ordinal: 1,
        opens,
        lapses,
        since: opens,
        days: { early: emergence.early, late: emergence.late },
        calls: [
          {
            call: 1,
            role: "first",
            on: opens,
            about: "early",
            urgency: 60,
            pressing: false,
            say(day) {
              const green = `green, likely ${showRange(emergence.early, emergence.late, day)}`
              const amount = litres > 0 ? ` Give it ${showWater(litres, units)} today unless it rains.` : ""
              return {
                text: `Keep ${topSoil(units)} of ${bed} damp till you see ${green}.${amount}`,
                short: `${bed}: keep it damp till you see ${green}.`,
                title: litres > 0 ? `water ${bed}, ${showWater(litres, units)}` : `keep ${bed} damp`,
                words: ["UP"],
              }
            },
          },
        ],
      },
    ]
  },
  settles: (fact) =>
    fact.fact === "watered" || (fact.fact === "observed" && (fact.what === "up" || fact.what === "patchy")),
}
