import type { KnownWeather } from "../agronomy/weather-series.ts"
import type { Stage } from "../garden/acts.ts"
import type { BedKind } from "../garden/garden.ts"
import type { Development } from "../handbook/development.ts"
import { type Figure, middle } from "../handbook/figure.ts"
import type { Season, Species } from "../handbook/species.ts"
import { addDays, type Day, dayOfYear } from "../values/day.ts"
import { type Range, rangeOf, seenOn } from "../values/range.ts"
import type { Learned } from "./learned.ts"

/** A stage that a gardener saw, or looked for and did not see (`not-up`, `no-bloom`). */
export type Seen = { what: Stage; on: Day }

export type EstimateInput = {
  species: Species
  /** Fitted or published parameters of the species' development; undefined: reckoned from the species' own figures. */
  development: Development | undefined
  /** The day it was sown, or is planned for. */
  sown: Day
  /** The program stands at the end of this day. */
  on: Day
  weather: KnownWeather
  bed: BedKind
  observed: readonly Seen[]
  /** What the garden's own past seasons taught. */
  learned?: Learned
}

/** Days on which an answer is worth asking for. */
export type AskDays = { opens: Day; lapses: Day }

export type StageEstimates = {
  emergence: Range
  /** Grasses only: last leaf fully out. */
  flagLeaf: Range | null
  boot: Range | null
  heading: Range | null
  firstFlower: Range | null
  viableSeed: Range | null
  /** Why no flower is expected in this growing season; null where one is. */
  noBloom: string | null
  frostKill: { temperature_c: { low: number; high: number }; chance: number; when: Range | null }
  /** Days by which the range of the first flower (`boot`) or of viable seed (`bloom`) is expected to narrow by a report. */
  worth: { boot: number; bloom: number }
  /** When to ask for the last leaf or the boot, and for the first bloom; null where the answer is known or of no use. */
  ask: { boot: AskDays | null; bloom: AskDays | null }
}

/** When each stage of a sowing comes, as known at the end of day `on`. */
export function estimateStages(input: EstimateInput): StageEstimates {
  const { species, sown, observed } = input
  const up = seen(observed, "up")
  const emergence = up ? seenOn(up, "You saw it come up.") : after(sown, species.germination.emergence_days, "days")
  const season = seasonOf(sown, input.weather.lat)
  const flowering = species.flowering.filter((one) => one.sown === season || one.sown === "any")
  const never = flowering.find((one) => !one.comes)
  const days = (stage: "heading" | "first-flower") =>
    (
      flowering.find((one) => one.stage === stage && one.days) ??
      species.flowering.find((one) => one.stage === stage && one.days)
    )?.days
  const headingDays = days("heading")
  const flowerDays = days("first-flower")
  const bloom = seen(observed, "bloom")
  const heading = headingDays ? after(sown, headingDays, "days from sowing") : null
  const firstFlower = bloom
    ? seenOn(bloom, "You saw the first bloom.")
    : flowerDays
      ? after(sown, flowerDays, "days from sowing")
      : heading
  const viableSeed = firstFlower
    ? rangeOf(
        addDays(firstFlower.early, species.viableSeed_days.low),
        addDays(firstFlower.likely, Math.round(middle(species.viableSeed_days))),
        addDays(firstFlower.late, species.viableSeed_days.high),
        `${species.viableSeed_days.low} to ${species.viableSeed_days.high} days after the first flower.`,
      )
    : null
  const noBloom = never ? (never.note ?? "Sown at this time of year it does not flower.") : null
  return {
    emergence,
    flagLeaf: heading
      ? {
          ...heading,
          early: addDays(heading.early, -14),
          likely: addDays(heading.likely, -14),
          late: addDays(heading.late, -14),
        }
      : null,
    boot: heading
      ? {
          ...heading,
          early: addDays(heading.early, -7),
          likely: addDays(heading.likely, -7),
          late: addDays(heading.late, -7),
        }
      : null,
    heading: noBloom ? null : heading,
    firstFlower: noBloom ? null : firstFlower,
    viableSeed: noBloom ? null : viableSeed,
    noBloom,
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

function after(sown: Day, days: Figure, why: string): Range {
  return rangeOf(
    addDays(sown, Math.round(days.low)),
    addDays(sown, Math.round(middle(days))),
    addDays(sown, Math.round(days.high)),
    `${days.low} to ${days.high} ${why}.`,
  )
}

/** The season of sowing as the tables of the trade group it, from the day of the year; half a year on in the south. */
export function seasonOf(sown: Day, lat: number): Season {
  const day = ((dayOfYear(sown) + (lat < 0 ? 182 : 0) - 1) % 365) + 1
  if (day < 15 || day > 258) return "autumn"
  if (day < 152) return "spring"
  return day < 202 ? "summer" : "late-summer"
}
