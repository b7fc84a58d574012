import { type KeptGarden, LogMovedOn, type NewKeptGarden } from "../../bot/needs.ts"
import { plain, type Session, type Statement } from "./session.ts"

// The row of `edition` is locked first and until the end, and read anew behind the lock.
const KEEP: Statement = {
  name: "keep_garden",
  text: `
    with next as (update ryebell.edition set last = last + 1 returning last),
    changed as (
      update ryebell.kept_garden k set edition = next.last, host = $2, body = $3
        from next where k.id = $1 and k.edition = $4::bigint returning k.edition),
    made as (
      insert into ryebell.kept_garden (id, edition, host, body)
      select $1, last, $2, $3 from next where $4::bigint is null
      on conflict (id) do nothing returning edition)
    select edition from changed union all select edition from made`,
}
const KEPT: Statement = {
  name: "kept_gardens",
  text: "select id, edition, host, body from ryebell.kept_garden where edition > $1 order by edition",
}

/** Gardens that no file has. */
export function keptVerbs(session: Session) {
  return {
    ...keptReader(session),
    async keep({ id, host, text }: NewKeptGarden, before: number | null): Promise<KeptGarden> {
      const [row] = await session.once<{ edition: number }>(KEEP, [plain(id), host, plain(text), before])
      if (!row) throw new LogMovedOn(`the garden ${id} was changed meanwhile`)
      return { id, host, text: plain(text), edition: row.edition }
    },
  }
}

/** The verb that only reads. */
export function keptReader(session: Pick<Session, "again">) {
  return {
    async kept(edition: number): Promise<KeptGarden[]> {
      const rows = await session.again<{ id: string; edition: number; host: string | null; body: string }>(KEPT, [
        edition,
      ])
      return rows.map(({ body, ...row }) => ({ ...row, text: body }))
    },
  }
}
