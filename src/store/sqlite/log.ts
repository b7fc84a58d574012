import type { DatabaseSync } from "node:sqlite"
import { LogMovedOn, type Seen } from "../../bot/needs.ts"
import type { Entry, NewEntry } from "../../garden/entry.ts"
import { logLine, numbered, readEntry } from "../../garden/read-log.ts"
import { damaged } from "../trouble.ts"
import { sealed, sumOf } from "./sum.ts"

type Row = { seq: number; line: string; sum: number }

/** The log: added to at its end, read from any number on, never changed. */
export function logVerbs(db: DatabaseSync, file: string) {
  const reader = logReader(db, file)
  const addLine = db.prepare("insert into entry (garden, seq, line, sum) values (?, ?, ?, ?)")
  return {
    ...reader,
    /** Inside a transaction of the caller. */
    append(entries: readonly NewEntry[], seen: Seen | null = null): Entry[] {
      const next = new Map<string, number>()
      if (seen) refuseWhereMoved(seen)
      return entries.map((entry) => {
        const seq = next.get(entry.garden) ?? reader.lastSeq(entry.garden) + 1
        next.set(entry.garden, seq + 1)
        const kept = numbered(entry, seq)
        const line = logLine(kept)
        addLine.run(entry.garden, seq, line, sumOf(line))
        return kept
      })
    },
  }

  function refuseWhereMoved({ garden, seq }: Seen): void {
    const last = reader.lastSeq(garden)
    if (last !== seq) throw new LogMovedOn(`the log of ${garden} has moved on: it stands at ${last}, not at ${seq}`)
  }
}

/** The verbs that only read: also for a connection that may not write. */
export function logReader(db: DatabaseSync, file: string) {
  const linesAfter = db.prepare("select seq, line, sum from entry where garden = ? and seq > ? order by seq")
  const lastSeq = db.prepare("select coalesce(max(seq), 0) as seq from entry where garden = ?")
  const gardens = db.prepare("select distinct garden from entry order by garden")
  return {
    /** None missing, none changed, all understood; else a StoreTrouble `damaged`. */
    entries(garden: string, after = 0): Entry[] {
      return (linesAfter.all(garden, after) as Row[]).map((row, index) => {
        const name = `entry ${row.seq} of garden ${garden}`
        const expected = after + index + 1
        if (row.seq !== expected) throw damaged(file, `entry ${expected} of garden ${garden} is missing`)
        const entry = readEntry(sealed({ body: row.line, sum: row.sum }, file, name))
        if (!entry || entry.seq !== row.seq || entry.garden !== garden) throw damaged(file, `${name} cannot be read`)
        return entry
      })
    },
    lastSeq: (garden: string): number => (lastSeq.get(garden) as { seq: number }).seq,
    gardens: (): string[] => (gardens.all() as { garden: string }[]).map((row) => row.garden),
  }
}
