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
  /** The day after sowing on which it is over at the latest: cut, seed, the next summer. */
  until: number
  /** It was seen alive after frost on that day after sowing. */
  survivedOn: number | null
  warmth: Warmth
}

/** Chance that frost kills a stand, and when: days after sowing; null where hardly ever. */
export type FrostKill = { chance: number; when: { early: number; likely: number; late: number } | null }

/** A kill less likely than this has no day worth naming. */
const HARDLY = 0.02

/**
 * Chance of death by frost over every course of the weather: the share of stands whose killing temperature lies above the
 * coldest night so far. What survived a frost has a killing temperature below it.
 */
export function frostKill(input: FrostKillInput): FrostKill {
  const { outlook, from, until } = input
  const when = momentsOver(Math.max(1, until + 1))
  let killed = 0
  let total = 0
  for (const course of outlook.courses) {
    const alive = aliveAlong(input, course)
    total += course.weight
    for (let day = from; day <= until; day += 1) {
      const died = (alive[day - from]! - alive[day - from + 1]!) * course.weight
      if (died > 0) when.add(day + 0.5, died)
      killed += died
    }
  }
  const chance = total > 0 ? killed / total : 0
  if (chance < HARDLY) return { chance, when: null }
  return { chance, when: { early: when.quantile(0.1), likely: when.quantile(0.5), late: when.quantile(0.9) } }
}

/** The share of stands that are alive at a moment after sowing, course by course. */
export function survivalOf(input: FrostKillInput): Survival {
  const known = new Map<Course, Float64Array>()
  return (course, moment) => {
    const alive = known.get(course) ?? aliveAlong(input, course)
    known.set(course, alive)
    return alive[Math.min(alive.length - 1, Math.max(0, Math.floor(moment) - input.from))]!
  }
}

/** Share alive before day `from` + index. */
function aliveAlong(input: FrostKillInput, course: Course): Float64Array {
  const { outlook, killing, sown, from, until, survivedOn } = input
  const days = Math.max(0, until - from + 1)
  const alive = new Float64Array(days + 1).fill(1)
  if (days === 0) return alive
  const { tmin_c } = input.warmth
  const nights = outlook.along(course, NIGHTS, sown + from, days)
  let coldest = Number.POSITIVE_INFINITY
  let borne = Number.POSITIVE_INFINITY
  for (let i = 0; i < days; i += 1) {
    coldest = Math.min(coldest, nights[i]! + tmin_c)
    if (survivedOn !== null && from + i <= survivedOn) borne = coldest
    // A night no colder than one that it lived through does not kill it.
    alive[i + 1] = coldest >= borne ? 1 : shareAlive(coldest, killing) / Math.max(0.01, shareAlive(borne, killing))
  }
  return alive
}

function shareAlive(coldest: number, { low, high }: KillingCold): number {
  if (coldest > high) return 1
  if (coldest <= low) return 0
  return (coldest - low) / (high - low)
}
