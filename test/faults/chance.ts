import { drawer } from "../stand-ins/carrier-book.ts"

/** Lots drawn from a seed: the same run again for the same seed. */
export type Chance = {
  /** From 0 to 1. */
  next(): number
  /** True so often. */
  is(share: number): boolean
  /** A whole number from `low` to `high`, both included. */
  whole(low: number, high: number): number
  one<T>(of: readonly T[]): T
  shuffled<T>(of: readonly T[]): T[]
}

export function openChance(seed: number): Chance {
  const next = drawer(seed)
  const whole = (low: number, high: number) => low + Math.floor(next() * (high - low + 1))
  return {
    next,
    is: (share) => next() < share,
    whole,
    one: (of) => of[whole(0, of.length - 1)] as (typeof of)[number],
    shuffled(of) {
      const left = [...of]
      for (let i = left.length - 1; i > 0; i -= 1) {
        const j = whole(0, i)
        ;[left[i], left[j]] = [left[j] as (typeof left)[number], left[i] as (typeof left)[number]]
      }
      return left
    },
  }
}
