import type { Units } from "../garden/garden.ts"
import { showAbout } from "../values/amount.ts"
import { addDays, earlier, later } from "../values/day.ts"
import { cautionPart, sownNotes } from "./cautions.ts"
import { showRange } from "./dates.ts"
import { emergenceOf } from "./emergence-range.ts"
import { bedOfScene, type Kind } from "./kind.ts"
import { bedOf, capital } from "./names.ts"
import { TIMING } from "./timing.ts"

/** Where the seed lies, in the reader's unit. */
const TOP_SOIL: Record<Units, string> = { us: "the top inch", metric: "the top 2-3 cm" }

/** Keep the seed damp: speaks once after sowing, settled by watering or by green. */
export const waterIn: Kind = {
  drafts(scene) {
    const { sowing, garden } = scene
    const emergence = emergenceOf(sowing)
    if (sowing.sown === null || emergence === null || sowing.endedOn !== null) return []
    const opens = sowing.sown
    const lapses = later(opens, earlier(emergence.late, addDays(opens, TIMING.waterIn)))
    const bed = bedOfScene(scene)
    const glass = bedOf(garden, sowing.bed)?.kind === "greenhouse"
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
              const green = `green is likely ${showRange(emergence.early, emergence.late, day)}`
              const amount =
                litres > 0 ? ` ${capital(showAbout(litres, "l", units))} today${glass ? "" : " unless it rains"}.` : ""
              return {
                text: `Keep ${TOP_SOIL[units]} of ${bed} damp: ${green}.${amount}`,
                short: `Keep ${bed} damp: ${green}.`,
                title: litres > 0 ? `water ${bed}, ${showAbout(litres, "l", units)}` : `keep ${bed} damp`,
                words: ["UP"],
                ...cautionPart(sownNotes(scene)),
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
