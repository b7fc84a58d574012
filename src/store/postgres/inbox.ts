import type { Incoming, KeptIncoming, NewOutgoing, Seen } from "../../bot/needs.ts"
import type { Entry, NewEntry } from "../../garden/entry.ts"
import { type Instant, instant, instantText } from "../../values/instant.ts"
import { appended, appending, type Begin, columnsOf, underNumbers } from "./log.ts"
import { outgoingColumns, QUEUED } from "./outbox.ts"
import { plain, type Session, type Statement } from "./session.ts"

const KEEP: Statement = {
  name: "keep_incoming",
  text: `insert into ryebell.incoming (id, sender, body) values ($1, $2, $3) on conflict (id) do nothing returning n`,
}
// While the first try of a person's message is under way, their later ones wait: words are taken in the order they came.
const CLAIM: Statement = {
  name: "claim_incoming",
  text: `
    with found as materialized (
      select n from ryebell.incoming i
       where not applied and (lease_until is null or lease_until <= ryebell.clock())
         and not exists (select from ryebell.incoming before
                          where not before.applied and before.sender = i.sender and before.n < i.n
                            and before.attempts = 1 and before.lease_until > ryebell.clock())
       order by n limit 1 for update skip locked)
    update ryebell.incoming i
       set attempts = attempts + 1, worker = $2,
           lease_until = ryebell.clock() + $1 * interval '1 millisecond'
      from found where i.n = found.n
    returning i.body, i.attempts`,
}
// Gate of everything else: the message was not applied before.
const SETTLE: Statement = {
  name: "settle_incoming",
  text: `
    with applied as (
      update ryebell.incoming set applied = true, lease_until = null, worker = null
       where id = $1 and not applied returning n),
    ${QUEUED(2, "exists (select from applied)")},
    ${appending(10, "exists (select from applied)")}
    select (select count(*) from applied) as applied, garden, last
      from (select 1) as always left join begins on true`,
}
const KNOWN: Statement = { name: "known_incoming", text: "select 1 from ryebell.incoming where id = $1" }

/** Messages from outside: kept first, applied once. */
export function inboxVerbs(session: Session, worker: string) {
  return {
    async keep(incoming: Incoming): Promise<"new" | "repeat"> {
      const body = JSON.stringify({ ...incoming, at: instantText(incoming.at) })
      const rows = await session.again(KEEP, [plain(incoming.id), plain(incoming.from), body])
      return rows.length === 1 ? "new" : "repeat"
    },

    /** Everything that is kept and free is due, whatever the caller's clock says. */
    async claim(_now: Instant, leaseMs: number): Promise<KeptIncoming | null> {
      const [row] = await session.again<{ body: string; attempts: number }>(CLAIM, [leaseMs, worker])
      if (!row) return null
      const kept = JSON.parse(row.body)
      return { ...kept, at: instant(kept.at), attempts: row.attempts }
    },

    async settle(
      id: string,
      entries: readonly NewEntry[],
      outgoing: readonly NewOutgoing[],
      seen: Seen | null,
    ): Promise<Entry[]> {
      const columns = columnsOf(entries)
      const rows = await session.again<Begin & { applied: number }>(SETTLE, [
        plain(id),
        ...outgoingColumns(outgoing),
        ...appended(columns, seen),
      ])
      if (rows[0]?.applied === 1) return underNumbers(columns, rows)
      if ((await session.again(KNOWN, [plain(id)])).length === 0)
        throw new RangeError(`a message that was never kept cannot be settled: ${id}`)
      return []
    },
  }
}
