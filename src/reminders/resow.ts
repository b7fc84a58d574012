import type { Fact } from "../garden/facts.ts"
import { addDays, type Day, daysBetween, later } from "../values/day.ts"
import { showDay } from "./dates.ts"
import { emergenceOf } from "./emergence-range.ts"
import { bedOfScene, type Call, type Kind, type Said, type Scene } from "./kind.ts"
import { TIMING } from "./timing.ts"

/** Sow the gaps again: opens the day after a poor stand was reported, while there is time for it. */
export const resow: Kind = {
  drafts(scene) {
    const { sowing } = scene
    const poor = poorStand(scene)
    if (!poor || sowing.resowBy === null || sowing.endedOn !== null || sowing.wasCut !== null) return []
    const by = sowing.resowBy
    const opens = addDays(poor.fact.on, 1)
    if (opens > by) return []
    const say = (day: Day) => words(scene, poor.fact.what === "patchy", by, day)
    const calls: Call[] = [{ call: 1, role: "first", on: opens, about: "opens", urgency: 58, pressing: false, say }]
    const last = addDays(by, -TIMING.lastCallBefore)
    if (daysBetween(opens, last) >= TIMING.lastCallBefore)
      calls.push({ call: 2, role: "last", on: last, about: "by", urgency: 72, pressing: false, say })
    return [{ ordinal: poor.resown + 1, opens, lapses: by, since: poor.fact.on, days: { opens, by }, calls }]
  },
  settles: (fact) => fact.fact === "sowed" || (fact.fact === "observed" && fact.what === "up"),
}

/** The last report of a poor stand that nothing has mended since, and how often it was sown again before. */
function poorStand(scene: Scene): { fact: Fact & { fact: "observed" }; resown: number } | null {
  let open: (Fact & { fact: "observed" }) | null = null
  let resown = 0
  const late = emergenceOf(scene.sowing)?.late
  for (const fact of scene.record?.facts ?? []) {
    if (fact.fact === "sowed" && open) {
      open = null
      resown += 1
    }
    if (fact.fact !== "observed") continue
    if (fact.what === "patchy") open = fact
    // Before its range is over, "not up" is no poor stand yet.
    if (fact.what === "not-up" && late && fact.on >= late) open = fact
    if (fact.what === "up" && fact.species === null) open = null
  }
  return open ? { fact: open, resown } : null
}

function words(scene: Scene, patchy: boolean, by: Day, day: Day): Said {
  const bed = bedOfScene(scene)
  const limit = `till about ${showDay(later(by, day), day)}`
  const state = patchy ? "came up patchy" : "is not up yet"
  const what = patchy ? "the gaps" : "it"
  return {
    text: `${bed} ${state}. There is time to sow ${what} again ${limit}. Scatter, rake across, firm, water.`,
    short: `${bed}: time to sow ${what} again ${limit}.`,
    title: `sow ${bed} again by about ${showDay(by, day)}`,
    words: ["SOWED", "SKIP"],
  }
}
