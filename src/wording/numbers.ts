import type { History } from "../garden/facts.ts"
import type { Reminder } from "../reminders/reminder.ts"
import { TIMING } from "../reminders/timing.ts"
import { type Day, daysBetween, later } from "../values/day.ts"
import type { Instant } from "../values/instant.ts"
import { localDay, type Zone } from "../values/zone.ts"

const HIGHEST = 99

/** A number as it was told to a person. `seq` orders what was told in one garden. */
export type Given = { n: number; id: string; at: Instant; settled: Day | null }

/** Every number that a person was told in a garden, oldest first. */
export function givenTo(history: History, person: string): Given[] {
  return [...history.reminders.values()]
    .flatMap((record) =>
      record.said
        .filter((said) => said.to === person)
        .map((said) => ({ n: said.n, id: record.id, at: said.at, settled: record.settled?.on ?? null })),
    )
    .sort((a, b) => a.at - b.at || a.n - b.n)
}

/**
 * Numbers for reminders that are about to be said. A reminder keeps the number it had; a new one gets the next that is
 * free, from 1 to 99 and round again. A number belongs to its reminder while that is open and for 30 days after.
 */
export function numbersFor(
  ids: readonly string[],
  given: readonly Given[],
  reminders: readonly Reminder[],
  on: Day,
  zone: Zone,
): Map<string, number> {
  const owner = new Map(given.map((each): [number, Given] => [each.n, each]))
  const open = new Set(reminders.filter(isOpen).map((reminder) => reminder.id))
  const found = new Map<string, number>()
  let last = lastNew(given)
  for (const id of ids) {
    const kept = [...owner.values()].find((each) => each.id === id)
    const n = kept?.n ?? nextFree(last, (n) => isTaken(owner.get(n), open, on, zone) || [...found.values()].includes(n))
    if (!kept) last = n
    found.set(id, n)
  }
  return found
}

function isOpen(reminder: Reminder): boolean {
  return reminder.state !== "done" && reminder.state !== "skipped" && reminder.state !== "lapsed"
}

function isTaken(owner: Given | undefined, open: ReadonlySet<string>, on: Day, zone: Zone): boolean {
  if (!owner) return false
  if (open.has(owner.id)) return true
  const used = localDay(owner.at, zone)
  const until = owner.settled ? later(used, owner.settled) : used
  return daysBetween(until, on) <= TIMING.numberKept
}

/** The number given last to a reminder that had none. */
function lastNew(given: readonly Given[]): number {
  const seen = new Set<string>()
  let last = 0
  for (const each of given) {
    if (!seen.has(each.id)) last = each.n
    seen.add(each.id)
  }
  return last
}

/** The first number after `last` that is not taken, round the clock of 99; where all are, simply the next. */
function nextFree(last: number, taken: (n: number) => boolean): number {
  for (let step = 1; step <= HIGHEST; step += 1) {
    const n = ((last + step - 1) % HIGHEST) + 1
    if (!taken(n)) return n
  }
  return (last % HIGHEST) + 1
}
