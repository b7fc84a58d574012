import type { CutWindow } from "../season/bed-plan.ts"
import { addDays, type Day, daysBetween } from "../values/day.ts"
import { againWords, firstWords, lastWords, pastWords } from "./cut-words.ts"
import { type Call, type Draft, factsSince, type Kind, type Scene } from "./kind.ts"
import { TIMING } from "./timing.ts"

/**
 * Cut: speaks when the window opens, near the middle of a long one, two days before the limit and once after it; from
 * then on only the weekly mail carries it. The plan decides what counts as cut: a part of a mix does not.
 */
export const cut: Kind = {
  drafts(scene) {
    const { sowing } = scene
    if (sowing.cut) return [openDraft(scene, sowing.cut)]
    return sowing.wasCut ? [doneDraft(scene, sowing.wasCut.on)] : []
  },
  settles: () => false,
}

function openDraft(scene: Scene, window: CutWindow): Draft {
  const { from, best, by } = window
  const calls: Call[] = [
    {
      call: 1,
      role: "first",
      on: from,
      about: "from",
      urgency: 70,
      pressing: false,
      say: (day) => firstWords(scene, window, day),
    },
  ]
  const length = daysBetween(from, by)
  if (length > TIMING.middleCallFrom && !isWatched(scene, from))
    calls.push({
      call: 2,
      role: "middle",
      on: addDays(from, Math.round(length / 2)),
      about: "by",
      urgency: 68,
      pressing: false,
      say: (day) => againWords(scene, window, day),
    })
  const last = addDays(by, -TIMING.lastCallBefore)
  if (last > from)
    calls.push({
      call: 3,
      role: "last",
      on: last,
      about: "by",
      urgency: 90,
      pressing: true,
      say: (day) => lastWords(scene, window, day),
    })
  calls.push({
    call: 4,
    role: "after",
    on: addDays(by, TIMING.afterLimit),
    about: "by",
    urgency: 80,
    pressing: false,
    say: (day) => pastWords(scene, window, day),
  })
  return {
    ordinal: window.ordinal,
    opens: from,
    lapses: addDays(by, TIMING.cutStaysOpen),
    since: from,
    days: { from, best, by },
    calls,
  }
}

/** A bed of which something was reported about the time its window opened needs no call in the middle. */
function isWatched(scene: Scene, from: Day): boolean {
  return factsSince(scene, addDays(from, -TIMING.watchedSince)).some((fact) => fact.fact === "observed")
}

function doneDraft(scene: Scene, on: Day): Draft {
  return { ordinal: cutsDone(scene), opens: on, lapses: on, since: on, days: {}, calls: [], settledOn: on }
}

/** How many times the sowing was cut: the days of its cuts, at least one. */
export function cutsDone(scene: Scene): number {
  const days = (scene.record?.facts ?? []).filter((fact) => fact.fact === "cut").map((fact) => fact.on)
  return Math.max(1, new Set(days).size)
}
