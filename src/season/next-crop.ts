import { nearestYearly } from "../agronomy/frost-dates.ts"
import { type End, type Ground, warmFrom } from "../agronomy/soil-warmth.ts"
import type { Crop } from "../handbook/crop.ts"
import { middle } from "../handbook/figure.ts"
import { addDays, type Day, later } from "../values/day.ts"
import { type Range, rangeOf } from "../values/range.ts"
import type { Rest } from "./rest.ts"
import type { Setting } from "./setting.ts"
import { factsOf, type Stand } from "./stand.ts"
import { cropWord, dayWords, sentence, warmth } from "./words.ts"

/** The crop that is to follow and the day it is wanted, from what the gardener last said or the garden file. */
export type Wish = { crop: string; found: Crop | null; wanted: Day | null }

/** What is to follow a sowing; null where nobody said. A wish without a crop is for plants in general. */
export function wishOf(stand: Stand, setting: Setting): Wish | null {
  const said = factsOf(stand, "want").at(-1)
  const file = stand.record.sowing.next
  const crop = said?.crop ?? file?.crop ?? (said ? "plants" : null)
  if (crop === null) return null
  return { crop, found: setting.handbook.crops.get(crop) ?? null, wanted: said?.on ?? file?.wanted ?? null }
}

/** When a bed that has rested is ready for a crop: rest, soil warmth and frost, whichever comes last. */
export function readyFor(crop: Crop | null, rest: Rest, ground: Ground, stand: Stand, setting: Setting): Range {
  const rested = crop?.start === "small-seed" ? rest.smallSeed : rest.transplants
  if (!crop) return rested
  const least = middle(crop.minSoil_c)
  const under = rest.then === "leave" && !rest.winterKilled ? setting.residue.soil.underMulch_c : 0
  const spread = setting.frosts.spread_days
  const frostFree = {
    early: stand.bed.kind === "greenhouse" ? rested.early : outFrom(crop, rested.early, -spread, setting),
    likely: stand.bed.kind === "greenhouse" ? rested.likely : outFrom(crop, rested.likely, 0, setting),
    late: stand.bed.kind === "greenhouse" ? rested.late : outFrom(crop, rested.late, spread, setting),
  }
  const warm = (end: End) => warmFrom(ground, frostFree[end], least - under, end) ?? frostFree[end]
  const likely = warm("likely")
  const name = sentence(cropWord(setting.handbook, crop.id))
  const why =
    likely === rested.likely
      ? rested.why
      : likely === frostFree.likely
        ? `${name} goes out from about ${dayWords(likely)} here, by the usual frosts.`
        : `${name} wants soil of ${warmth(least, setting.garden.place.units)}, which comes about ${dayWords(likely)}.`
  return rangeOf(warm("early"), likely, warm("late"), why)
}

/**
 * The first day from `from` on that a crop can stand out of doors: at once where frost does not kill it; else between its
 * usual weeks about the last spring frost (moved by `shift` days) and the first autumn frost.
 */
function outFrom(crop: Crop, from: Day, shift: number, setting: Setting): Day {
  const { last, first } = setting.frosts
  if (!crop.tender || last === null) return from
  const weeks = crop.weeksFromLastFrost?.low ?? 0
  const near = nearestYearly(last, from)
  for (const year of [-365, 0, 365]) {
    const spring = nearestYearly(last, addDays(near, year))
    const opens = addDays(spring, Math.round(weeks * 7) + shift)
    const closes = first === null ? addDays(spring, 364) : nearestYearly(first, addDays(spring, 160))
    if (from <= closes) return later(from, opens)
  }
  return from
}

/** The day that a crop is wanted: as said, else its usual time in this place, else as soon as the bed is ready. */
export function wantedDay(wish: Wish, ready: Range, setting: Setting): Day {
  if (wish.wanted) return wish.wanted
  const weeks = wish.found?.weeksFromLastFrost
  if (!weeks || setting.frosts.last === null) return ready.likely
  const usual = addDays(nearestYearly(setting.frosts.last, ready.likely), Math.round(weeks.low * 7))
  return later(usual, ready.likely)
}
