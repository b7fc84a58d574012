import type { ReminderKind } from "../garden/entry.ts"
import type { ReminderRecord } from "../garden/facts.ts"
import type { Person } from "../garden/garden.ts"
import { addDays, type Day, later } from "../values/day.ts"
import { localDay } from "../values/zone.ts"
import { isHushed, type Unanswered } from "./answered.ts"
import { type Calling, dayAfter, type NextCall, nextCall, saidTo } from "./calls.ts"
import { weekdayWord } from "./dates.ts"
import type { Draft, Kind, Said, Scene } from "./kind.ts"
import type { Reminder, ReminderState } from "./reminder.ts"
import { TIMING } from "./timing.ts"

/** One reminder of the plan, as it stands for one person. */
export function rowOf(
  name: ReminderKind,
  kind: Kind,
  draft: Draft,
  scene: Scene,
  person: Person,
  silence: Unanswered,
): Reminder {
  const id = `${scene.sowing.sowing}:${name}:${draft.ordinal}`
  const record = scene.history.reminders.get(id)
  const calling: Calling = { draft, record, person, on: scene.on, hushed: isHushed(silence, id) }
  const lapses = lapseDay(draft, record)
  const settled = settledAs(kind, draft, scene, record)
  const over = settled ?? (scene.on > lapses || lapsedUnsaid(name, record) ? "lapsed" : null)
  const next = over ? null : nextCall(calling)
  const speaks = next && next.on <= lapses && !draft.mailOnly ? next.on : null
  const said = wordsOf(calling, next, scene.on)
  const call = next?.call ?? draft.calls.at(-1)
  return {
    id,
    kind: name,
    bed: scene.sowing.bed,
    sowing: scene.sowing.sowing,
    ordinal: draft.ordinal,
    person: person.id,
    opens: draft.opens,
    lapses,
    state: over ?? openState(calling, next),
    speaks,
    call: call?.call ?? 1,
    urgency: call?.urgency ?? 0,
    pressing: call?.pressing ?? false,
    text: said.text,
    short: said.short,
    words: said.words,
    days: draft.days,
    title: said.title,
    callAfter: next ? dayAfter(calling, next) : null,
    ...(said.caution ? { caution: said.caution } : {}),
    ...(draft.mailOnly ? { mailOnly: true } : {}),
  }
}

/** A reminder that the log knows and the plan holds no more: what became of it. */
export function pastRow(record: ReminderRecord, kind: Kind, scene: Scene, person: Person): Reminder {
  const first = record.said[0]
  const last = record.said.at(-1)
  const opens = first ? localDay(first.at, person.zone) : scene.on
  const closes = record.settled?.on ?? (last ? localDay(last.at, person.zone) : opens)
  const facts = scene.record?.facts ?? []
  const done = facts.some((fact) => fact.seq > (first?.seq ?? 0) && kind.settles(fact))
  const ordinal = Number(record.id.split(":").at(-1))
  return {
    id: record.id,
    kind: record.kind,
    bed: record.bed,
    sowing: scene.sowing.sowing,
    ordinal,
    person: person.id,
    opens,
    lapses: later(opens, closes),
    state: record.settled ? stateOf(record.settled.how) : done ? "done" : "lapsed",
    speaks: null,
    call: 1,
    urgency: 0,
    pressing: false,
    text: "",
    short: "",
    words: [],
    days: {},
  }
}

function settledAs(kind: Kind, draft: Draft, scene: Scene, record: ReminderRecord | undefined): ReminderState | null {
  if (record?.settled) return stateOf(record.settled.how)
  if (draft.settledOn !== undefined) return "done"
  const facts = scene.record?.facts ?? []
  return facts.some((fact) => fact.on >= draft.since && kind.settles(fact)) ? "done" : null
}

/**
 * Once the log says that it lapsed unsaid, it is not brought up again where the plan moves its days once more. A cut is:
 * it matters whenever it can be made.
 */
function lapsedUnsaid(name: ReminderKind, record: ReminderRecord | undefined): boolean {
  return name !== "cut" && record?.lapsed != null && record.said.length === 0 && record.snoozed === null
}

/** A snooze past the end is granted, so the end moves with it. */
function lapseDay(draft: Draft, record: ReminderRecord | undefined): Day {
  const until = record?.snoozed?.until
  return until ? later(draft.lapses, addDays(until, TIMING.afterSnooze)) : draft.lapses
}

function openState(calling: Calling, next: NextCall | null): ReminderState {
  if (next && next.on <= calling.on) return "due"
  if (next?.waits) return "snoozed"
  if (saidTo(calling).length > 0) return "sent"
  return calling.on < calling.draft.opens ? "planned" : "due"
}

/** The words of the next call for the day it will be said; where nothing more is said, those of the newest call. */
function wordsOf(calling: Calling, next: NextCall | null, on: Day): Said {
  const call = next?.call ?? calling.draft.calls.filter((each) => each.on <= on).at(-1) ?? calling.draft.calls[0]
  if (!call) return { text: "", short: "", title: "", words: [] }
  const day = next ? later(next.on, on) : on
  const said = call.say(day)
  return { ...said, words: said.words.map((word) => (word === "SNOOZE" ? snoozeWord(day) : word)) }
}

/** Big work gets done at the weekend: Saturday is offered, on a weekend the bare word (tomorrow). */
function snoozeWord(day: Day): string {
  const today = weekdayWord(day)
  return today === "SAT" || today === "SUN" ? "SNOOZE" : "SNOOZE SAT"
}

function stateOf(how: "done" | "skipped"): ReminderState {
  return how
}
