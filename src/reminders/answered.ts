import type { ReminderKind } from "../garden/entry.ts"
import type { History } from "../garden/facts.ts"
import type { Kind } from "./kind.ts"
import { TIMING } from "./timing.ts"

/** The texts of one kind that a person has not answered: by text (its entry), the reminders it spoke of. */
export type Unanswered = ReadonlyMap<number, ReadonlySet<string>>

/**
 * The texts of a kind since a person last answered one: settled or snoozed a number of that kind, or told a fact of it
 * (told by anybody: one answer counts for the household).
 */
export function unanswered(history: History, person: string, name: ReminderKind, kind: Kind): Unanswered {
  const answered = lastAnswer(history, person, name, kind)
  const texts = new Map<number, Set<string>>()
  for (const record of history.reminders.values()) {
    if (record.kind !== name) continue
    for (const said of record.said)
      if (said.to === person && said.seq > answered)
        texts.set(said.seq, (texts.get(said.seq) ?? new Set()).add(record.id))
  }
  return texts
}

/** Were so many texts about other reminders let go by that this one gets its first and last call only? */
export function isHushed(texts: Unanswered, id: string): boolean {
  const others = [...texts.values()].filter((ids) => ids.size > 1 || !ids.has(id))
  return others.length >= TIMING.unanswered
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
