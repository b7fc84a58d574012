import type { DatabaseSync } from "node:sqlite"
import type { ServedGarden } from "../../bot/needs.ts"
import { addMs, type Instant, instantText } from "../../values/instant.ts"

/** Which gardens are served, and when somebody must look after each. */
export function gardenVerbs(db: DatabaseSync) {
  const serve = db.prepare(`
    insert into garden (id, mark, look_at)
    select value ->> 'id', value ->> 'mark', '' from json_each(:gardens) where true
    on conflict (id) do update set mark = excluded.mark, look_at = '', lease_until = null
     where mark <> excluded.mark`)
  const leaveOthers = db.prepare("delete from garden where id not in (select value ->> 'id' from json_each(:gardens))")
  const leave = db.prepare("delete from garden where id in (select value from json_each(:gone))")
  const claim = db.prepare(`
    update garden set lease_until = :until
     where id in (select id from garden
                   where look_at <= :now and (lease_until is null or lease_until <= :now)
                   order by look_at, id limit :most)
    returning id, look_at`)
  const lookedAfter = db.prepare(`
    update garden
       set lease_until = null,
           look_at = case when (select coalesce(max(seq), 0) from entry where garden = :id) = :seq then :next else '' end
     where id = :id`)
  const giveBackAll = db.prepare("update garden set lease_until = null where lease_until is not null")

  return {
    serve(gardens: readonly ServedGarden[], gone: readonly string[] | "all others"): void {
      const json = JSON.stringify(gardens)
      if (gone === "all others") leaveOthers.run({ gardens: json })
      else leave.run({ gone: JSON.stringify(gone) })
      serve.run({ gardens: json })
    },

    claim(now: Instant, leaseMs: number, most: number): string[] {
      const rows = claim.all({ now: instantText(now), until: instantText(addMs(now, leaseMs)), most }) as Row[]
      return rows.sort(byTime).map((row) => row.id)
    },

    lookedAfter: (id: string, seq: number, next: Instant): void =>
      void lookedAfter.run({ id, seq, next: instantText(next) }),

    /** Leases of a process that is gone. */
    giveBackAll: () => void giveBackAll.run(),
  }
}

type Row = { id: string; look_at: string }

function byTime(a: Row, b: Row): number {
  return a.look_at < b.look_at ? -1 : a.look_at > b.look_at ? 1 : a.id < b.id ? -1 : 1
}
