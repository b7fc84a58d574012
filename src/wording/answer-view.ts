import type { Understood } from "../garden/acts.ts"
import type { Entry, EntryOf } from "../garden/entry.ts"
import type { History, ReminderRecord } from "../garden/facts.ts"
import type { Garden, Person } from "../garden/garden.ts"
import type { Handbook } from "../handbook/handbook.ts"
import type { Reminder } from "../reminders/reminder.ts"
import type { GardenPlan, SowingPlan } from "../season/bed-plan.ts"
import type { Day } from "../values/day.ts"
import type { Instant } from "../values/instant.ts"
import { localDay } from "../values/zone.ts"
import { plainLetters } from "./plain-letters.ts"

/** A garden at a moment, as far as an answer speaks of it. */
export type AnswerView = {
  garden: Garden
  on: Day
  entries: readonly Entry[]
  history: History
  plan: GardenPlan
  reminders: readonly Reminder[]
}

/** A reply, what it was understood as, and the garden before and after it. */
export type AnswerInput = {
  understood: Understood
  /** The words as they came. */
  text: string
  person: Person
  before: AnswerView
  after: AnswerView
  /** The reply that an UNDO took back; null where there was none. */
  undone: EntryOf<"reply"> | null
  handbook: Handbook
  now: Instant
}

/** The day on the person's own calendar. */
export function todayOf({ person, now }: Pick<AnswerInput, "person" | "now">): Day {
  return localDay(now, person.zone)
}

/** The reminder that a number last meant to a person. */
export function recordOf(history: History, person: string, n: number): ReminderRecord | null {
  let found: { record: ReminderRecord; seq: number } | null = null
  for (const record of history.reminders.values())
    for (const said of record.said)
      if (said.to === person && said.n === n && (!found || said.seq > found.seq)) found = { record, seq: said.seq }
  return found?.record ?? null
}

/** The number under which a person last heard of a reminder. */
export function numberOf(record: ReminderRecord, person: string): number | null {
  return record.said.findLast((said) => said.to === person)?.n ?? null
}

/** The plan of a sowing by its id. */
export function sowingOf(view: AnswerView, id: string): SowingPlan | null {
  for (const bed of view.plan.beds) for (const sowing of bed.sowings) if (sowing.sowing === id) return sowing
  return null
}

/** The sowing of a bed that a question is about: what stands there, else what is planned next, else the last. */
export function currentSowing(view: AnswerView, bed: string): SowingPlan | null {
  const sowings = view.plan.beds.find((each) => each.bed === bed)?.sowings ?? []
  const standing = sowings.findLast(
    (each) => each.state !== "planned" && each.endedOn === null && each.state !== "planted",
  )
  return standing ?? sowings.find((each) => each.state === "planned") ?? sowings.at(-1) ?? null
}

/** A name that leaves room for the words around it. */
const SHORT_NAME = 16

/** Two beds to show by example how a reply is written: the person's own, as far as their names are short. */
export function bedsToTeach({ person, after }: Pick<AnswerInput, "person" | "after">): [string, string] {
  const { minds } = person
  const own = after.garden.beds
    .filter((bed) => minds === null || minds.includes(bed.id))
    .map((bed) => plainLetters(bed.name))
    .filter((name) => name.length <= SHORT_NAME)
  const [one = "south", other = one] = own
  return [one, other]
}
