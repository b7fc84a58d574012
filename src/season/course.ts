import type { Ground } from "../agronomy/soil-warmth.ts"
import type { SowingRecord } from "../garden/facts.ts"
import type { Bed } from "../garden/garden.ts"
import { addDays, type Day, daysBetween } from "../values/day.ts"
import { nextOf, outlookOf, restOf } from "./after-cut.ts"
import type { CutWindow, NextPlan } from "./bed-plan.ts"
import { cutWindow } from "./cut-window.ts"
import { type Ending, endingOf } from "./ending.ts"
import { type Wish, wishOf } from "./next-crop.ts"
import { type Parts, partsOf } from "./parts.ts"
import type { Rest } from "./rest.ts"
import type { Setting } from "./setting.ts"
import { type Stand, standOf } from "./stand.ts"
import { groundOfStand } from "./water.ts"
import { cropWord, dayWords } from "./words.ts"

/** One sowing from its day to the next crop: what stands, when it is cut, how long it rests, what follows it. */
export type Course = {
  stand: Stand
  ground: Ground
  wish: Wish | null
  parts: Parts
  ending: Ending
  cut: CutWindow | null
  rest: Rest | null
  next: NextPlan | null
}

/** How a sowing runs on from the day it is, or would be, sown. `sowBy`: until when what is planned waits to be sown. */
export function courseOf(
  record: SowingRecord,
  records: readonly SowingRecord[],
  bed: Bed,
  from: Day,
  sowBy: Day | null,
  setting: Setting,
): Course {
  const stand = standOf(record, bed, from, setting)
  const ground = groundOfStand(stand, setting)
  const wish = wishOf(stand, setting)
  const parts = partsOf(stand, wish?.wanted ?? null, setting)
  const ending = endingOf(stand, records, sowBy, parts, wish, setting)
  const outlook = outlookOf(stand, parts, wish, ground, setting)
  const cut = ending.on === null ? cutWindow(stand, parts.standing, outlook, setting) : null
  const rest = restOf(stand, parts, cut, ground, setting)
  const next = rest && wish ? nextOf(stand, parts, cut, rest, wish, ground, setting) : null
  return { stand, ground, wish, parts, ending, cut, rest, next }
}

/**
 * A sowing window that also leaves time for the crop wanted after the cover: its last day is the last one from which the
 * bed is ready by then, in the usual weather of the place. Where not even the first day is soon enough the window stays, and the plan tells the ways out.
 */
export function inTimeForCrop<W extends { from: Day; by: Day; why: string }>(
  window: W,
  sownOn: (day: Day) => Pick<Course, "wish" | "next">,
  setting: Setting,
): W {
  const fits = (day: Day) => sownOn(day).next?.fits ?? true
  const { wish } = sownOn(window.from)
  if (!wish?.wanted || fits(window.by) || !fits(window.from)) return window
  let good = window.from
  let late = window.by
  while (daysBetween(good, late) > 1) {
    const middle = addDays(good, Math.floor(daysBetween(good, late) / 2))
    if (fits(middle)) good = middle
    else late = middle
  }
  const crop = cropWord(setting.handbook, wish.crop)
  return { ...window, by: good, why: `Sown later, the bed would not be ready for ${crop} on ${dayWords(wish.wanted)}.` }
}
