import type { ReminderKind } from "../garden/entry.ts"
import type { History } from "../garden/facts.ts"
import type { Kind } from "./kind.ts"
import { TIMING } from "./timing.ts"

/**
 * Has a person let three texts of this kind go by without any answer? An answer is a number settled or snoozed by them,
 * or a fact of the kind told by anybody.
 */
export function hushed(history: History, person: string, name: ReminderKind, kind: Kind): boolean {
  const answered = lastAnswer(history, person, name, kind)
  const texts = new Set<number>()
  for (const record of history.reminders.values()) {
    if (record.kind !== name) continue
    for (const said of record.said) if (said.to === person && said.seq > answered) texts.add(said.seq)
  }
  return texts.size >= TIMING.unanswered
}

function lastAnswer(history: History, person: string, name: ReminderKind, kind: Kind): number {
  let last = 0
  for (const record of history.reminders.values()) {
    if (record.kind !== name) continue
    if (record.settled?.by === person) last = Math.max(last, record.settled.seq)
    if (record.snoozed?.by === person) last = Math.max(last, record.snoozed.seq)
  }
  for (const records of history.beds.values())
    for (const { facts } of records) for (const fact of facts) if (kind.settles(fact)) last = Math.max(last, fact.seq)
  return last
}
