import type { KnownWeather } from "../../../src/agronomy/weather-series.ts"
import type { Development } from "../../../src/handbook/development.ts"
import type { Handbook } from "../../../src/handbook/handbook.ts"
import { estimateStages } from "../../../src/season/estimate.ts"
import type { Seen } from "../../../src/season/stage-estimates.ts"
import { addDays, type Day, dayFromNumber, daysBetween } from "../../../src/values/day.ts"
import { developmentOf } from "./development-of.ts"
import { FAMILIES, type Family } from "./families.ts"
import { groupOf, type Line, stageDays } from "./lines.ts"
import { fitFamily, pullsOf, type Stand, standsOf } from "./model.ts"
import { placeSeason, type Row } from "./rows.ts"

/** What is known: all weather, that up to so many days before the event, or up to the last leaf (or all of it), told of that leaf. */
export type Mode = "all" | number | "leaf" | "leaf, weather known"

export type Score = { n: number; mae: number; rmse: number; bias: number; cover: number; width: number; none: number }

/** Fits without each place (and place and season) in turn. */
export function foldsOf(
  rows: readonly Row[],
  weather: (row: Row) => KnownWeather,
  families = FAMILIES,
): Map<string, Map<string, Development>> {
  const folds = new Map<string, Map<string, Development>>()
  for (const family of families) {
    const own = standsOf(family, rows, weather)
    const pulls = pullsOf(family, own)
    const names = new Set(own.flatMap((stand) => [placeSeason(stand.rows[0]!), stand.rows[0]!.site]))
    for (const name of names) {
      const kept = own.filter((stand) => placeSeason(stand.rows[0]!) !== name && stand.rows[0]!.site !== name)
      const fold = folds.get(name) ?? new Map<string, Development>()
      folds.set(name, fold)
      addFitted(fold, family, kept, pulls)
    }
  }
  return folds
}

function addFitted(
  fold: Map<string, Development>,
  family: Family,
  kept: readonly Stand[],
  pulls: ReadonlyMap<Stand, number>,
): void {
  const fitted = fitFamily(family, kept, pulls)
  const basis = { how: "fitted", grade: "read+judgement", source: [...family.sources], says: "a fit" } as const
  for (const id of Object.keys(family.species))
    fold.set(id, developmentOf(fitted, id, { ...basis, source: [...family.sources] }))
}

/** Scores of one line in one mode; null where no row has what the mode needs. */
export function scoreLine(
  line: Line,
  mode: Mode,
  rows: readonly Row[],
  folds: ReadonlyMap<string, ReadonlyMap<string, Development>>,
  handbook: Handbook,
  weather: (row: Row) => KnownWeather,
): Score | null {
  const errors: number[] = []
  let inside = 0
  let width = 0
  let none = 0
  for (const row of rows) {
    const days = stageDays(line, row)
    if (days === null) continue
    const event = addDays(row.sown, days)
    const asked = askOf(row, mode, event, weather(row))
    if (!asked) continue
    const development = folds.get(groupOf(line, row))!.get(row.species)!
    const species = handbook.species.get(row.species) ?? handbook.species.get("field-pea")!
    const stages = estimateStages({
      species,
      development,
      sown: row.sown,
      weather: weather(row),
      bed: "plot",
      ...asked,
    })
    const range = line.stage === "heading" ? stages.heading : stages.firstFlower
    if (!range) {
      none += 1
      continue
    }
    errors.push(daysBetween(event, range.likely))
    if (range.early <= event && event <= range.late) inside += 1
    width += daysBetween(range.early, range.late)
  }
  const n = errors.length
  if (n === 0) return none > 0 ? { n, mae: 0, rmse: 0, bias: 0, cover: 0, width: 0, none } : null
  const mean = (of: (error: number) => number) => errors.reduce((sum, error) => sum + of(error), 0) / n
  return {
    n,
    mae: mean(Math.abs),
    rmse: Math.sqrt(mean((e) => e * e)),
    bias: mean((e) => e),
    cover: inside / n,
    width: width / n,
    none,
  }
}

function askOf(row: Row, mode: Mode, event: Day, weather: KnownWeather): { on: Day; observed: Seen[] } | null {
  const { first, tmin_c } = weather.observed!
  const last = dayFromNumber(first + tmin_c.length - 1)
  if (mode === "all") return { on: last, observed: [] }
  if (typeof mode === "number") {
    const on = addDays(event, -mode)
    return on > row.sown ? { on, observed: [] } : null
  }
  if (row.flagLeaf === null || row.flagLeaf >= daysBetween(row.sown, event)) return null
  const leaf = addDays(row.sown, row.flagLeaf)
  return { on: mode === "leaf" ? leaf : last, observed: [{ what: "flag-leaf", on: leaf }] }
}

/** How wide a range around the mean days from sowing of the other places (or seasons) must be to hold such a share of a line's rows. */
export function plainWidth(line: Line, rows: readonly Row[], share: number): number {
  const own = rows.flatMap((row) => {
    const days = stageDays(line, row)
    return days === null ? [] : [{ days, group: groupOf(line, row) }]
  })
  const off = own.flatMap(({ days, group }) => {
    const others = own.filter((other) => other.group !== group)
    if (others.length === 0) return []
    return [Math.abs(days - others.reduce((sum, other) => sum + other.days, 0) / others.length)]
  })
  off.sort((a, b) => a - b)
  return 2 * (off[Math.min(off.length - 1, Math.ceil(share * off.length) - 1)] ?? Number.NaN)
}
