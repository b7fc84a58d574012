import type { DuePerson, NewOutgoing, ReminderRow, Seen } from "../../bot/needs.ts"
import type { NewEntry } from "../../garden/entry.ts"
import { type Instant, instantText } from "../../values/instant.ts"
import { gather } from "./gather.ts"
import { appended, appending, columnsOf } from "./log.ts"
import { outgoingColumns, QUEUED } from "./outbox.ts"
import { plain, type Session, type Statement } from "./session.ts"

const PLACE: Statement = {
  name: "place_reminders",
  text: `
    with wanted as (
      select distinct on (person, id) * from unnest($2::text[], $3::text[], $4::timestamptz[]) as w(person, id, speaks_at)),
    closed as (
      delete from ryebell.reminder r
       where r.garden = $1 and not exists (select from wanted w where w.person = r.person and w.id = r.id)),
    people as (
      insert into ryebell.turn (garden, person) select distinct $1, person from wanted order by person
      on conflict do nothing)
    insert into ryebell.reminder as r (garden, person, id, speaks_at)
    select $1, person, id, speaks_at from wanted order by person, id
    on conflict (garden, person, id) do update set speaks_at = excluded.speaks_at
     where r.speaks_at <> excluded.speaks_at`,
}
// One row a person: that of their earliest reminder. Rows that another worker is just taking are stepped over. How many are
// wanted stands in the statement itself: then the server knows that they are few, and looks up the turn of each.
const CLAIMS = new Map<number, Statement>()
function claimOf(most: number): Statement {
  const known = CLAIMS.get(most)
  if (known) return known
  const made: Statement = {
    name: `claim_${most}_people`,
    text: `
    with found as materialized (
      select t.garden, t.person, r.speaks_at
        from ryebell.reminder r join ryebell.turn t on t.garden = r.garden and t.person = r.person
       where r.speaks_at <= $1
         and (t.lease_until is null or t.lease_until <= ryebell.clock())
         and not exists (select from ryebell.reminder first
                          where first.garden = r.garden and first.person = r.person
                            and (first.speaks_at, first.id) < (r.speaks_at, r.id))
         and not exists (select from ryebell.outgoing o
                          where o.garden = r.garden and o.person = r.person
                            and o.kind = 'nudge' and o.state in ('waiting', 'sending'))
       order by r.speaks_at, r.garden, r.person
       limit ${most} for update of t skip locked),
    taken as (
      update ryebell.turn t
         set lease = gen_random_uuid()::text, lease_until = ryebell.clock() + $2 * interval '1 millisecond', worker = $3
        from found where t.garden = found.garden and t.person = found.person
      returning t.garden, t.person, t.lease, found.speaks_at)
    select garden, person, lease,
           array(select r.id from ryebell.reminder r
                  where r.garden = taken.garden and r.person = taken.person and r.speaks_at <= $1
                  order by r.speaks_at, r.id) as reminders
      from taken order by taken.speaks_at, garden, person`,
  }
  CLAIMS.set(most, made)
  return made
}
// Gate of everything: the lease is still the caller's.
const SETTLE: Statement = {
  name: "settle_person",
  text: `
    with given_back as (
      update ryebell.turn set lease = null, lease_until = null, worker = null
       where garden = $1 and person = $2 and lease = $3
         and coalesce((select ryebell.follows(last_seq, $19) from ryebell.garden where id = $18), true) returning 1),
    change as (
      select * from unnest($4::text[], $5::text[], $6::timestamptz[]) as c(person, id, speaks_at)
       where exists (select from given_back)),
    moved as (
      update ryebell.reminder r set speaks_at = c.speaks_at from change c
       where r.garden = $1 and r.person = c.person and r.id = c.id and c.speaks_at is not null),
    closed as (
      delete from ryebell.reminder r using change c
       where r.garden = $1 and r.person = c.person and r.id = c.id and c.speaks_at is null),
    ${QUEUED(7, "exists (select from given_back)")},
    ${appending(15, "exists (select from given_back)")}
    select 1 from given_back left join begins on true limit 1`,
}

type Claim = { now: Instant; leaseMs: number }
/** So many people are claimed by one statement, where so many are asked for at once. */
const MOST_AT_ONCE = 50

/** When reminders speak next, and whose turn it is to be told. Nobody is told more while a nudge to them is on its way. */
export function reminderVerbs(session: Session, worker: string) {
  const claim = gather<Claim, DuePerson | null>(
    async (asks) => {
      const { now, leaseMs } = asks[0] as Claim
      const due = await session.again<DuePerson>(claimOf(asks.length), [instantText(now), leaseMs, worker])
      return asks.map((_, i) => due[i] ?? null)
    },
    { most: MOST_AT_ONCE, sameKind: (a, b) => a.now === b.now && a.leaseMs === b.leaseMs },
  )
  return {
    async place(garden: string, rows: readonly ReminderRow[]): Promise<void> {
      await session.again(PLACE, [
        plain(garden),
        rows.map((row) => plain(row.person)),
        rows.map((row) => plain(row.id)),
        rows.map((row) => instantText(row.speaksAt)),
      ])
    },

    claim: (now: Instant, leaseMs: number): Promise<DuePerson | null> => claim({ now, leaseMs }),

    /** False where somebody else has the turn now. */
    async settle(
      due: DuePerson,
      outgoing: readonly NewOutgoing[],
      moved: readonly { id: string; person: string; speaksAt: Instant | null }[],
      entries: readonly NewEntry[],
      seen: Seen | null,
    ): Promise<boolean> {
      const columns = columnsOf(entries)
      const rows = await session.again(SETTLE, [
        plain(due.garden),
        plain(due.person),
        due.lease,
        moved.map((each) => plain(each.person)),
        moved.map((each) => plain(each.id)),
        moved.map((each) => (each.speaksAt === null ? null : instantText(each.speaksAt))),
        ...outgoingColumns(outgoing),
        ...appended(columns, seen),
      ])
      return rows.length > 0
    },
  }
}
