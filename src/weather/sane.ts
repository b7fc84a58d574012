import { dayFromNumber, partsOf } from "../values/day.ts"
import type { DayRow } from "./days.ts"

/** Monthly means of a place, January first: what a feed is held against. */
export type Normals = { tmin_c: readonly number[]; tmax_c: readonly number[] }

export type Checked = {
  rows: DayRow[]
  /** Days with a value that was taken out. */
  doubts: number
  /** Why nothing of it can be believed; null: the rest can. */
  refused: string | null
}

/**
 * Beyond these a feed is wrong, not the weather. The first four are our own limits. The others were measured on 99,567 days
 * of 37 weather series of four continents (observed daily minima and maxima): in parentheses how many of those days each would
 * take out.
 */
const LIMITS = {
  coldest_c: -60,
  hottest_c: 60,
  mostRain_mm: 500,
  /** A day whose minimum is its maximum is a missing one that was written as a number (5). */
  leastRange_c: 0.05,
  /** From a night to the next day (2). */
  mostRange_c: 30,
  /** One value above, or below, both its neighbours by so much (38). */
  spike_c: 12,
  /** Between the means of neighbours where only one is known (2). */
  step_c: 15.5,
  /** A day's mean from the mean of its month (1). */
  fromNormal_c: 20,
  /** The same pair of values so many days running (18 days: series at whole degrees). */
  stuckDays: 4,
} as const

/** A whole answer is off by so much in its middle: another unit, another place (3 of 32,577 weeks in the same series are off by 15 C). */
const ALL_FROM_NORMAL_C = 16
/** Days already known differ by so much in the middle: another unit, another place (own limit). */
const ALL_FROM_BEFORE_C = 6
/** So many days make a middle. */
const FEW_DAYS = 7

/**
 * Looks at what a service gave before anybody reckons with it. A value that is hardly possible becomes a gap; an answer that
 * is wrong as a whole is refused (failures O5, O6). `before`: days that were believed earlier.
 */
export function checkDays(given: readonly DayRow[], normals: Normals | null, before: readonly DayRow[]): Checked {
  const rows = given.map((row) => ({ ...row })).sort((a, b) => a.day - b.day)
  const doubtful = new Set<number>()
  const gap = (row: DayRow) => {
    doubtful.add(row.day)
    row.tmin_c = Number.NaN
    row.tmax_c = Number.NaN
  }
  if (rows.some((row, i) => i > 0 && row.day === rows[i - 1]?.day))
    return { rows: [], doubts: 0, refused: "it has a day twice" }
  const said = rows.filter(hasBoth).length
  for (const row of rows) {
    if (impossible(row)) gap(row)
    if (!(row.rain_mm >= 0 && row.rain_mm <= LIMITS.mostRain_mm)) {
      if (!Number.isNaN(row.rain_mm)) doubtful.add(row.day)
      row.rain_mm = Number.NaN
    }
  }
  for (const row of stuckIn(rows)) gap(row)
  const refused = refusalOf(rows, said, normals, before)
  if (refused) return { rows: [], doubts: doubtful.size, refused }
  if (normals)
    for (const row of rows) if (Math.abs(mean(row) - normalMean(normals, row.day)) > LIMITS.fromNormal_c) gap(row)
  for (const row of spikesIn(rows)) gap(row)
  return { rows, doubts: doubtful.size, refused: null }
}

function impossible(row: DayRow): boolean {
  const { tmin_c, tmax_c } = row
  const outside = (value: number) => value < LIMITS.coldest_c || value > LIMITS.hottest_c
  if (outside(tmin_c) || outside(tmax_c)) return true
  const range = tmax_c - tmin_c
  if (range < LIMITS.leastRange_c) {
    // Nothing but zeros: the rain of such a day is not known either.
    if (tmin_c === 0 && row.rain_mm === 0) row.rain_mm = Number.NaN
    return true
  }
  return range > LIMITS.mostRange_c
}

/** Runs of the very same pair of values. */
function stuckIn(rows: readonly DayRow[]): DayRow[] {
  const stuck: DayRow[] = []
  let run: DayRow[] = []
  const end = () => {
    if (run.length >= LIMITS.stuckDays) stuck.push(...run)
  }
  for (const row of rows) {
    const last = run.at(-1)
    if (hasBoth(row) && last && last.tmin_c === row.tmin_c && last.tmax_c === row.tmax_c) run.push(row)
    else {
      end()
      run = hasBoth(row) ? [row] : []
    }
  }
  end()
  return stuck
}

function refusalOf(
  rows: readonly DayRow[],
  said: number,
  normals: Normals | null,
  before: readonly DayRow[],
): string | null {
  const good = rows.filter(hasBoth)
  if (said >= FEW_DAYS && good.length < said / 2) return "most of its days cannot be"
  if (normals && good.length >= FEW_DAYS) {
    const off = middle(good.map((row) => Math.abs(mean(row) - normalMean(normals, row.day))))
    if (off > ALL_FROM_NORMAL_C) return `its days are ${Math.round(off)} C from what is normal there`
  }
  const earlier = new Map(before.filter(hasBoth).map((row) => [row.day, mean(row)]))
  const both = good.filter((row) => earlier.has(row.day))
  if (both.length >= FEW_DAYS) {
    const off = middle(both.map((row) => Math.abs(mean(row) - (earlier.get(row.day) as number))))
    if (off > ALL_FROM_BEFORE_C) return `its days are ${Math.round(off)} C from what it said before`
  }
  return null
}

/** Values that stand out from the days around them. The one that stands out most goes first, then its neighbours are looked at anew. */
function spikesIn(rows: readonly DayRow[]): DayRow[] {
  const left = rows.filter(hasBoth)
  const spikes: DayRow[] = []
  for (;;) {
    let worst = -1
    let most = 1
    left.forEach((row, i) => {
      const by = standsOut(left[i - 1], row, left[i + 1])
      if (by > most) [worst, most] = [i, by]
    })
    if (worst < 0) return spikes
    spikes.push(...left.splice(worst, 1))
  }
}

/** How far a day stands out from its neighbours, as a multiple of what is allowed. */
function standsOut(last: DayRow | undefined, row: DayRow, next: DayRow | undefined): number {
  const near = (other: DayRow | undefined) => other !== undefined && Math.abs(other.day - row.day) <= 2
  if (last && next && near(last) && near(next)) {
    const alone = (pick: (of: DayRow) => number) => {
      const [a, b] = [pick(row) - pick(last), pick(row) - pick(next)]
      return a * b > 0 ? Math.min(Math.abs(a), Math.abs(b)) : 0
    }
    return (
      Math.max(
        alone((of) => of.tmin_c),
        alone((of) => of.tmax_c),
      ) / LIMITS.spike_c
    )
  }
  const only = near(last) ? last : near(next) ? next : undefined
  return only ? Math.abs(mean(row) - mean(only)) / LIMITS.step_c : 0
}

function hasBoth(row: DayRow): boolean {
  return !Number.isNaN(row.tmin_c) && !Number.isNaN(row.tmax_c)
}

function mean(row: DayRow): number {
  return (row.tmin_c + row.tmax_c) / 2
}

function normalMean(normals: Normals, day: number): number {
  const month = partsOf(dayFromNumber(day)).month - 1
  return ((normals.tmin_c[month] as number) + (normals.tmax_c[month] as number)) / 2
}

function middle(values: number[]): number {
  const sorted = values.sort((a, b) => a - b)
  return sorted[Math.floor(sorted.length / 2)] as number
}
