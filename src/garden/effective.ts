import { addDays, type Day } from "../values/day.ts"
import { instantAt, type Zone } from "../values/zone.ts"
import type { Entry, EntryOf } from "./entry.ts"

/** The log as it stood at the end of a day of the garden's calendar. */
export function entriesUpTo(entries: readonly Entry[], on: Day, zone: Zone): Entry[] {
  const end = instantAt(addDays(on, 1), 0, zone)
  return entries.filter((entry) => entry.at < end)
}

/** Sequence numbers of the entries that are taken back. An undo that is itself taken back takes nothing back. */
export function undoneSeqs(entries: readonly Entry[]): Set<number> {
  const undone = new Set<number>()
  const undos = entries.filter((entry): entry is EntryOf<"undo"> => entry.kind === "undo")
  for (const undo of undos.toReversed()) if (!undone.has(undo.seq)) undone.add(undo.undone)
  return undone
}

/** The entries that count: those taken back are left out, and so are undos and what was set aside as ignored. */
export function effective(entries: readonly Entry[]): Entry[] {
  const undone = undoneSeqs(entries)
  return entries.filter(
    (entry) =>
      !undone.has(entry.seq) && entry.kind !== "undo" && !(entry.kind === "reply" && entry.ignored !== undefined),
  )
}

/** Acts that change nothing and so cannot be taken back. */
const HARMLESS = new Set(["tell", "help", "undo"])

/**
 * The last reply of a person that changed something and still counts: what a bare UNDO takes back. STOP and START are
 * not taken back by UNDO: they have words of their own.
 */
export function lastChangeBy(entries: readonly Entry[], person: string): EntryOf<"reply"> | null {
  const changes = effective(entries).filter(
    (entry): entry is EntryOf<"reply"> =>
      entry.kind === "reply" &&
      entry.by === person &&
      entry.acts.some((act) => !HARMLESS.has(act.act) && act.act !== "stop" && act.act !== "start"),
  )
  return changes.at(-1) ?? null
}
