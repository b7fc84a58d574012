import type { DatabaseSync } from "node:sqlite"
import type { Incoming, KeptIncoming } from "../../bot/needs.ts"
import { addMs, type Instant, instant, instantText } from "../../values/instant.ts"
import { sealed, sumOf } from "./sum.ts"

/** Messages from outside: kept first, applied once. */
export function inboxVerbs(db: DatabaseSync, file: string) {
  const keep = db.prepare("insert into incoming (id, body, sum) values (:id, :body, :sum) on conflict (id) do nothing")
  const claim = db.prepare(`
    update incoming set attempts = attempts + 1, lease_until = :until
     where n = (select n from incoming
                 where applied = 0 and (lease_until is null or lease_until <= :now)
                 order by n limit 1)
    returning id, body, sum, attempts`)
  const markApplied = db.prepare("update incoming set applied = 1, lease_until = null where id = ? and applied = 0")
  const known = db.prepare("select 1 from incoming where id = ?")
  const giveBackAll = db.prepare("update incoming set lease_until = null where applied = 0 and lease_until is not null")

  return {
    keep(incoming: Incoming): "new" | "repeat" {
      const body = JSON.stringify({ ...incoming, at: instantText(incoming.at) })
      return keep.run({ id: incoming.id, body, sum: sumOf(body) }).changes === 1 ? "new" : "repeat"
    },

    claim(now: Instant, leaseMs: number): KeptIncoming | null {
      const until = instantText(addMs(now, leaseMs))
      const row = claim.get({ now: instantText(now), until }) as
        | { id: string; body: string; sum: number; attempts: number }
        | undefined
      if (!row) return null
      const kept = JSON.parse(sealed(row, file, `incoming message ${row.id}`))
      return { ...kept, at: instant(kept.at), attempts: row.attempts }
    },

    /** False where it was applied before; throws where it was never kept. */
    markApplied(id: string): boolean {
      if (markApplied.run(id).changes === 1) return true
      if (!known.get(id)) throw new RangeError(`a message that was never kept cannot be settled: ${id}`)
      return false
    },

    /** Leases of a process that is gone. */
    giveBackAll: () => void giveBackAll.run(),
  }
}
