import type { Act, Ask } from "../garden/acts.ts"
import type { ReminderKind } from "../garden/entry.ts"
import type { DateOrder, Units } from "../garden/garden.ts"
import type { Day } from "../values/day.ts"
import type { Minutes } from "../values/zone.ts"
import type { Words } from "./vocabulary.ts"

/** A bed as far as a reply can speak of it; `species` are those that grow or are planned there now. */
export type ReplyBed = {
  id: string
  name: string
  also?: readonly string[] | undefined
  species: readonly string[]
  state?: string | undefined
}

/** A reminder that was sent to this person and is not settled, with the number they saw. */
export type OpenReminder = { n: number; bed: string; kind: ReminderKind }

/** A question that we asked back: what was missing in which text, and on which day we asked. */
export type Pending = { ask: Ask; text: string; asked: Day }

/** All that a text is read against. Built fresh for each text; nothing in it is changed. */
export type ReplyContext = {
  /** Local day and time of the sender. */
  now: { day: Day; minutes: Minutes }
  dates: DateOrder
  units: Units
  beds: readonly ReplyBed[]
  open: readonly OpenReminder[]
  /** The sender's last change, which a correction takes back and puts right. */
  last?: { acts: readonly Act[] } | undefined
  pending?: Pending | undefined
  words: Words
}
