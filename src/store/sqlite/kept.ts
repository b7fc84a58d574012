import type { DatabaseSync } from "node:sqlite"
import { type KeptGarden, LogMovedOn, type NewKeptGarden } from "../../bot/needs.ts"
import { sealed, sumOf } from "./sum.ts"

type Row = { id: string; edition: number; host: string | null; body: string; sum: number }

/** Gardens that no file has. */
export function keptVerbs(db: DatabaseSync, file: string) {
  const next = db.prepare("select coalesce(max(edition), 0) + 1 as edition from kept_garden")
  const edition = db.prepare("select edition from kept_garden where id = ?")
  const keep = db.prepare(`
    insert into kept_garden (id, edition, host, body, sum) values (:id, :edition, :host, :body, :sum)
    on conflict (id) do update set edition = excluded.edition, host = excluded.host, body = excluded.body, sum = excluded.sum`)
  return {
    ...keptReader(db, file),
    /** Inside a transaction of the caller. */
    keep({ id, host, text }: NewKeptGarden, before: number | null): KeptGarden {
      const stands = (edition.get(id) as { edition: number } | undefined)?.edition ?? null
      if (stands !== before) throw new LogMovedOn(`the garden ${id} was changed meanwhile: it is at ${stands}`)
      const kept = { id, host, text, edition: (next.get() as { edition: number }).edition }
      keep.run({ id, edition: kept.edition, host, body: text, sum: sumOf(text) })
      return kept
    },
  }
}

/** The verb that only reads: also for a connection that may not write. */
export function keptReader(db: DatabaseSync, file: string) {
  const after = db.prepare("select id, edition, host, body, sum from kept_garden where edition > ? order by edition")
  return {
    kept: (edition: number): KeptGarden[] =>
      (after.all(edition) as Row[]).map((row) => ({
        id: row.id,
        edition: row.edition,
        host: row.host,
        text: sealed(row, file, `the garden ${row.id}`),
      })),
  }
}
