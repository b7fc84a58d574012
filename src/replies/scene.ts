import type { Act, Ask } from "../garden/acts.ts"
import type { ReminderKind } from "../garden/entry.ts"
import type { Day } from "../values/day.ts"
import type { OpenReminder, ReplyBed, ReplyContext } from "./context.ts"
import type { SaidDay } from "./days.ts"

/** Answers to a question we asked back, put in where the same thing is missing again. */
export type Assumed = {
  which: Ask["which"]
  beds?: readonly string[]
  numbers?: readonly number[]
  species?: readonly string[]
  days?: readonly SaidDay[]
  /** The day on which the answer was given: its words of time count from it. */
  today?: Day
}

/** What acts are worked out with: the garden, and what the text has said so far. */
export type Scene = {
  context: ReplyContext
  /** The text as it came. */
  text: string
  beds: ReadonlyMap<string, ReplyBed>
  /** In a long story nothing is settled that is not named. */
  story: boolean
  /** Numbers of reminders that the text has spoken of so far, for "the rest". */
  spoken: Set<number>
  /** Beds the last clause was of, and the sentence it stood in. */
  lastBeds: { beds: readonly string[]; sentence: number } | null
  /** Bed and plant of the last stage that was seen, for what the same sentence says further of it. */
  lastSeen: { pairs: readonly { bed: string; species: string | null }[]; sentence: number } | null
  /** The last work that was reported, for what became of the tops. */
  lastWork: { aims: readonly Aim[]; on: Day; index: number } | null
  assumed: Assumed | null
}

/** What a clause is of: an open reminder (with its number) or a bed without one. */
export type Aim = { n: number | null; bed: string }

/** What one clause comes to. */
export type Proposal = {
  acts: Act[]
  ask: Ask | null
  /** The clause is worth keeping as a remark. */
  note: boolean
}

export const NOTHING: Proposal = { acts: [], ask: null, note: false }
export const A_NOTE: Proposal = { acts: [], ask: null, note: true }

export function acts(...list: Act[]): Proposal {
  return { acts: list, ask: null, note: false }
}

export function ask(which: Ask["which"], choices: readonly (string | number)[] = []): Proposal {
  return { acts: [], ask: { which, choices: [...choices] }, note: false }
}

export function openOf(scene: Scene, test: (reminder: OpenReminder) => boolean): OpenReminder[] {
  return scene.context.open.filter(test)
}

export function openOfKind(scene: Scene, kind: ReminderKind): OpenReminder[] {
  return openOf(scene, (each) => each.kind === kind)
}

export function numbersOf(reminders: readonly OpenReminder[]): number[] {
  return reminders.map((each) => each.n)
}
