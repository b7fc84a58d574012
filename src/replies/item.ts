import type { SaidDay } from "./days.ts"
import type { Word } from "./words.ts"

/** A bed as it was mentioned: one bed where it is clear, several where the words fit them all, none where it is unknown. */
export type BedMention = {
  beds: readonly string[]
  /** Its words are also everyday words, a day, a species or a crop: other readings are looked at first. */
  doubtful: boolean
  /** All of them are meant ("beds 1-3"). */
  every?: true
}

/** A figure with its unit, in the base unit of its kind; `plain` has none and is read by what it stands beside. */
export type Amount =
  | { of: "length"; cm: number }
  | { of: "weight"; g: number }
  | { of: "area"; m2: number }
  | { of: "share"; percent: number }
  | { of: "degrees"; c: number }
  | { of: "other" }

/** The word that leads to a day: to its end ("until friday", "for a week"), or another ("on friday"). */
export type DayLead = "end" | "other"

/** A run of words that belong together, with everything it may mean. */
export type Item = {
  from: number
  to: number
  words: readonly Word[]
  /** Senses of the vocabulary, such as `act:cut:did`, `stages:bloom`, `ways:not`. */
  senses: ReadonlySet<string>
  bed?: BedMention
  /** Ids of every species the words may name. */
  species?: readonly string[]
  crops?: readonly string[]
  day?: { day: SaidDay; lead: DayLead | null }
  amount?: Amount
  /** Whole numbers, such as those of reminders; more than one for "1-3". */
  numbers?: readonly number[]
  /** "#2", "number 2": surely the number of a reminder. */
  marked?: true
  /** A time of the clock. */
  time?: true
  mark?: string
}
