/** What past seasons of this garden taught about one species: how far it ran from the book. */
export type LearnedSpecies = {
  /** Days that its flowering is moved, after pooling with the book: negative is earlier. */
  shift_days: number
  /** Years with a report, oldest first. */
  years: readonly number[]
  /** One sentence for `why`. */
  why: string
}

/** What the garden's own reports taught, by species id. */
export type Learned = ReadonlyMap<string, LearnedSpecies>
