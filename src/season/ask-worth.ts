import { TENTH } from "../agronomy/spread.ts"
import type { DevelopmentClock } from "../handbook/development.ts"
import type { Species } from "../handbook/species.ts"
import { addDays, type Day, daysBetween } from "../values/day.ts"
import { type Range, rangeWidth } from "../values/range.ts"
import type { AskDays, Seen, StageEstimates } from "./stage-estimates.ts"

/** A report that narrows a range by less is not worth a text, and a range this tight needs none. */
const LEAST_WORTH_DAYS = 3
const TIGHT_DAYS = 6
/** Part of the days still to go by which weather alone may shift a stage after the last leaf. */
const WEATHER_PART = 0.1

type Stages = Pick<StageEstimates, "flagLeaf" | "boot" | "heading" | "firstFlower" | "viableSeed">

/** Days by which a report of the last leaf narrows the first flower, and one of the first bloom the first live seed. */
export function worthOf(stages: Stages, clock: DevelopmentClock, species: Species): { boot: number; bloom: number } {
  const { flagLeaf, firstFlower, viableSeed } = stages
  const boot =
    flagLeaf && firstFlower && clock.reported && rangeWidth(flagLeaf) > 0
      ? rangeWidth(firstFlower) - widthAfterLeaf(flagLeaf, firstFlower, clock.reported)
      : 0
  const bloom =
    firstFlower && viableSeed && rangeWidth(firstFlower) > 0
      ? rangeWidth(viableSeed) - (species.viableSeed_days.high - species.viableSeed_days.low)
      : 0
  return { boot: Math.max(0, Math.round(boot)), bloom: Math.max(0, Math.round(bloom)) }
}

function widthAfterLeaf(leaf: Range, flower: Range, reported: { log: number; days: number }): number {
  const ahead = Math.max(1, daysBetween(leaf.likely, flower.likely))
  return 2 * TENTH * Math.hypot(ahead * reported.log, reported.days, ahead * WEATHER_PART)
}

/**
 * The days on which each question is best asked: from when the stage may be there until most stands are past it. None where
 * the answer is known, the range is tight already or would hardly narrow.
 */
export function askDays(
  stages: Stages,
  clock: DevelopmentClock,
  species: Species,
  observed: readonly Seen[],
  on: Day,
): { boot: AskDays | null; bloom: AskDays | null } {
  const worth = worthOf(stages, clock, species)
  const known = new Set(observed.filter((one) => one.on <= on).map((one) => one.what))
  const { flagLeaf, heading, firstFlower } = stages
  const past = (...what: Seen["what"][]) => what.some((one) => known.has(one))
  const bloomed = past("bloom", "full-bloom", "seed", "seed-drop")
  const boot =
    flagLeaf && heading && firstFlower && !bloomed && !past("flag-leaf", "boot", "heading")
      ? worth.boot >= LEAST_WORTH_DAYS && rangeWidth(firstFlower) > TIGHT_DAYS
        ? { opens: midway(flagLeaf.early, flagLeaf.likely), lapses: later(flagLeaf.late, heading.likely) }
        : null
      : null
  const bloom =
    firstFlower && !bloomed && worth.bloom >= LEAST_WORTH_DAYS && rangeWidth(firstFlower) > TIGHT_DAYS
      ? { opens: midway(firstFlower.early, firstFlower.likely), lapses: addDays(firstFlower.late, 3) }
      : null
  return { boot, bloom }
}

function midway(a: Day, b: Day): Day {
  return addDays(a, Math.floor(daysBetween(a, b) / 2))
}

function later(a: Day, b: Day): Day {
  return a >= b ? a : b
}
