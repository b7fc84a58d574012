import {
  type ClockNumbers,
  daysNeeded,
  type PlaceNumbers,
  placeNumbers,
  progressOf,
  reaches,
} from "../../../src/agronomy/development-clock.ts"
import { type Outlook, prepareWeather } from "../../../src/agronomy/ensemble.ts"
import type { KnownWeather } from "../../../src/agronomy/weather-series.ts"
import { OPEN_GROUND, type Response } from "../../../src/agronomy/weather-tape.ts"
import type { DevelopmentClock } from "../../../src/handbook/development.ts"
import { dayFromNumber, dayNumber } from "../../../src/values/day.ts"
import type { Errors, Family, Numbers, Prior } from "./families.ts"
import { type Block, cholesky, type Fitted, forward, leastSquares } from "./least-squares.ts"
import type { Row } from "./rows.ts"

/** When cold counts (Weir et al. 1984, from memory). */
export const COLD = { least: -1, from: 3, to: 8, most: 18 }
/** BBCH 55 to BBCH 59, days: French heading is recorded half out, German fully out (from memory). */
const HALF_OUT_DAYS = 3
const SPAN_DAYS = 330
/** Largest residual that still counts in full, in standard deviations. */
const ROBUST = 2

type Stage = "emerged" | "leaf" | "heading" | "flower" | "flower-after-leaf"
/** One sowing of a place: all its sorts together. */
export type Stand = {
  species: string
  rows: Row[]
  weather: KnownWeather
  outlook: Outlook
  place: PlaceNumbers
  first: number
}
type Target = { stand: number; stage: Stage; at: number; sorts: string[]; leaf?: number }

/** Rows gathered by species, place and sowing. */
export function standsOf(family: Family, rows: readonly Row[], weather: (row: Row) => KnownWeather): Stand[] {
  const found = new Map<string, Stand>()
  for (const row of rows) {
    if (!(row.species in family.species)) continue
    const key = `${row.species} ${row.site} ${row.lat} ${row.sown}`
    const stand = found.get(key)
    if (stand) stand.rows.push(row)
    else found.set(key, standOf(family, row, weather(row)))
  }
  return [...found.values()]
}

function standOf(family: Family, row: Row, weather: KnownWeather): Stand {
  const last = weather.observed!.first + weather.observed!.tmin_c.length - 1
  const outlook = prepareWeather(weather, dayFromNumber(last))
  const place = placeNumbers(outlook, { sorts: family.sorts })
  return {
    species: row.species,
    rows: [row],
    weather,
    outlook: local(outlook, dayNumber(row.sown)),
    place,
    first: dayNumber(row.sown),
  }
}

/** An outlook that works out responses for the days of one sowing only, since a fit asks for thousands of them. */
function local(outlook: Outlook, first: number): Outlook {
  const course = outlook.courses[0]!
  const plain = (key: string, of: Response["of"]): Response => ({ key, of })
  const tmin = outlook.along(
    course,
    plain("tmin", (low) => low),
    first,
    SPAN_DAYS,
  )
  const tmax = outlook.along(
    course,
    plain("tmax", (_, high) => high),
    first,
    SPAN_DAYS,
  )
  const known = new Map<string, Float64Array>()
  return {
    ...outlook,
    along(_, response) {
      const before = known.get(response.key)
      if (before) return before.slice()
      const made = Float64Array.from(tmin, (low, i) => response.of(low, tmax[i]!))
      if (known.size > 60) known.clear()
      known.set(response.key, made)
      return made.slice()
    },
  }
}

/** The parameters of a family: shared numbers, each species' own, and departures of a species from what is shared. */
export class Layout {
  readonly names: string[] = []
  readonly priors: Prior[] = []
  readonly family: Family
  readonly species: string[]

  constructor(family: Family, species: readonly string[]) {
    this.family = family
    this.species = [...species]
    for (const [name, prior] of Object.entries(family.shared)) this.add(name, prior)
    for (const id of species) {
      const own = family.species[id]!
      const log = ([middle, sd]: readonly [number, number]): Prior => [Math.log(middle), sd, -1e9, 1e9]
      this.add(`${id}.seedbed`, log(own.seedbed))
      this.add(`${id}.days`, log(own.days))
      this.add(`${id}.uncooled`, own.uncooled)
      if (own.flower) this.add(`${id}.flower`, log(own.flower))
      if (own.headingBefore) this.add(`${id}.headingBefore`, own.headingBefore)
      for (const [name, sd] of Object.entries(family.own)) this.add(`${id}.${name}`, [0, sd, -1e9, 1e9])
    }
  }

  private add(name: string, prior: Prior): void {
    this.names.push(name)
    this.priors.push(prior)
  }

  /** Limits of each parameter in units of its prior. */
  get limits(): [number, number][] {
    return this.priors.map(([mean, sd, least, most]) => [(least - mean) / sd, (most - mean) / sd])
  }

  /** The parameters that a species hangs on. */
  of(id: string): number[] {
    const shared = new Set(Object.keys(this.family.shared))
    return this.names.flatMap((name, i) =>
      this.priors[i]![1] > 1e-5 && (shared.has(name) || name.startsWith(`${id}.`)) ? [i] : [],
    )
  }

  /** The numbers of a species' clock at a point. */
  numbers(
    at: Float64Array,
    id: string,
  ): { clock: ClockNumbers; seedbed: { base: number; sum: number }; heatShare: number } {
    const value = (name: string): number => {
      const i = this.names.indexOf(name)
      const [mean, sd] = this.priors[i]!
      return mean + at[i]! * sd
    }
    const both = (name: keyof Numbers): number => {
      const sum = value(name) + (name in this.family.own ? value(`${id}.${name}`) : 0)
      const [, , least, most] = this.family.shared[name]
      return Math.min(most, Math.max(least, sum))
    }
    const rate = {
      base_c: both("base"),
      ceiling_c: both("ceiling"),
      from_h: both("from_h"),
      to_h: apart(both("from_h"), both("to_h"), this.family.shared.to_h[0] > this.family.shared.from_h[0] ? 1 : -1),
      least: both("least"),
      uncooled: value(`${id}.uncooled`),
      cold_days: both("cold_days"),
      days: Math.exp(value(`${id}.days`)),
      localLight: both("localLight"),
      localDays: both("localDays"),
      localLeast: both("localLeast"),
    }
    const flower = this.family.grass ? Math.exp(value(`${id}.flower`)) : 0
    return {
      clock: {
        rate,
        grass: this.family.grass
          ? {
              base_c: both("ear_base"),
              ceiling_c: both("ear_ceiling"),
              dayShare: both("dayShare"),
              heading_days: Math.max(1, flower - value(`${id}.headingBefore`)),
              flower_days: flower,
            }
          : null,
      },
      seedbed: { base: both("seedbed_base"), sum: Math.exp(value(`${id}.seedbed`)) },
      heatShare: both("heatShare"),
    }
  }
}

/** The other end of a ramp, at least half an hour away on its side. */
function apart(from: number, to: number, side: 1 | -1): number {
  return side * Math.max(side * from + 0.5, side * to)
}

/** A clock with nothing in it but how it counts. */
export function bareClock(family: Family, heatShare: number, numbers: ClockNumbers): DevelopmentClock {
  return {
    sown: "any",
    from: family.from,
    reference_c: family.reference,
    heat: { share: heatShare, rest: "steady" },
    rate: numbers.rate,
    grass: numbers.grass,
  } as DevelopmentClock
}

/** The moments of the stages of a stand, in days from the start of the day of sowing. */
export function stagesOf(layout: Layout, at: Float64Array, stand: Stand, days = 1) {
  const { clock, seedbed, heatShare } = layout.numbers(at, stand.species)
  const progress = progressOf(
    { emergence: { base_c: seedbed.base, ceiling_c: 30, sum: null as never }, cold: COLD },
    bareClock(layout.family, heatShare, clock),
    clock,
    stand.place,
    stand.outlook,
    stand.outlook.courses[0]!,
    { first: stand.first, days: SPAN_DAYS },
    { seedbed: OPEN_GROUND, air: OPEN_GROUND },
  )
  const emerged = within(reaches(progress.seedbed, seedbed.sum))
  const start = layout.family.from === "sowing" ? 0 : emerged
  const leaf = within(
    reaches(progress.leaves, sum(progress.leaves, start) + daysNeeded(clock.rate, stand.place) * days),
  )
  const ear = (from: number, need: number) =>
    progress.ear ? within(reaches(progress.ear, sum(progress.ear, from) + need)) : from
  return { emerged, leaf, ear, grass: clock.grass }
}

/** Past the span a stage is put beyond its end, so that a fit is still drawn back. */
function within(moment: number): number {
  return Number.isFinite(moment) ? moment : SPAN_DAYS + 30
}

function sum(values: Float64Array, moment: number): number {
  const day = Math.min(values.length - 2, Math.floor(moment))
  return values[day]! + (values[day + 1]! - values[day]!) * (moment - day)
}

/** A family as fitted: a fit for each belief about its errors. */
export type FamilyFit = { layout: Layout; fits: Fitted[] }

/** Fits a family to some stands. */
export function fitFamily(
  family: Family,
  stands: readonly Stand[],
  pulls: ReadonlyMap<Stand, number>,
  beliefs = family.beliefs,
): FamilyFit {
  const layout = new Layout(family, Object.keys(family.species))
  const fits = beliefs.map((errors) => {
    const blocks = layout.species.flatMap((id) => {
      const own = stands.filter((stand) => stand.species === id)
      return own.length > 0 ? [blockOf(layout, id, own, pulls, errors)] : []
    })
    return leastSquares(blocks, layout.limits)
  })
  return { layout, fits }
}

/** How many days a stand's last leaf or flower moves with the logarithm of the days it needs. */
export function pullsOf(family: Family, stands: readonly Stand[]): Map<Stand, number> {
  const pulls = new Map(stands.map((stand) => [stand, 40]))
  const { layout, fits } = fitFamily(family, stands, pulls, family.beliefs.slice(0, 1))
  const fitted = fits[0]!
  for (const stand of stands) {
    const more = stagesOf(layout, fitted.at, stand, 1.05).leaf
    const fewer = stagesOf(layout, fitted.at, stand, 0.95).leaf
    pulls.set(stand, Math.min(120, Math.max(5, (more - fewer) / 0.1)))
  }
  return pulls
}

function blockOf(
  layout: Layout,
  id: string,
  stands: readonly Stand[],
  pulls: ReadonlyMap<Stand, number>,
  errors: Errors,
): Block {
  const targets = stands.flatMap((stand, i) => targetsOf(stand, i, layout.family.grass))
  const lower = cholesky(covariance(targets, stands, pulls, layout.family, errors))
  if (!lower) throw new Error(`the errors of ${id} have no root`)
  return {
    hangsOn: layout.of(id),
    residuals(at) {
      const stages = stands.map((stand) => stagesOf(layout, at, stand))
      const off = targets.map((target) => {
        const { emerged, leaf, ear, grass } = stages[target.stand]!
        if (target.stage === "emerged") return emerged - target.at
        if (target.stage === "leaf") return leaf - target.at
        if (target.stage === "heading") return ear(leaf, grass?.heading_days ?? 0) - target.at
        if (target.stage === "flower") return ear(leaf, grass?.flower_days ?? 0) - target.at
        return ear(target.leaf!, grass!.flower_days) - target.at
      })
      return forward(lower, off).map(
        (e) => Math.sign(e) * ROBUST * Math.sqrt(2 * (Math.sqrt(1 + (e / ROBUST) ** 2) - 1)),
      )
    },
  }
}

function targetsOf(stand: Stand, place: number, grass: boolean): Target[] {
  const middleOf = (stage: Stage, of: (row: Row) => number | null, rows = stand.rows): Target[] => {
    const seen = rows.filter((row) => of(row) !== null)
    if (seen.length === 0) return []
    // A stage that came on a day is put in the middle of that day.
    return [
      { stand: place, stage, at: median(seen.map((row) => of(row)!)) + 0.5, sorts: seen.map((row) => row.cultivar) },
    ]
  }
  const late = (row: Row) =>
    row.heading !== null && row.site.startsWith("fr-") ? row.heading + HALF_OUT_DAYS : row.heading
  const both = stand.rows.filter((row) => row.flagLeaf !== null && row.flower !== null)
  const flower = middleOf(
    both.length > 0 ? "flower-after-leaf" : "flower",
    (row) => row.flower,
    both.length > 0 ? both : stand.rows,
  )
  for (const target of flower) if (both.length > 0) target.leaf = median(both.map((row) => row.flagLeaf!)) + 1
  return [
    ...middleOf("emerged", (row) => row.emerged),
    ...(grass ? middleOf("leaf", (row) => row.flagLeaf) : []),
    ...(grass ? middleOf("heading", late) : []),
    ...flower,
  ]
}

/** Errors that stands share: one place, one sort; the rest is each one's own. Emergence and the ear have errors of their own. */
function covariance(
  targets: readonly Target[],
  stands: readonly Stand[],
  pulls: ReadonlyMap<Stand, number>,
  family: Family,
  errors: Errors,
): Float64Array[] {
  const scale = family.species[stands[0]!.species]!.errorScale ?? 1
  const { place, days } = errors
  const sort = errors.sort * scale
  const rest = errors.rest * scale
  const kind = (stage: Stage) => (stage === "emerged" || stage === "flower-after-leaf" ? stage : "main")
  return targets.map((a, i) =>
    Float64Array.from(targets, (b, j) => {
      if (kind(a.stage) !== kind(b.stage)) return 0
      const samePlace = stands[a.stand]!.rows[0]!.site === stands[b.stand]!.rows[0]!.site
      if (kind(a.stage) === "emerged") return (samePlace ? 9 : 0) + (i === j ? 9 : 0)
      if (kind(a.stage) === "flower-after-leaf") return i === j ? 4 + 4 / a.sorts.length : 0
      const pull = pulls.get(stands[a.stand]!)! * pulls.get(stands[b.stand]!)!
      const shared = a.sorts.filter((one) => b.sorts.includes(one)).length / (a.sorts.length * b.sorts.length)
      return pull * ((samePlace ? place ** 2 : 0) + sort ** 2 * shared) + (i === j ? pull * rest ** 2 + days ** 2 : 0)
    }),
  )
}

export function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b)
  const half = sorted.length >> 1
  return sorted.length % 2 === 1 ? sorted[half]! : (sorted[half - 1]! + sorted[half]!) / 2
}
