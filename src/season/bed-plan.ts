import type { SeedAmount } from "../agronomy/seed-rate.ts"
import type { Then } from "../garden/garden.ts"
import type { Caution } from "../handbook/species.ts"
import type { Day } from "../values/day.ts"
import type { Range } from "../values/range.ts"

export const SOWING_STATES = [
  "planned",
  "sown",
  "up",
  "growing",
  "blooming",
  "cut",
  "resting",
  "ready",
  "planted",
  "ended",
] as const
export type SowingState = (typeof SOWING_STATES)[number]

export type FrostKill = { temperature_c: { low: number; high: number }; chance: number; when: Range | null }

export type SpeciesPlan = {
  id: string
  share: number
  emergence: Range
  heading: Range | null
  firstFlower: Range | null
  viableSeed: Range | null
  frostKill: FrostKill
  /** Why no flower is expected, where that is the answer. */
  noBloom?: string
  /** What the garden's own seasons taught of its flower, where that moved it: one sentence. */
  learned?: string
  /** Known or believed dead before the cut: by frost, or since it never came up. */
  gone?: { how: "frost-killed" | "not-up"; on: Day }
}

export type CutWindow = {
  from: Day
  best: Day
  by: Day
  setBy: { species: string; because: "seed" | "regrowth" | "next-crop" | "frost" }
  why: string
  /** Which cut of this sowing: 1, or 2 and more where green regrowth reopened it. */
  ordinal: number
  /** Species that this cut will not kill. */
  survivors: string[]
  /** The tops must leave the bed: pods may hold seed that can grow. */
  carryOff: boolean
}

export type RestPlan = { transplants: Range; smallSeed: Range; why: string }

export type WayOut = { way: string; ready: Range; cost: string }

export type NextPlan = { crop: string; wanted: Day; fits: boolean; ready: Range; ways: WayOut[]; why: string }

export type NitrogenPlan = { credit_g_per_m2: { low: number; likely: number; high: number }; why: string }

export type WaterPlan = { water_l: number; why: string }

/** A danger to what comes next, with the day it is over where there is one. */
export type Hazard = { what: string; until: Day | null; why: string }

/** A question worth asking, and the days on which its answer is worth most. */
export type AskPlan = { opens: Day; lapses: Day; species: string; why: string }

export type SowingPlan = {
  /** `bed:day`, stable for the life of the sowing. */
  sowing: string
  bed: string
  state: SowingState
  /** The day it was sown, or null while it is planned. */
  sown: Day | null
  planned: Day | null
  then: Then
  species: SpeciesPlan[]
  /** Short sentences worth saying before or when the seed goes in: what no cut kills, a family that comes back. */
  atSowing?: readonly string[]
  /** When to sow what is planned: from the planned day to the last good day. */
  sow: { from: Day; by: Day; why: string } | null
  /** Seed for the bed, by species: pure live seed, and what to weigh out of a usual bag; planned sowings only. */
  seed?: readonly SeedAmount[]
  /** Last day on which sowing the same again still makes sense. */
  resowBy: Day | null
  /** No cut is due, and why: winter will kill it, or it is dead already. */
  noCut: string | null
  cut: CutWindow | null
  /** What was really cut, last. */
  wasCut: { on: Day; then: Then } | null
  regrowthCheck: { opens: Day; lapses: Day } | null
  rest: RestPlan | null
  next: NextPlan | null
  nitrogen: NitrogenPlan | null
  water: WaterPlan | null
  watchBoot: AskPlan | null
  watchBloom: AskPlan | null
  /** A frost that the forecast or the season's odds bring and that may kill a part of it. */
  frost: { opens: Day; lapses: Day; species: string[]; why: string } | null
  /** Asked in spring, since winter-kill is a chance and never a fact: did it die? Answers: frost-killed, survived-frost. */
  springAsk?: AskPlan | null
  /** The cover is over and nothing is left to ask about: planted, or given up. */
  endedOn: Day | null
  hazards: Hazard[]
  cautions: Caution[]
  /** Notes worth saying once: rotation, gaps in the weather, species that no cut kills. */
  remarks: string[]
}

export type BedPlan = { bed: string; sowings: SowingPlan[] }

/** The plan of a garden as known at the end of a day: a pure function of garden, log, weather and day. */
export type GardenPlan = { on: Day; garden: string; beds: BedPlan[] }
