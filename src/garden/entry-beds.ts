import type { Act } from "./acts.ts"
import type { Entry, EntryOf } from "./entry.ts"

/**
 * The beds that each entry of one garden's log is about, by number of the entry; none where it is about no bed. A number
 * in a reply is looked up in what its sender was told last under that number; an answer is about the beds of what it
 * answers, an undo about those of what it takes back.
 */
export function bedsOfEntries(entries: readonly Entry[]): Map<number, string[]> {
  const beds = new Map<number, string[]>()
  /** By person: the bed of each number they were told. */
  const told = new Map<string, Map<number, string>>()
  for (const entry of entries) beds.set(entry.seq, [...new Set(bedsOf(entry, beds, told))])
  return beds
}

function bedsOf(entry: Entry, before: ReadonlyMap<number, string[]>, told: Map<string, Map<number, string>>): string[] {
  switch (entry.kind) {
    case "reply":
      return entry.acts.flatMap((act) => bedsOfAct(act, told.get(entry.by)))
    case "sent":
      noteTold(entry, told)
      return entry.told.map((each) => each.bed)
    case "digest":
      return entry.told.map((each) => each.bed)
    case "answer":
      return before.get(entry.answers ?? 0) ?? []
    case "undo":
      return before.get(entry.undone) ?? []
    case "failed":
      return entry.of.map(bedOfReminder)
    case "lapsed":
      return [bedOfReminder(entry.of)]
    case "channel":
      return []
    default:
      return entry satisfies never
  }
}

function noteTold(entry: EntryOf<"sent">, told: Map<string, Map<number, string>>): void {
  const numbers = told.get(entry.to) ?? new Map<number, string>()
  for (const { n, bed } of entry.told) numbers.set(n, bed)
  told.set(entry.to, numbers)
}

function bedsOfAct(act: Act, numbers: ReadonlyMap<number, string> | undefined): string[] {
  const named = "bed" in act && act.bed !== null ? [act.bed] : []
  const numbered = "n" in act && act.n !== null ? [act.n].flat() : []
  return [...named, ...numbered.flatMap((n) => numbers?.get(n) ?? [])]
}

/** A reminder's id begins with its bed: `south:2025-09-20:cut:1`. */
function bedOfReminder(id: string): string {
  return id.split(":")[0] ?? id
}
