import type { Act, Ask } from "../../src/garden/acts.ts"
import { lastChangeBy } from "../../src/garden/effective.ts"
import type { Entry, NewEntry } from "../../src/garden/entry.ts"
import type { Garden, Person } from "../../src/garden/garden.ts"
import { remindersFor } from "../../src/reminders/index.ts"
import type { SowingPlan } from "../../src/season/bed-plan.ts"
import { localDay } from "../../src/values/zone.ts"
import { type AnswerInput, type AnswerView, answerTo } from "../../src/wording/answer.ts"
import { aGarden, aPlan, aSowingPlan, at, handbook, historyOf, log } from "../given.ts"

export type Reply = {
  acts?: Act[]
  ask?: Ask | null
  note?: boolean
  text?: string
  /** Local time of the reply. */
  when?: string
  garden?: Garden
  person?: Person
  log?: NewEntry[]
  /** The plans of the sowings before the reply, and after it where it moves them. */
  before?: SowingPlan[]
  after?: SowingPlan[]
}

/** A reply to a garden and what leads to its answer, put together as the bot does it. */
export function inputOf(known: Reply): AnswerInput {
  const garden = known.garden ?? aGarden()
  const person = known.person ?? (garden.people[0] as Person)
  const now = at(known.when ?? "2026-05-06 10:00")
  const text = known.text ?? "..."
  const understood = { acts: known.acts ?? [], ask: known.ask ?? null, note: known.note ?? false }
  const before = known.before ?? [aSowingPlan()]
  const entries = log(...(known.log ?? []))
  const reply: NewEntry = { at: now, garden: "acre", by: person.id, via: "sms", kind: "reply", text, ...understood }
  const undone = understood.acts.some((act) => act.act === "undo") ? lastChangeBy(entries, person.id) : null
  const undo: NewEntry[] = undone
    ? [{ at: now, garden: "acre", by: person.id, via: "sms", kind: "undo", undone: undone.seq }]
    : []
  const later = log(...(known.log ?? []), reply, ...undo)
  return {
    understood,
    text,
    person,
    before: viewOf(garden, entries, before, now),
    after: viewOf(garden, later, known.after ?? before, now),
    undone,
    handbook: handbook(),
    now,
  }
}

/** What a reply is answered; null: nothing. */
export function answerOf(known: Reply): string | null {
  return answerTo(inputOf(known))
}

function viewOf(garden: Garden, entries: readonly Entry[], sowings: SowingPlan[], now: AnswerInput["now"]): AnswerView {
  const on = localDay(now, garden.place.zone)
  const history = historyOf(garden, entries)
  const plan = aPlan(on, ...sowings)
  return {
    garden,
    on,
    entries,
    history,
    plan,
    reminders: remindersFor(plan, { garden, history, handbook: handbook() }, on),
  }
}
