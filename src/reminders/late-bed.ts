import type { NextPlan, WayOut } from "../season/bed-plan.ts"
import { addDays, type Day, daysBetween, later } from "../values/day.ts"
import { localDay } from "../values/zone.ts"
import { showDay, showRange } from "./dates.ts"
import { bedOfScene, type Call, type Draft, type Said, type Scene } from "./kind.ts"
import { cropName } from "./names.ts"
import { TIMING } from "./timing.ts"

/** A warning that the bed will not be ready when it is wanted; the end of the rest itself is the first of its kind. */
const ORDINAL = 2

/**
 * The bed will not be ready for the crop on the day it is wanted: told on the day that this becomes visible, with the ways
 * out that are still open, each with its days and what it costs. What is not sown yet, and what was wanted anew (the answer
 * to that told it), stands in the weekly mail alone.
 */
export function lateBed(scene: Scene): Draft[] {
  const { sowing, on } = scene
  const { next } = sowing
  if (next === null || next.fits || sowing.endedOn !== null || next.wanted <= on) return []
  if (daysBetween(next.wanted, next.ready.likely) < TIMING.lateWorthTelling) return []
  const said = scene.history.reminders.get(`${sowing.sowing}:rest-over:${ORDINAL}`)?.said[0]
  const opens = said ? localDay(said.at, scene.garden.place.zone) : on
  const wantedAnew = (scene.record?.facts ?? []).some((fact) => fact.fact === "want")
  const call: Call = {
    call: 1,
    role: "first",
    on: opens,
    about: "ready",
    urgency: 42,
    pressing: false,
    say: (day) => words(scene, next, day),
  }
  return [
    {
      ordinal: ORDINAL,
      opens,
      lapses: later(opens, addDays(next.wanted, -1)),
      since: next.wanted,
      days: { ready: next.ready.likely, wanted: next.wanted },
      mailOnly: sowing.sown === null || wantedAnew,
      calls: [call],
    },
  ]
}

/** What a text of one segment holds beside its reply word. */
const ROOM = 124

function words(scene: Scene, next: NextPlan, day: Day): Said {
  const bed = bedOfScene(scene)
  const crop = cropName(scene.handbook, next.crop)
  const { early, likely, late } = next.ready
  const ready = early < late ? showRange(early, late, day) : `about ${showDay(likely, day)}`
  const short = `${bed} will be late for ${crop}, ready ${ready}.`
  const dated = `${bed} will be late for ${crop} (${showDay(next.wanted, day)}), ready ${ready}.`
  const way = wayToTell(next)
  const out = way ? ` Way out: ${way.way}, ready about ${showDay(way.ready.likely, day)}` : ""
  const texts = way ? [`${dated}${out} (${cost(way)}).`, `${dated}${out}.`, `${short}${out}.`] : [dated]
  return {
    text: texts.find((text) => text.length <= ROOM) ?? (texts[0] as string),
    short,
    title: `see how ${bed} can be ready for ${crop}`,
    words: ["WHY"],
  }
}

/** Of the ways that are in time the one that gives up least, else the soonest; planting later is what comes by itself. */
function wayToTell({ ways, wanted }: NextPlan): WayOut | undefined {
  const real = ways.filter(({ way }) => !/^plant /.test(way))
  return real.findLast(({ ready }) => ready.likely <= wanted) ?? real[0]
}

/** The cost in its first few words: a page and the weekly mail have room for all of them. */
function cost(way: WayOut): string {
  return way.cost.split(/[:;,]/)[0] as string
}
