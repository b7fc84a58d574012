import type { Development, DevelopmentClock } from "../handbook/development.ts"
import { middle } from "../handbook/figure.ts"
import {
  type ClockNumbers,
  daysNeeded,
  membersOf,
  type PlaceNumbers,
  placeNumbers,
  progressOf,
  reaches,
  sumAt,
} from "./development-clock.ts"
import type { Course, Outlook } from "./ensemble.ts"
import { daysToLongestDay, daysToNewYear } from "./next-day.ts"
import { type Moments, momentsOver, normalGrid, spreadFactors } from "./spread.ts"
import type { Warmth } from "./weather-tape.ts"

/** Days after sowing that are looked at: an autumn sowing flowers, and a clover of spring in its second year. */
export const SPAN_DAYS = 480

/** What was seen of the stages, in days after the day of sowing; the last of what was said. */
export type SeenStages = {
  up: number | null
  /** Looked and not up: emergence lies after that day. */
  notUp: number | null
  /** The latest stage of a grass that was seen, before flower. */
  grass: { stage: "leaf" | "boot" | "heading"; at: number } | null
  flower: number | null
  /** Looked and no bloom: first flower lies after that day. */
  noFlower: number | null
  /** Full bloom or seed was seen: first flower lies no later. */
  flowerBy: number | null
}

/** Shift and narrowing that the garden's own past teaches. */
export type OwnLean = { shift_days: number; narrower: number }

export type StagePoints = {
  emergence: Moments
  leaf: Moments | null
  boot: Moments | null
  heading: Moments | null
  flower: Moments
  seed: Moments
  /** Share of the ways that received enough cold to flower; 1 where none is needed. */
  cooled: number
  /** Share of the stands that frost leaves alive until they flower. */
  alive: number
  /** Share of the stands that live until their first seed can grow. */
  ripe: number
  /** What was seen lies outside what was reckoned: the range rests on the report alone. */
  outside: boolean
}

/** How much of a stand is alive at a moment, given the weather's course: from `frost-kill.ts`. */
export type Survival = (course: Course, moment: number) => number

const STANDS = normalGrid(9)
const NOISE = normalGrid(5)
const SEEDBEDS = normalGrid(7)
const SEED_GRID = normalGrid(5)

export type StageInput = {
  development: Development
  clock: DevelopmentClock
  outlook: Outlook
  /** Day number of sowing. */
  sown: number
  /** Whether cold must have come before it flowers, days of full cold; null: it need not. */
  coldNeeded: number | null
  warmth: { seedbed: Warmth; air: Warmth }
  seen: SeenStages
  /** First flower to the first seed that can grow, days. */
  seedDays: { low: number; likely: number; high: number }
  lean: OwnLean | null
  survival: Survival
}

/** Distributions of every stage over the courses of the weather, the clock's sets of numbers and the spread of stands. */
export function stagePoints(input: StageInput): StagePoints {
  const { development, clock, outlook, sown } = input
  const place = placeNumbers(outlook, development)
  const grass = clock.grass !== null
  const points: StagePoints = {
    emergence: momentsOver(SPAN_DAYS),
    leaf: grass ? momentsOver(SPAN_DAYS) : null,
    boot: grass ? momentsOver(SPAN_DAYS) : null,
    heading: grass ? momentsOver(SPAN_DAYS) : null,
    flower: momentsOver(SPAN_DAYS),
    seed: momentsOver(SPAN_DAYS),
    cooled: 0,
    alive: 0,
    ripe: 0,
    outside: false,
  }
  const walks = walksOf(clock, outlook, sown)
  const total = walks.reduce((sum, walk) => sum + walk.weight, 0)
  const solstice = daysToLongestDay(sown, outlook.lat)
  const seedDays = spreadFactors(input.seedDays, SEED_GRID)
  for (const { course, numbers, weight } of walks) {
    const span = { first: sown, days: SPAN_DAYS }
    const progress = progressOf(development, clock, numbers, place, outlook, course, span, input.warmth)
    const up = emergenceOf(points, progress.seedbed, input, weight)
    if (input.coldNeeded !== null && progress.cold)
      points.cooled += (weight / total) * Math.min(1, sumAt(progress.cold, solstice) >= input.coldNeeded ? 1 : 0)
    const from =
      clock.from === "sowing" ? 0 : clock.from === "new-year" ? Math.max(up, daysToNewYear(sown, outlook.lat)) : up
    walkStages(points, { input, numbers, place, progress, from, weight, course, seedDays })
  }
  if (input.coldNeeded === null) points.cooled = 1
  const kept = points.flower.total()
  points.alive = kept > 0 ? points.alive / kept : 0
  points.ripe = kept > 0 ? points.ripe / kept : 0
  if (kept < total * 0.02) reportAlone(points, input)
  return points
}

/** So many walks are enough for an early and a late tenth. */
const ENOUGH_WALKS = 20

/**
 * Courses with sets of numbers. Where the weather of the whole span is known every set is walked once; else each course takes
 * the next sets in turn, so that all are used alike.
 */
function walksOf(
  clock: DevelopmentClock,
  outlook: Outlook,
  sown: number,
): { course: Course; numbers: ClockNumbers; weight: number }[] {
  const members = membersOf(clock)
  const [first] = outlook.courses
  const known = outlook.known
  if (first && known && known.first <= sown && known.last >= sown + SPAN_DAYS - 1)
    return members.map((numbers) => ({ course: first, numbers, weight: 1 }))
  const each = Math.min(members.length, Math.ceil(ENOUGH_WALKS / outlook.courses.length))
  return outlook.courses.flatMap((course, i) =>
    Array.from({ length: each }, (_, k) => ({
      course,
      numbers: members[(i * each + k) % members.length]!,
      weight: course.weight / each,
    })),
  )
}

/** Adds emergence along one walk and returns the moment that later stages count from. */
function emergenceOf(points: StagePoints, seedbed: Float64Array, input: StageInput, weight: number): number {
  const { seen, development } = input
  if (seen.up !== null) {
    points.emergence.add(seen.up + 0.5, weight)
    return seen.up + 0.5
  }
  const { sum } = development.emergence
  const sums = spreadFactors({ low: sum.low, likely: middle(sum), high: sum.high }, SEEDBEDS)
  let moments = Array.from(sums, (need) => reaches(seedbed, need))
  const after = seen.notUp === null ? 0 : seen.notUp + 1
  const late = moments.filter((moment) => moment >= after)
  // Later than any reckoned: from tomorrow on, for about as long as it usually takes half the stands.
  if (late.length === 0) {
    const usual = moments.at(-1)! - moments[0]!
    moments = moments.map((_, i) => after + ((i + 0.5) / moments.length) * Math.max(2, usual))
  } else moments = late
  for (const moment of moments) points.emergence.add(moment, weight / moments.length)
  return moments[moments.length >> 1]!
}

type Walk = {
  input: StageInput
  numbers: ClockNumbers
  place: PlaceNumbers
  progress: ReturnType<typeof progressOf>
  from: number
  weight: number
  course: Course
  /** Days from first flower to live seed, evenly over their spread. */
  seedDays: Float64Array
}

function walkStages(points: StagePoints, walk: Walk): void {
  const { input, numbers, progress, from } = walk
  const { clock, seen, lean } = input
  if (seen.flower !== null) {
    const flower = seen.flower + 0.5
    addFlower(points, walk, flower, walk.weight, ripening(walk, flower))
    return
  }
  const narrower = lean?.narrower ?? 1
  const shift = lean?.shift_days ?? 0
  if (seen.grass && numbers.grass && progress.ear && clock.reported) {
    const { log, days } = clock.reported
    const { at, stage } = seen.grass
    const behind = behindOf(input, numbers, stage)
    const start = sumAt(progress.ear, at + 1)
    for (const z of STANDS) {
      const factor = Math.exp(z * log)
      const ahead = (position: number) => reaches(progress.ear!, start + Math.max(0, position - behind) * factor)
      const { heading_days, flower_days } = numbers.grass
      addStages(
        points,
        walk,
        { boot: ahead(bootOf(input, numbers)), heading: ahead(heading_days), flower: ahead(flower_days) },
        days,
        shift * 0.3,
      )
    }
    return
  }
  const need = daysNeeded(numbers.rate, walk.place)
  const start = sumAt(progress.leaves, from)
  const stands = spreadFactors(clock.stands, STANDS)
  for (const stand of stands) {
    const leaf = reaches(progress.leaves, start + need * stand ** narrower)
    if (!numbers.grass || !progress.ear) {
      addStages(points, walk, { flower: leaf }, clock.noise_days * narrower, shift)
      continue
    }
    const begun = sumAt(progress.ear, leaf)
    const ahead = (position: number) => (Number.isFinite(leaf) ? reaches(progress.ear!, begun + position) : leaf)
    addStages(
      points,
      walk,
      {
        leaf,
        boot: ahead(bootOf(input, numbers)),
        heading: ahead(numbers.grass.heading_days),
        flower: ahead(numbers.grass.flower_days),
      },
      clock.noise_days * narrower,
      shift,
    )
  }
}

function bootOf(input: StageInput, numbers: ClockNumbers): number {
  return (input.development.bootShare ?? 0.5) * numbers.grass!.heading_days
}

function behindOf(input: StageInput, numbers: ClockNumbers, stage: "leaf" | "boot" | "heading"): number {
  if (stage === "leaf") return 0
  return stage === "boot" ? bootOf(input, numbers) : numbers.grass!.heading_days
}

type Stages = { leaf?: number; boot?: number; heading?: number; flower: number }

/** Adds the stages of one stand with what noise is left, all stages moved alike, where what was seen allows it. */
function addStages(points: StagePoints, walk: Walk, stages: Stages, noise: number, shift: number): void {
  const { seen } = walk.input
  const least = seen.noFlower === null ? Number.NEGATIVE_INFINITY : seen.noFlower + 1
  const most = seen.flowerBy === null ? Number.POSITIVE_INFINITY : seen.flowerBy + 1
  const share = walk.weight / (STANDS.length * NOISE.length)
  // The noise moves a flower by days: its seed ripens as that of its stand does.
  const ripens = ripening(walk, stages.flower + shift)
  for (const z of NOISE) {
    const off = z * noise + shift
    const flower = stages.flower + off
    // What never flowers on this walk (infinite) is kept unless a flower was seen.
    if (flower < least || (flower >= most && seen.flowerBy !== null)) continue
    if (stages.leaf !== undefined) points.leaf?.add(stages.leaf + off, share)
    if (stages.boot !== undefined) points.boot?.add(stages.boot + off, share)
    if (stages.heading !== undefined) points.heading?.add(stages.heading + off, share)
    addFlower(points, walk, flower, share, ripens)
  }
}

/** Days from a flower to its first live seed, over their spread; infinite where it does not ripen in time. */
function ripening({ seedDays, progress }: Walk, flower: number): Float64Array {
  const begun = sumAt(progress.seed, flower)
  return seedDays.map((days) => (Number.isFinite(flower) ? reaches(progress.seed, begun + days) - flower : flower))
}

function addFlower(points: StagePoints, walk: Walk, flower: number, share: number, ripens: Float64Array): void {
  const { course, input } = walk
  points.flower.add(flower, share)
  points.alive += share * (Number.isFinite(flower) ? input.survival(course, flower) : 1)
  const each = share / ripens.length
  for (const days of ripens) {
    const ripe = flower + days
    points.seed.add(ripe, each)
    if (Number.isFinite(ripe)) points.ripe += each * input.survival(course, ripe)
  }
}

/** Nothing that was reckoned agrees with what was seen: the report alone gives a wide range after (or before) it. */
function reportAlone(points: StagePoints, input: StageInput): void {
  const { noFlower, flowerBy } = input.seen
  points.outside = true
  const from = noFlower !== null ? noFlower + 1 : Math.max(0, (flowerBy ?? 0) - 14)
  const until = flowerBy !== null ? flowerBy + 1 : from + 21
  points.flower = momentsOver(SPAN_DAYS)
  points.seed = momentsOver(SPAN_DAYS)
  for (let i = 0; i < 21; i += 1) {
    const flower = from + ((i + 0.5) / 21) * (until - from)
    points.flower.add(flower, 1)
    for (const days of spreadFactors(input.seedDays, SEED_GRID)) points.seed.add(flower + days, 1 / SEED_GRID.length)
  }
  for (const stage of ["leaf", "boot", "heading"] as const) if (points[stage]?.total() === 0) points[stage] = null
  points.alive = 1
  points.ripe = 1
}
