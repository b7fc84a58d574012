import type { DatabaseSync } from "node:sqlite"
import { schemaSum } from "./migrate.ts"
import { sumOf } from "./sqlite/sum.ts"
import { damaged, troubleOf } from "./trouble.ts"

/** What a sound database holds: the last number of each garden's log. */
export type Contents = { garden: string; lastSeq: number }[]

/**
 * Looks a database through: the engine's own check of its pages and indexes, its tables and triggers
 * against their sum, then every row of the log, the messages out and the messages in against its sum, and the log for
 * holes. Throws a StoreTrouble `damaged`. It reads all of it, also in older versions: a later step of the database must
 * leave these columns their names, or teach this file the old ones.
 */
export function checkSound(db: DatabaseSync, file: string): Contents {
  try {
    checkPages(db, file)
    return checkRows(db, file)
  } catch (error) {
    // Whatever the engine stumbles over here (a table without its column, say) is damage.
    if (error instanceof Error && "code" in error && error.code === "ERR_SQLITE_ERROR")
      throw troubleOf(error, file) ?? damaged(file, error.message, { cause: error })
    throw error
  }
}

function checkPages(db: DatabaseSync, file: string): void {
  // The whole check and not the quick one: it holds rows against their indexes, so that a damaged flag or date is found too.
  const rows = db.prepare("pragma integrity_check").all()
  const found = rows.map((row) => String(Object.values(row)[0]))
  if (found.join() !== "ok") throw damaged(file, found[0] ?? "no answer from its own check")
  const sum = db.prepare("select value from memory where name = 'schema_sum'").get()
  if (sum?.value !== String(schemaSum(db))) throw damaged(file, "its tables are not those that were made")
}

function checkRows(db: DatabaseSync, file: string): Contents {
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
  // A version before had none.
  if (db.prepare("select 1 from sqlite_master where name = 'kept_garden'").get()) {
    const gardens = db.prepare("select id, body, sum from kept_garden")
    for (const row of gardens.iterate() as Iterable<{ id: string; body: string; sum: number }>)
      if (sumOf(row.body) !== row.sum) throw damaged(file, `the garden ${row.id} is not what was written`)
  }
  return [...last].map(([garden, lastSeq]) => ({ garden, lastSeq }))
}
