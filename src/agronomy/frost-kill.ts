import type { Course, Outlook } from "./ensemble.ts"
import { momentsOver } from "./spread.ts"
import type { Survival } from "./stage-points.ts"
import { NIGHTS, type Warmth } from "./weather-tape.ts"

/** Night minima at which a species dies: some stands at `high`, all below `low`, evenly in between (seed lots differ). */
export type KillingCold = { low: number; high: number }

export type FrostKillInput = {
  outlook: Outlook
  killing: KillingCold
  /** Day number of sowing. */
  sown: number
  /** The first day after sowing on which seedlings stand. */
  from: number
  /** The day after sowing up to which its fate is followed. */
  until: number
  /** It was seen alive after frost on that day after sowing. */
  survivedOn: number | null
  warmth: Warmth
}

/** Chance that frost kills a stand, and when: days after sowing; null where hardly ever. */
export type FrostKill = { chance: number; when: { early: number; likely: number; late: number } | null }

/** A kill less likely than this has no day worth naming. */
const HARDLY = 0.02

/** How a stand fares with frost, course by course: worked out once for each. */
export type Frost = {
  /** The share of stands that are alive at a moment after sowing. */
  survival: Survival
  /** Chance of death and its days, where it is over on that day after sowing: cut, seed, the next summer. */
  kill(until: number): FrostKill
}

/**
 * Chance of death by frost over every course of the weather: the share of stands whose killing temperature lies above the
 * coldest night so far. What survived a frost has a killing temperature below it.
 */
export function frostOn(input: FrostKillInput): Frost {
  const known = new Map<Course, Float64Array>()
  const aliveOn = (course: Course): Float64Array => {
    const before = known.get(course)
    if (before) return before
    const made = aliveAlong(input, course)
    known.set(course, made)
    return made
  }
  const { outlook, from } = input
  return {
    survival(course, moment) {
      const alive = aliveOn(course)
      return alive[Math.min(alive.length - 1, Math.max(0, Math.floor(moment) - from))]!
    },
    kill(wanted) {
      const until = Math.min(wanted, input.until)
      const when = momentsOver(Math.max(1, until + 1))
      let killed = 0
      let total = 0
      for (const course of outlook.courses) {
        const alive = aliveOn(course)
        total += course.weight
        for (let day = from; day <= until; day += 1) {
          const died = (alive[day - from]! - alive[day - from + 1]!) * course.weight
          if (died <= 0) continue
          when.add(day + 0.5, died)
          killed += died
        }
      }
      const chance = total > 0 ? killed / total : 0
      if (chance < HARDLY) return { chance, when: null }
      return { chance, when: { early: when.quantile(0.1), likely: when.quantile(0.5), late: when.quantile(0.9) } }
    },
  }
}

/** Share alive before day `from` + index. */
function aliveAlong(input: FrostKillInput, course: Course): Float64Array {
  const { outlook, killing, sown, from, until } = input
  const days = Math.max(0, until - from + 1)
  const alive = new Float64Array(days + 1).fill(1)
  if (days === 0) return alive
  const { tmin_c } = input.warmth
  const nights = outlook.along(course, NIGHTS, sown + from, days)
  const survivedOn = input.survivedOn ?? Number.NEGATIVE_INFINITY
  // Nights that kill nothing change nothing.
  let coldest = killing.high
  let share = 1
  let borne = 1
  for (let i = 0; i < days; i += 1) {
    const night = nights[i]! + tmin_c
    if (night < coldest) {
      coldest = night
      share = night <= killing.low ? 0 : (night - killing.low) / (killing.high - killing.low)
    }
    // What lived through a night lives through every night that is no colder.
    if (from + i <= survivedOn) borne = share
    else if (share < borne) alive[i + 1] = share / Math.max(borne, 0.01)
  }
  return alive
}
