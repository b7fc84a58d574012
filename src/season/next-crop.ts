import { nearestYearly } from "../agronomy/frost-dates.ts"
import { type Ground, warmFrom } from "../agronomy/soil-warmth.ts"
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
  const warm = {
    early: warmFrom(ground, rested.early, least - under, "early") ?? rested.early,
    likely: warmFrom(ground, rested.likely, least - under, "likely") ?? rested.likely,
    late: warmFrom(ground, rested.late, least - under, "late") ?? rested.late,
  }
  const last = crop.tender && stand.bed.kind !== "greenhouse" ? setting.frosts.last : null
  const frost = last === null ? null : nearestYearly(last, rested.likely)
  const spread = setting.frosts.spread_days
  const early = frost === null ? warm.early : later(warm.early, addDays(frost, -spread))
  const likely = frost === null ? warm.likely : later(warm.likely, frost)
  const late = frost === null ? warm.late : later(warm.late, addDays(frost, spread))
  const why =
    likely === rested.likely
      ? rested.why
      : likely === warm.likely
        ? `${sentence(cropWord(setting.handbook, crop.id))} wants soil of ${warmth(least, setting.garden.place.units)}, which comes about ${dayWords(likely)}.`
        : `${sentence(cropWord(setting.handbook, crop.id))} dies of frost, and the last one usually comes about ${dayWords(likely)}.`
  return rangeOf(early, likely, late, why)
}

/** The day that a crop is wanted: as said, else its usual time in this place, else as soon as the bed is ready. */
export function wantedDay(wish: Wish, ready: Range, setting: Setting): Day {
  if (wish.wanted) return wish.wanted
  const weeks = wish.found?.weeksFromLastFrost
  if (!weeks || setting.frosts.last === null) return ready.likely
  const usual = addDays(nearestYearly(setting.frosts.last, ready.likely), Math.round(weeks.low * 7))
  return later(usual, ready.likely)
}
