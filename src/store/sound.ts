import type { DatabaseSync } from "node:sqlite"
import { sumOf } from "./sqlite/sum.ts"
import { damaged } from "./trouble.ts"

/** What a sound database holds: the last number of each garden's log. */
export type Contents = { garden: string; lastSeq: number }[]

/**
 * Looks a database through: the engine's own check of its pages (`thorough`: of its indexes too), then every row of the log,
 * the messages out and the messages in against its sum, and the log for holes. Throws a StoreTrouble `damaged`.
 * Reads all of it: about a second for a million entries.
 */
export function checkSound(db: DatabaseSync, file: string, thorough = false): Contents {
  const pragma = thorough ? "integrity_check" : "quick_check"
  const found = (db.prepare(`pragma ${pragma}`).all() as Record<string, string>[]).map((row) =>
    String(Object.values(row)[0]),
  )
  if (found.join() !== "ok") throw damaged(file, found[0] ?? "no answer from its own check")

  const last = new Map<string, number>()
  const log = db.prepare("select garden, seq, line as body, sum from entry order by garden, seq")
  for (const row of log.iterate() as Iterable<{ garden: string; seq: number; body: string; sum: number }>) {
    const expected = (last.get(row.garden) ?? 0) + 1
    if (row.seq !== expected) throw damaged(file, `entry ${expected} of garden ${row.garden} is missing`)
    if (sumOf(row.body) !== row.sum)
      throw damaged(file, `entry ${row.seq} of garden ${row.garden} is not what was written`)
    last.set(row.garden, row.seq)
  }
  for (const table of ["outgoing", "incoming"]) {
    const rows = db.prepare(`select n, body, sum from ${table}`)
    for (const row of rows.iterate() as Iterable<{ n: number; body: string; sum: number }>) {
      if (sumOf(row.body) !== row.sum) throw damaged(file, `${table} message ${row.n} is not what was written`)
    }
  }
  return [...last].map(([garden, lastSeq]) => ({ garden, lastSeq }))
}
