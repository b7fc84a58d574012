import type { Stage } from "../garden/acts.ts"
import { type Figure, middle } from "../handbook/figure.ts"
import { addDays, type Day } from "../values/day.ts"
import { type Range, rangeOf, seenOn, shiftRange } from "../values/range.ts"
import { seasonOf } from "./sowing-season.ts"
import type { EstimateInput, Seen, StageEstimates } from "./stage-estimates.ts"

/** Days by which the last leaf and the boot come before the ear: for a species of which no more is known. */
const LEAF_BEFORE_EAR_DAYS = 14
const BOOT_BEFORE_EAR_DAYS = 7

/** Stages from the published days after sowing alone, for a species whose development is not in the handbook. */
export function plainStages(input: EstimateInput): StageEstimates {
  const { species, sown, on } = input
  const observed = input.observed.filter((one) => one.on <= on)
  const up = seen(observed, "up")
  const emergence = up ? seenOn(up, "You saw it come up.") : after(sown, species.germination.emergence_days)
  const season = seasonOf(sown, input.weather.lat)
  const figureOf = (stage: "heading" | "first-flower") => {
    const all = species.flowering.filter((one) => one.stage === stage && one.days)
    return (all.find((one) => one.sown === season || one.sown === "any") ?? all[0])?.days
  }
  const headingDays = figureOf("heading")
  const flowerDays = figureOf("first-flower")
  const bloom = seen(observed, "bloom")
  const never = species.flowering.find((one) => one.sown === season && !one.comes)
  const noBloom = never && !bloom ? (never.note ?? "Sown at this time of year it does not flower.") : null
  const heading = headingDays && !noBloom ? after(sown, headingDays) : null
  const firstFlower = noBloom
    ? null
    : bloom
      ? seenOn(bloom, "You saw the first bloom.")
      : flowerDays
        ? after(sown, flowerDays)
        : heading
  const { low, high } = species.viableSeed_days
  const viableSeed = firstFlower
    ? rangeOf(
        addDays(firstFlower.early, low),
        addDays(firstFlower.likely, Math.round(middle(species.viableSeed_days))),
        addDays(firstFlower.late, high),
        `${low} to ${high} days after the first flower.`,
      )
    : null
  return {
    emergence,
    flagLeaf: heading && shiftRange(heading, -LEAF_BEFORE_EAR_DAYS),
    boot: heading && shiftRange(heading, -BOOT_BEFORE_EAR_DAYS),
    heading,
    firstFlower,
    viableSeed,
    noBloom,
    ripens: 1,
    frostKill: {
      temperature_c: { low: species.winterKill_c.low, high: species.winterKill_c.high },
      chance: 0,
      when: null,
    },
    worth: { boot: 0, bloom: 0 },
    ask: { boot: null, bloom: null },
  }
}

function seen(observed: readonly Seen[], what: Stage): Day | undefined {
  return observed.find((one) => one.what === what)?.on
}

function after(sown: Day, days: Figure): Range {
  return rangeOf(
    addDays(sown, Math.round(days.low)),
    addDays(sown, Math.round(middle(days))),
    addDays(sown, Math.round(days.high)),
    `${days.low} to ${days.high} days from sowing.`,
  )
}
