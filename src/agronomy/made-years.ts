import type { Climate } from "../handbook/climate.ts"
import { MONTH_OF_SLOT, overYear, SLOTS } from "./calendar-slots.ts"
import { normalQuantile } from "./spread.ts"

/** Years that are made of normals: enough for an early and a late tenth. */
export const MADE_YEARS = 12
/** How much of a day's departure from the normals the next day keeps: from memory, usual for the middle latitudes. */
const DAY_KEEPS = 0.75
/** How much of a month's departure the next month keeps: from memory. */
const MONTH_KEEPS = 0.3

const known = new WeakMap<Climate, readonly Float64Array[]>()

/**
 * Departures from the normals, C, for each place of a leap year, of so many years that nobody measured: day to day as
 * `sdDay_c` has it and month to month as `sdYear_c` has it. On every day the years stand on a fixed grid of quantiles, in an
 * order that is shuffled by a fixed rule: nothing is random, and their mean is the normal.
 */
export function madeYears(climate: Climate): readonly Float64Array[] {
  const before = known.get(climate)
  if (before) return before
  const sdDay = overYear(climate.sdDay_c)
  const sdYear = overYear(climate.sdYear_c)
  const months = monthly()
  const innovation = Math.sqrt(1 - DAY_KEEPS ** 2)
  const shuffle = shuffler(20231)
  const years = Array.from({ length: MADE_YEARS }, () => new Float64Array(SLOTS))
  const state = Array.from(GRID)
  // A turn before the first day, so that the year's end and beginning are alike.
  for (let turn = -40; turn < SLOTS; turn += 1) {
    const order = shuffle()
    const slot = (turn + SLOTS) % SLOTS
    // What thirty days of day-to-day departures already bring about in a month's mean.
    const implied = sdDay[slot]! * Math.sqrt((1 + DAY_KEEPS) / (1 - DAY_KEEPS) / 30)
    const more = Math.sqrt(Math.max(0, sdYear[slot]! ** 2 - implied ** 2))
    for (let year = 0; year < MADE_YEARS; year += 1) {
      state[year] = state[year]! * DAY_KEEPS + innovation * GRID[order[year]!]!
      if (turn >= 0) years[year]![slot] = sdDay[slot]! * state[year]! + more * months[year]![MONTH_OF_SLOT[slot]!]!
    }
  }
  known.set(climate, years)
  return years
}

/** Quantiles of the normal distribution, one for each year, scaled to a standard deviation of 1. */
const GRID = scaled(Array.from({ length: MADE_YEARS }, (_, i) => normalQuantile((i + 0.5) / MADE_YEARS)))

function scaled(values: number[]): number[] {
  const size = Math.sqrt(values.reduce((sum, value) => sum + value * value, 0) / values.length)
  return values.map((value) => value / size)
}

/** Departures of twelve months for each year, standard deviation 1. */
function monthly(): number[][] {
  const shuffle = shuffler(7919)
  const innovation = Math.sqrt(1 - MONTH_KEEPS ** 2)
  const state = Array.from(GRID)
  const years = Array.from({ length: MADE_YEARS }, () => [] as number[])
  for (let month = 0; month < 12; month += 1) {
    const order = shuffle()
    for (let year = 0; year < MADE_YEARS; year += 1) {
      state[year] = state[year]! * MONTH_KEEPS + innovation * GRID[order[year]!]!
      years[year]!.push(state[year]!)
    }
  }
  return years
}

/** Orders of the years by a fixed rule: a linear congruential sequence (Numerical Recipes' constants, from memory). */
function shuffler(start: number): () => number[] {
  let state = start
  return () => {
    const order = Array.from({ length: MADE_YEARS }, (_, i) => i)
    for (let i = order.length - 1; i > 0; i -= 1) {
      state = (Math.imul(state, 1664525) + 1013904223) >>> 0
      const j = Math.floor((state / 4294967296) * (i + 1))
      const kept = order[i]!
      order[i] = order[j]!
      order[j] = kept
    }
    return order
  }
}
