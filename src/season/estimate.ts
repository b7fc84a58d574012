import { placeNumbers } from "../agronomy/development-clock.ts"
import { type Outlook, prepareWeather } from "../agronomy/ensemble.ts"
import { type Frost, type FrostKillInput, frostOn } from "../agronomy/frost-kill.ts"
import { nextDay } from "../agronomy/next-day.ts"
import type { Moments } from "../agronomy/spread.ts"
import { SPAN_DAYS, type StagePoints, stagePoints } from "../agronomy/stage-points.ts"
import { OPEN_GROUND, type Warmth } from "../agronomy/weather-tape.ts"
import type { Stage } from "../garden/acts.ts"
import type { BedKind } from "../garden/garden.ts"
import type { Development, DevelopmentClock } from "../handbook/development.ts"
import { middle } from "../handbook/figure.ts"
import type { Season, Species } from "../handbook/species.ts"
import { addDays, type Day, dayFromNumber, dayNumber } from "../values/day.ts"
import { type Range, rangeOf, seenOn } from "../values/range.ts"
import { askDays, worthOf } from "./ask-worth.ts"
import { emergenceWhy, flowerWhy } from "./estimate-why.ts"
import { learnedKey } from "./learned.ts"
import { plainStages } from "./plain-stages.ts"
import { NOT_ALIVE, seenStages } from "./seen-stages.ts"
import { seasonOf } from "./sowing-season.ts"
import type { EstimateInput, Seen, StageEstimates } from "./stage-estimates.ts"

/** Fewer stands than this share reach bloom: none is expected. */
const FEW = 0.3

/**
 * When each stage of a sowing comes, as known at the end of day `on`: a pure function, the same for the same input. Early and
 * late are the 10th and 90th percentile over the weather that may come, the numbers that fit alike and the spread of stands.
 */
export function estimateStages(input: EstimateInput): StageEstimates {
  const { species, sown, on, weather, development } = input
  if (!development) return plainStages(input)
  const outlook = prepareWeather(weather, on)
  const season = seasonOf(sown, weather.lat)
  const clock = clockFor(development, season)
  if (!clock) return plainStages(input)
  const start = dayNumber(sown)
  const seen = seenStages(input.observed, sown, on)
  const warmth = warmthOf(development, input.bed)
  const standing: FrostKillInput = {
    outlook,
    killing: species.winterKill_c,
    sown: start,
    from: seen.up ?? Math.round(middle(species.germination.emergence_days)),
    until: SPAN_DAYS - 1,
    survivedOn: lastSeen(input.observed, "survived-frost", start, on),
    warmth: warmth.air,
  }
  const frost = frostOn(standing)
  const lean = input.learned?.get(learnedKey(species.id, season)) ?? null
  const points = stagePoints({
    development,
    clock,
    outlook,
    sown: start,
    coldNeeded: seen.flower === null ? coldNeeded(development, outlook) : null,
    warmth,
    seen,
    seedDays: { ...species.viableSeed_days, likely: middle(species.viableSeed_days) },
    lean,
    survival: frost.survival,
  })
  const noBloom = seen.flower !== null || seen.flowerBy !== null ? null : noBloomWhy(points, species, season)
  const why = flowerWhy({ clock, outlook, sown: start, seen, points, lean, season })
  const range = (moments: Moments | null, reason: string): Range | null =>
    moments && noBloom === null ? rangeFrom(moments, sown, reason) : null
  const emergence = rangeFrom(points.emergence, sown, emergenceWhy(outlook, start, seen)) as Range
  const firstFlower = range(points.flower, why)
  const viableSeed = range(
    points.seed,
    `${species.viableSeed_days.low} to ${species.viableSeed_days.high} days after the first flower; ${lower(why)}`,
  )
  const stages = {
    emergence,
    flagLeaf: range(points.leaf, why),
    boot: range(points.boot, why),
    heading: range(points.heading, why),
    firstFlower,
    viableSeed,
  }
  seeStages(stages, input.observed, sown, on, clock.grass !== null)
  return {
    ...stages,
    noBloom,
    ...(lean && noBloom === null && seen.flower === null ? { learned: lean.why } : {}),
    ripens: points.ripe,
    frostKill: killOf(frost, standing, stages, input),
    worth: worthOf(stages, clock, species),
    ask: askDays(stages, clock, species, input.observed, on),
  }
}

/** A stage that was seen has its day. */
function seeStages(
  stages: Pick<StageEstimates, "flagLeaf" | "boot" | "heading" | "firstFlower">,
  observed: readonly Seen[],
  sown: Day,
  on: Day,
  grass: boolean,
): void {
  for (const [what, key] of [
    ["flag-leaf", "flagLeaf"],
    ["boot", "boot"],
    ["heading", "heading"],
    ["bloom", "firstFlower"],
  ] as const) {
    const day = observed.filter((one) => one.what === what && one.on <= on && one.on >= sown).at(-1)?.on
    if (day && (grass || what === "bloom")) stages[key] = seenOn(day, "You saw it.")
  }
}

function killOf(
  frost: Frost,
  { killing, sown, from }: FrostKillInput,
  stages: { viableSeed: Range | null },
  input: EstimateInput,
) {
  const { on } = input
  const { low, high } = killing
  const { chance, when } = frost.kill(overAt(sown, from, stages, input))
  const day = (moment: number) => addDays(input.sown, Math.floor(moment))
  const died = lastSeen(input.observed, "frost-killed", sown, on)
  if (died !== null) {
    const seen = dayFromNumber(sown + died)
    const why = `You saw on ${seen} that frost had killed it.`
    const alive = input.observed.findLast((one) => one.on <= on && !NOT_ALIVE.includes(one.what))
    const stood = alive ? dayNumber(alive.on) - sown : 0
    // Found dead after the last night that could have done it, it died when the nights were cold.
    const earlier = when !== null && when.late < died && when.early > stood
    return {
      temperature_c: { low, high },
      chance: 1,
      when: earlier ? rangeOf(day(when.early), day(when.likely), day(when.late), why) : seenOn(seen, why),
    }
  }
  return {
    temperature_c: { low, high },
    chance: Math.round(chance * 100) / 100,
    when: when
      ? rangeOf(
          day(when.early),
          day(when.likely),
          day(when.late),
          `Nights of ${high} to ${low} C kill it, by stand; a chance of ${Math.round(chance * 100)} in 100, never a certain date.`,
        )
      : null,
  }
}

/** The day after sowing until which frost may kill it: live seed, but what no cut kills lives on into the first winter. */
function overAt(sown: number, from: number, stages: { viableSeed: Range | null }, input: EstimateInput): number {
  const { species, weather } = input
  const seed = stages.viableSeed ? dayNumber(stages.viableSeed.late) - sown : SPAN_DAYS - 1
  const winter = nextDay(sown, weather.lat < 0 ? "10-01" : "04-01") - sown
  const end = species.cut.killedFrom === "never" && stages.viableSeed ? Math.max(seed, winter) : seed
  return Math.min(SPAN_DAYS - 1, Math.max(from, end))
}

/** Days of cold without which it does not flower here; null where it needs none. */
function coldNeeded(development: Development, outlook: Outlook): number | null {
  if (!development.needsCold) return null
  const days = middle(development.needsCold)
  return development.springTypes ? days * Math.max(0, 1 - placeNumbers(outlook, development).quickness) : days
}

/** Why no bloom is expected, or null. */
function noBloomWhy(points: StagePoints, species: Species, season: Season): string | null {
  if (points.cooled < 0.5)
    return `No bloom expected: ${species.names[0]} sown now does not get the winter cold it needs to flower.`
  const said = species.flowering.find((one) => one.sown === season && !one.comes)
  if (said && points.cooled < 0.9)
    return said.note ?? "No bloom expected: sown at this time of year it does not flower."
  if (points.flower.beyond() > 0.5 * points.flower.total())
    return `No bloom expected within ${Math.round(SPAN_DAYS / 30)} months of sowing.`
  if (points.alive < FEW) return "No bloom expected: frost usually kills it before it can flower."
  return null
}

/** Days of the 10th, 50th and 90th percentile of a distribution that counts from the day of sowing. */
function rangeFrom(moments: Moments, sown: Day, why: string): Range | null {
  if (moments.total() <= 0) return null
  const day = (p: number) => addDays(sown, Math.floor(moments.quantile(p)))
  return rangeOf(day(0.1), day(0.5), day(0.9), why)
}

/** The clock of a season of sowing. */
function clockFor(development: Development, season: Season): DevelopmentClock | null {
  return development.clocks.find((clock) => clock.sown === "any" || clock.sown.includes(season)) ?? null
}

function warmthOf(development: Development, bed: BedKind): { seedbed: Warmth; air: Warmth } {
  if (bed === "plot") return { seedbed: OPEN_GROUND, air: OPEN_GROUND }
  if (bed === "greenhouse") return { seedbed: development.beds.greenhouse, air: development.beds.greenhouse }
  return { seedbed: development.beds.raised, air: OPEN_GROUND }
}

/** Days after sowing of the last report of this kind; null where there is none. */
function lastSeen(observed: readonly Seen[], what: Stage, sown: number, on: Day): number | null {
  const days = observed.filter((one) => one.what === what && one.on <= on).map((one) => dayNumber(one.on) - sown)
  return days.length > 0 ? Math.max(...days) : null
}

function lower(text: string): string {
  return text.charAt(0).toLowerCase() + text.slice(1)
}
