import type { ReminderRecord } from "../garden/facts.ts"
import type { Person } from "../garden/garden.ts"
import { addDays, type Day, daysBetween, later } from "../values/day.ts"
import { localDay } from "../values/zone.ts"
import type { Call, Draft } from "./kind.ts"
import { TIMING } from "./timing.ts"

type SaidOnce = ReminderRecord["said"][number]

/** The next time a reminder speaks to a person. */
export type NextCall = {
  call: Call
  on: Day
  /** It waits because the gardener asked for it, or looked and it was not so yet. */
  waits: boolean
}

/** Everything that decides which call is next. */
export type Calling = {
  draft: Draft
  record: ReminderRecord | undefined
  person: Person
  on: Day
  /** Texts of this kind went unanswered: only first and last calls are said. */
  hushed: boolean
}

/**
 * The next call, or null where nothing more is to be said. Calls that were missed are not made up: of those that are due
 * only the newest counts. A snooze, and "not yet", put the next call on their day.
 */
export function nextCall(calling: Calling): NextCall | null {
  const calls = callsFor(calling)
  const postponed = postponedTo(calling)
  if (postponed) {
    const day = later(postponed, calling.on)
    const call = calls.filter((each) => each.on <= day).at(-1) ?? calls[0]
    return call ? { call, on: postponed, waits: true } : null
  }
  const open = calls.filter((call) => call.call > lastCallSaid(calling))
  const due = open.filter((call) => call.on <= calling.on).at(-1)
  const next = due ?? open[0]
  return next ? { call: next, on: spaced(next, calling), waits: false } : null
}

/** Two calls of one thing never come on neighbouring days: the second waits until two days after the first. */
function spaced(call: Call, calling: Calling): Day {
  const last = saidTo(calling).at(-1)
  if (!last) return call.on
  return later(call.on, addDays(localDay(last.at, calling.person.zone), TIMING.betweenCalls))
}

/** The day of the first call that follows `next`, as planned now. */
export function dayAfter(calling: Calling, next: NextCall): Day | null {
  const following = callsFor(calling).find((call) => call.call > next.call.call && call.on > later(next.on, calling.on))
  return following?.on ?? null
}

/** Was it said to this person, and not only to others? */
export function saidTo(calling: Pick<Calling, "record" | "person">): SaidOnce[] {
  return (calling.record?.said ?? []).filter((said) => said.to === calling.person.id)
}

function callsFor(calling: Calling): Call[] {
  const { calls } = calling.draft
  return calling.hushed ? calls.filter((call) => call.role === "first" || call.role === "last") : calls
}

/** The number of the newest call that was said and still stands: 0 where none does. */
function lastCallSaid(calling: Calling): number {
  let newest = 0
  for (const said of saidTo(calling)) {
    const number = said.call ?? callOn(calling, said)
    const call = calling.draft.calls.find((each) => each.call === number)
    if (call && !(movedOn(calling.draft, call, said) && !calling.record?.lapsed)) newest = Math.max(newest, number)
  }
  return newest
}

/** Which call was meant by a text that does not say: the newest one of its day. */
function callOn(calling: Calling, said: SaidOnce): number {
  const day = localDay(said.at, calling.person.zone)
  return calling.draft.calls.filter((call) => call.on <= day).at(-1)?.call ?? calling.draft.calls[0]?.call ?? 0
}

/** Has the day that the call was about moved so much later that it is worth saying again? */
function movedOn(draft: Draft, call: Call, said: SaidOnce): boolean {
  const told = said.days[call.about]
  const now = draft.days[call.about]
  return told !== undefined && now !== undefined && daysBetween(told, now) > TIMING.movedEnough
}

/** The day that the next call waits for, or null where nothing holds it back or it was said since. */
function postponedTo(calling: Calling): Day | null {
  const { record, person, draft } = calling
  const snooze = record?.snoozed?.by === person.id ? record.snoozed : null
  const held = [snooze, draft.notYet ?? null].filter((each) => each !== null)
  const open = held.filter(
    ({ until, seq }) => !saidTo(calling).some((said) => said.seq > seq && localDay(said.at, person.zone) >= until),
  )
  return open.reduce<Day | null>((latest, { until }) => (latest === null ? until : later(latest, until)), null)
}
