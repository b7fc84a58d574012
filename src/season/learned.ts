import type { OwnLean } from "../agronomy/stage-points.ts"

/** What past seasons of this garden taught about one species: how far it ran from the book. */
export type LearnedSpecies = OwnLean & {
  /** Years with a report, oldest first. */
  years: readonly number[]
  /** One clause for `why`. */
  why: string
}

/** What the garden's own reports taught, by species id. */
export type Learned = ReadonlyMap<string, LearnedSpecies>
