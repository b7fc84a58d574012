import { addDays, type Day, daysBetween, later } from "../values/day.ts"
import type { Range } from "../values/range.ts"
import { showDay, showRange } from "./dates.ts"
import { bedOfScene, type Call, type Draft, type Kind, type Said, type Scene } from "./kind.ts"
import { lateBed } from "./late-bed.ts"
import { resting, restSince } from "./resting.ts"
import { TIMING } from "./timing.ts"

/**
 * The rest between cutting and planting comes to its end. With a crop to follow it asks for a look at the stems as the
 * range begins; without one it says when the bed is ready. Long before, it warns where that will be too late.
 */
export const restOver: Kind = {
  drafts: (scene) => [...endOfRest(scene), ...lateBed(scene)],
  settles: (fact) => fact.fact === "planted" || (fact.fact === "observed" && fact.what === "broken-down"),
}

function endOfRest(scene: Scene): Draft[] {
  const { sowing, on } = scene
  const ready = sowing.next?.ready ?? sowing.rest?.transplants ?? null
  if (!ready || sowing.rest === null || sowing.endedOn !== null || sowing.state === "planned") return []
  // Once planting was spoken of, a look at the stems comes too late, wherever the plan has moved since.
  if (scene.history.reminders.get(`${sowing.sowing}:plant:1`)?.said.length) return []
  const nominal = sowing.next ? ready.early : ready.likely
  const opens = resting(scene) ? nominal : later(nominal, addDays(on, 1))
  const lapses = later(opens, sowing.next ? ready.late : addDays(ready.late, TIMING.restOverOpen))
  const call: Call = {
    call: 1,
    role: "first",
    on: opens,
    about: "likely",
    urgency: 26,
    pressing: false,
    say: (day) => (sowing.next ? lookWords(scene, ready, day) : readyWords(scene, ready, day)),
  }
  const farOff = sowing.next !== null && daysBetween(opens, sowing.next.wanted) > TIMING.lookForPlanting
  return [
    {
      ordinal: 1,
      opens,
      lapses,
      mailOnly: farOff,
      since: restSince(sowing, opens),
      days: { early: ready.early, likely: ready.likely, late: ready.late },
      calls: [call],
    },
  ]
}

function lookWords(scene: Scene, ready: Range, day: Day): Said {
  const bed = bedOfScene(scene)
  const when = around(ready, day)
  return {
    text: `${bed} is resting. Planting looks good around ${when}, once the stems crumble. Have a look when you pass.`,
    short: `${bed} is resting. Planting looks good around ${when}.`,
    title: `see whether the stems on ${bed} crumble`,
    words: ["WHY"],
  }
}

function readyWords(scene: Scene, ready: Range, day: Day): Said {
  const bed = bedOfScene(scene)
  const when = aroundOrNothing(ready, day)
  return {
    text: `${bed} looks rested and ready to plant${when}. If the stems crumble, plant away.`,
    short: `${bed} looks ready to plant${when}.`,
    title: `${bed} is ready to plant`,
    words: ["PLANTED", "SNOOZE"],
  }
}

/** `, around 5 June (30 May-14 June)` while that lies ahead; nothing once it is over. */
export function aroundOrNothing(range: Range, day: Day): string {
  return range.late < day || range.early === range.late ? "" : `, around ${around(range, day)}`
}

/** `5 June (30 May-14 June)`: likely day, with its range. */
export function around(range: Range, day: Day): string {
  if (range.early === range.late) return showDay(range.likely, day)
  return `${showDay(range.likely, day)} (${showRange(range.early, range.late, day)})`
}
