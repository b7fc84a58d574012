import type { ServedGarden } from "../../bot/needs.ts"
import { type Instant, instantText } from "../../values/instant.ts"
import { plain, type Session, type Statement } from "./session.ts"

const SERVE: Statement = {
  name: "serve",
  text: `
    with wanted as (select distinct on (id) * from unnest($1::text[], $2::text[]) as w(id, mark)),
    gone as (
      update ryebell.garden g set mark = null, look_at = null, lease_until = null
       where g.mark is not null
         and (g.id = any($3::text[]) or ($4 and not exists (select from wanted w where w.id = g.id))))
    insert into ryebell.garden as g (id, mark, look_at)
    select id, mark, '-infinity' from wanted order by id
    on conflict (id) do update set mark = excluded.mark, look_at = '-infinity', lease_until = null
     where g.mark is distinct from excluded.mark`,
}
const CLAIM: Statement = {
  name: "claim_gardens",
  text: `
    with found as materialized (
      select id from ryebell.garden
       where look_at <= $1 and (lease_until is null or lease_until <= ryebell.clock())
       order by look_at, id limit $2 for update skip locked),
    taken as (
      update ryebell.garden g set lease_until = ryebell.clock() + $3 * interval '1 millisecond'
        from found where g.id = found.id
      returning g.id, g.look_at)
    select id from taken order by look_at, id`,
}
const LOOKED_AFTER: Statement = {
  name: "looked_after",
  text: `
    update ryebell.garden
       set lease_until = null, look_at = case when last_seq = $2 then $3 else '-infinity'::timestamptz end
     where id = $1 and mark is not null`,
}

/** Which gardens are served, and when somebody must look after each. */
export function gardenVerbs(session: Session) {
  return {
    async serve(gardens: readonly ServedGarden[], gone: readonly string[] | "all others"): Promise<void> {
      await session.again(SERVE, [
        gardens.map((garden) => plain(garden.id)),
        gardens.map((garden) => garden.mark),
        gone === "all others" ? [] : gone.map(plain),
        gone === "all others",
      ])
    },

    async claim(now: Instant, leaseMs: number, most: number): Promise<string[]> {
      return (await session.again<{ id: string }>(CLAIM, [instantText(now), most, leaseMs])).map((row) => row.id)
    },

    async lookedAfter(garden: string, seq: number, next: Instant): Promise<void> {
      await session.again(LOOKED_AFTER, [plain(garden), seq, instantText(next)])
    },
  }
}
