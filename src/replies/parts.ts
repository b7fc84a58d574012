import type { BedNames } from "./beds.ts"
import type { ReplyContext } from "./context.ts"
import type { Item } from "./item.ts"

/** What items are read with. */
export type ItemScene = { context: ReplyContext; beds: BedNames; grown: ReadonlySet<string> }

/** What a run of words may be, and how much that reading weighs. */
export type Part = Omit<Item, "words" | "senses"> & { senses: readonly string[]; weight: number }

/** Weights of readings of equal length: names of the garden first, then what makes an act, then the small words. */
export const BONUS = {
  bed: 7,
  trap: 4,
  act: 3,
  day: 3,
  amount: 3,
  plant: 3,
  way: 2,
  courtesy: 2,
  number: 1,
  light: 1,
  none: 0,
}

/** Adds a reading of the words up to `to`. */
export type Push = (to: number, bonus: number, senses: readonly string[], more?: Partial<Omit<Item, "senses">>) => void
