import type { OwnLean } from "../agronomy/stage-points.ts"
import type { Season } from "../handbook/species.ts"
import type { Day } from "../values/day.ts"
import { listed } from "./words.ts"

/** What past seasons of this garden taught about one species: how far it ran from the book. */
export type LearnedSpecies = OwnLean & {
  /** Years with a report, oldest first. */
  years: readonly number[]
  /** One clause for `why`. */
  why: string
}

/** What the garden's own reports taught, by `learnedKey`. */
export type Learned = ReadonlyMap<string, LearnedSpecies>

/** What was sown before winter teaches nothing about what is sown in spring: each has its own key. */
export function learnedKey(species: string, season: Season): string {
  return `${species} ${season === "autumn" || season === "late-summer" ? "before winter" : "in the growing season"}`
}

/** One sowing that was seen to flower, or to reach a stage before it. */
export type OwnRun = {
  sowing: string
  key: string
  on: Day
  /** Days by which it was later than the book would have it with the weather that came; earlier is negative. */
  days: number
  /** Standard deviation of what the book expected, days. */
  spread_days: number
  /** Share of the days from sowing on whose weather was measured, 0 to 1. */
  measured: number
}

/**
 * Years that weigh as much as the book, with the weather of every year measured; and with normals in its place, where a year's
 * own weather is part of each run. Source: runs of cultivars over seasons at places left out of the fit (`learning.ts` prints
 * the table), rounded towards the book.
 */
const BOOK_WEIGHS_YEARS = { measured: 1.5, normals: 2.5 }
/** A run further from the book than so many standard deviations counts as that far: a slip, or another plant. */
const FAR = 2.5

/**
 * Partial pooling: years of the garden against the book, so that one year moves an estimate little and five much. Runs of one
 * year count together, since they share its weather. null where there is no run.
 */
export function pooled(runs: readonly OwnRun[], name: string): LearnedSpecies | null {
  const byYear = Map.groupBy(runs, (run) => Number(run.on.slice(0, 4)))
  const years = [...byYear.keys()].sort((a, b) => a - b)
  if (years.length === 0) return null
  let sum = 0
  let weight = 0
  let mean = 0
  for (const year of years) {
    const own = byYear.get(year)!
    const days = average(own.map((run) => Math.max(-FAR * run.spread_days, Math.min(FAR * run.spread_days, run.days))))
    const measured = average(own.map((run) => run.measured))
    const each =
      BOOK_WEIGHS_YEARS.measured / (measured * BOOK_WEIGHS_YEARS.measured + (1 - measured) * BOOK_WEIGHS_YEARS.normals)
    sum += each * days
    weight += each
    mean += average(own.map((run) => run.days)) / years.length
  }
  const book = BOOK_WEIGHS_YEARS.measured
  const shift_days = Number((sum / (weight + book)).toFixed(1))
  // What stays the same from year to year is 1 / (1 + book) of the variance; so much of that is known by now.
  const narrower = Number(Math.sqrt(1 - weight / (weight + book) / (1 + book)).toFixed(3))
  return { shift_days, narrower, years, why: whyOf(name, mean, shift_days, years) }
}

function average(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length
}

function whyOf(name: string, mean: number, shift_days: number, years: readonly number[]): string {
  const when = listed(years.map(String))
  const days = Math.round(Math.abs(mean))
  if (days === 0) return `your ${name} kept to the book in ${when}`
  const moved = Math.round(Math.abs(shift_days))
  const counts = moved === 0 ? "too little yet to move a date" : moved === days ? "" : `so ${moved} of them count here`
  const ran = `your ${name} ran ${days} ${days === 1 ? "day" : "days"} ${mean < 0 ? "ahead of" : "behind"} the book in ${when}`
  return counts === "" ? ran : `${ran}, ${counts}`
}
