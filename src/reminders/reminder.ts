import type { ReminderKind } from "../garden/entry.ts"
import type { Day } from "../values/day.ts"

export type ReminderState = "planned" | "due" | "sent" | "done" | "snoozed" | "skipped" | "lapsed"

/** One thing to tell one person. `id` is sowing + kind + ordinal: two people who mind a bed have the same id. */
export type Reminder = {
  id: string
  kind: ReminderKind
  bed: string
  sowing: string
  ordinal: number
  person: string
  opens: Day
  lapses: Day
  state: ReminderState
  /** The day it speaks next to this person; null: it has nothing more to say. */
  speaks: Day | null
  /** Which of its calls comes next: 1 is the first. A kind of one call has only that. */
  call: number
  /** Higher goes first where several are due. */
  urgency: number
  /** May go over the daily and weekly number of texts: frost and last calls. */
  pressing: boolean
  /** The line without its number, as a text says it, reason and all. */
  text: string
  /** The same without its reason, for a text that would be too long. */
  short: string
  /** Reply words that fit, most useful first, without a number: DONE, UP, SNOOZE SAT. */
  words: string[]
  /** The days it names, so that a later change can be held against what was told. */
  days: Record<string, Day>
  /** What to do in few words, without a capital: `cut South bed, best by about 14 May`. For subjects, lists and catching up. */
  title?: string
  /** The day of the call after the next one, as planned now; null: the next is the last. */
  callAfter?: Day | null
  /** A caution that belongs to this work, as a sentence; said where there is room for it. */
  caution?: string
  /** Nothing is to be done about it: no text and no nudge, only the weekly mail tells it. */
  mailOnly?: boolean
}
