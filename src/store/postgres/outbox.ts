import type { NewOutgoing, Outgoing, OutgoingState, SendOutcome } from "../../bot/needs.ts"
import type { NewEntry } from "../../garden/entry.ts"
import { type Instant, instant, instantText } from "../../values/instant.ts"
import { isFate, wordsBefore } from "../fate.ts"
import { settledBody } from "../settled.ts"
import { gather } from "./gather.ts"
import { appended, appending, columnsOf } from "./log.ts"
import { plain, type Session, type Statement } from "./session.ts"

type Row = {
  body: string
  state: OutgoingState
  attempts: number
  due_at: Instant
  carrier_id: string | null
  fate: string | null
  last_error: string | null
  log_at?: number
}
const COLUMNS = "o.body, o.state, o.attempts, o.due_at, o.carrier_id, o.fate, o.last_error"

/** The part of a statement that queues messages where `gate` holds; takes the columns of `outgoingColumns` from `$first` on. */
export function QUEUED(first: number, gate: string): string {
  const p = (i: number) => `$${first + i}`
  return `
    queued as (
      insert into ryebell.outgoing (key, garden, person, kind, body, said, due_at)
      select key, garden, person, kind, body, said, due_at
        from unnest(${p(0)}::text[], ${p(1)}::text[], ${p(2)}::text[], ${p(3)}::text[], ${p(4)}::text[], ${p(5)}::jsonb[],
                    ${p(6)}::timestamptz[], ${p(7)}::int[]) as m(key, garden, person, kind, body, said, due_at, i)
       where ${gate} order by i
      on conflict (key) do nothing returning key)`
}

/** Messages as the columns that `QUEUED` takes. */
export function outgoingColumns(messages: readonly NewOutgoing[]): unknown[] {
  return [
    messages.map((message) => plain(message.key)),
    messages.map((message) => plain(message.garden)),
    messages.map((message) => plain(message.person)),
    messages.map((message) => message.kind),
    messages.map(bodyOf),
    messages.map((message) => JSON.stringify(message.told.map((told) => plain(told.id)))),
    messages.map((message) => instantText(message.notBefore)),
    messages.map((_, i) => i),
  ]
}

function bodyOf(message: NewOutgoing): string {
  return JSON.stringify({
    ...message,
    notBefore: instantText(message.notBefore),
    goodUntil: instantText(message.goodUntil),
  })
}

const QUEUE: Statement = { name: "queue", text: `with ${QUEUED(1, "true")} select key from queued` }
// The rows are taken by their numbers as an array: of that the server expects few, and looks each up, however many messages
// there are; a join it would make by reading all of them.
const CLAIM: Statement = {
  name: "claim_outgoing",
  text: `
    with answers as materialized (
      select n from ryebell.outgoing
       where state = 'waiting' and kind in ('answer', 'service') and due_at <= $1
       order by due_at, n limit $2 for update skip locked),
    others as materialized (
      select n from ryebell.outgoing
       where state = 'waiting' and kind not in ('answer', 'service') and due_at <= $1
       order by due_at, n limit greatest(0, $2 - (select count(*) from answers)) for update skip locked),
    taken as (
      update ryebell.outgoing o
         set state = 'sending', attempts = attempts + 1, worker = $4,
             lease_until = ryebell.clock() + $3 * interval '1 millisecond'
       where o.n = any(array(select n from answers union all select n from others))
      returning o.n, o.garden, o.kind, ${COLUMNS})
    select ${COLUMNS}, coalesce(g.last_seq, 0) as log_at
      from taken o left join ryebell.garden g on g.id = o.garden
     order by o.kind not in ('answer', 'service'), due_at, n`,
}
// What a nudge said is closed with it: a replan while it was on its way may have placed that as due again.
const SETTLE: Statement = {
  name: "settle_outgoing",
  text: `
    with outcome as (
      select * from unnest($1::text[], $2::int[], $3::text[], $4::timestamptz[], $5::text[], $6::text[])
        as o(key, attempt, state, due_at, carrier_id, error)),
    settled as (
      update ryebell.outgoing m
         set state = o.state, due_at = coalesce(o.due_at, m.due_at), lease_until = null, worker = null,
             carrier_id = coalesce(o.carrier_id, m.carrier_id), last_error = o.error
        from outcome o
       where m.key = o.key and m.attempts = o.attempt and m.state = 'sending'
      returning m.key, m.state, m.kind, m.garden, m.person, m.said, m.due_at,
                m.state in ('sent', 'failed', 'dropped') and m.body like '%"channel":"mail"%' as is_mail),
    closed as (
      delete from ryebell.reminder r
       using settled s, jsonb_array_elements_text(s.said) as told(id)
       where s.state = 'sent' and s.kind = 'nudge'
         and r.garden = s.garden and r.person = s.person and r.id = told.id and r.speaks_at <= s.due_at),
    ${appending(7, "e.of in (select key from settled)")}
    select key, is_mail from settled`,
}
const BODIES: Statement = { name: "bodies", text: "select key, body from ryebell.outgoing where key = any($1::text[])" }
const SLIM: Statement = {
  name: "slim_outgoing",
  text: `
    update ryebell.outgoing m set body = o.body
      from unnest($1::text[], $2::text[]) as o(key, body) where m.key = o.key`,
}
const ONE: Statement = { name: "outgoing", text: `select ${COLUMNS} from ryebell.outgoing o where key = $1` }
// Under a lease of the database's clock, or to be asked about from an instant on that the last try gave.
const UNSETTLED: Statement = {
  name: "unsettled_outgoing",
  text: `
    select ${COLUMNS} from ryebell.outgoing o
     where state = 'sending' and due_at <= $1 and (lease_until is null or lease_until <= ryebell.clock())
     order by due_at, n`,
}
const FATE: Statement = {
  name: "record_fate",
  text: `
    update ryebell.outgoing set fate = $2, last_error = coalesce($3, last_error)
     where key = $1 and (fate is null or fate = any($4::text[])) returning n`,
}

type Claim = { now: Instant; leaseMs: number }
type Settlement = { key: string; attempt: number; outcome: SendOutcome; entries: readonly NewEntry[] }
/** So many messages go into one statement, where so many are asked for at once. */
const MOST_AT_ONCE = 100
/** While the disk takes one statement's rows, another is worked on. */
const STATEMENTS = 2

/** Messages to people: queued once by their key, claimed by one try at a time, settled by that try only. */
export function outboxVerbs(session: Session, worker: string) {
  const claim = gather<Claim, Outgoing | null>(
    async (asks) => {
      const { now, leaseMs } = asks[0] as Claim
      const rows = await session.again<Row>(CLAIM, [instantText(now), asks.length, leaseMs, worker])
      return asks.map((_, i) => (rows[i] ? read(rows[i]) : null))
    },
    { most: MOST_AT_ONCE, atOnce: STATEMENTS, sameKind: (a, b) => a.now === b.now && a.leaseMs === b.leaseMs },
  )
  const settle = gather<Settlement, boolean>(settleTogether, {
    most: MOST_AT_ONCE,
    atOnce: STATEMENTS,
    keyOf: (each) => each.key,
  })

  async function settleTogether(each: readonly Settlement[]): Promise<boolean[]> {
    const columns = columnsOf(each.flatMap((one) => one.entries))
    const of = each.flatMap((one) => one.entries.map(() => plain(one.key)))
    const again = each.map(({ outcome }) => ("dueAt" in outcome ? instantText(outcome.dueAt) : null))
    const rows = await session.again<{ key: string; is_mail: boolean }>(SETTLE, [
      each.map((one) => plain(one.key)),
      each.map((one) => one.attempt),
      // What is unknown stays in `sending`, so that nobody sends it before the carrier was asked.
      each.map(({ outcome: { is } }) => (is === "later" ? "waiting" : is === "unknown" ? "sending" : is)),
      again,
      each.map(({ outcome }) => (outcome.is === "sent" && outcome.carrierId ? plain(outcome.carrierId) : null)),
      each.map(({ outcome }) => (outcome.is === "sent" ? null : plain(`${outcome.code}: ${outcome.text}`))),
      ...appended(columns, null, of),
    ])
    const settled = new Set(rows.map((row) => row.key))
    await slimDown(rows.filter((row) => row.is_mail).map((row) => row.key))
    return each.map((one) => settled.has(plain(one.key)))
  }

  /** Not of one piece with the settlement: whoever dies in between leaves a mail as long as it was, and nothing else. */
  async function slimDown(keys: readonly string[]): Promise<void> {
    if (keys.length === 0) return
    const rows = await session.again<{ key: string; body: string }>(BODIES, [keys])
    const slim = rows.flatMap(({ key, body }) => {
      const rest = settledBody(body)
      return rest === null ? [] : [{ key, body: rest }]
    })
    if (slim.length > 0) await session.again(SLIM, [slim.map((each) => each.key), slim.map((each) => each.body)])
  }

  return {
    /** The keys that were new. */
    async queue(messages: readonly NewOutgoing[]): Promise<string[]> {
      if (messages.length === 0) return []
      const rows = await session.again<{ key: string }>(QUEUE, outgoingColumns(messages))
      const added = new Set(rows.map((row) => row.key))
      return messages.filter((message) => added.delete(plain(message.key))).map((message) => message.key)
    },

    claim: (now: Instant, leaseMs: number): Promise<Outgoing | null> => claim({ now, leaseMs }),

    settle: (key: string, attempt: number, outcome: SendOutcome, entries: readonly NewEntry[]): Promise<boolean> =>
      settle({ key, attempt, outcome, entries }),

    async one(key: string): Promise<Outgoing | null> {
      const [row] = await session.again<Row>(ONE, [plain(key)])
      return row ? read(row) : null
    },

    async unsettled(now: Instant): Promise<Outgoing[]> {
      return (await session.again<Row>(UNSETTLED, [instantText(now)])).map(read)
    },

    async recordFate(key: string, fate: string, code: string | null): Promise<boolean> {
      if (!isFate(fate)) return false
      return (await session.again(FATE, [plain(key), fate, code, wordsBefore(fate)])).length === 1
    },
  }
}

function read(row: Row): Outgoing {
  const body = JSON.parse(row.body)
  return {
    ...body,
    notBefore: instant(body.notBefore),
    goodUntil: instant(body.goodUntil),
    state: row.state,
    attempts: row.attempts,
    dueAt: row.due_at,
    carrierId: row.carrier_id,
    fate: row.fate,
    lastError: row.last_error,
    ...(row.log_at === undefined ? {} : { logAt: row.log_at }),
  }
}

const FATES: Statement = {
  name: "fates_of_garden",
  text: "select key, fate from ryebell.outgoing where garden = $1 and fate is not null",
}

/** The verb that only reads. */
export function fateReader(session: Session) {
  return {
    async fates(garden: string): Promise<Map<string, string>> {
      const rows = await session.again<{ key: string; fate: string }>(FATES, [garden])
      return new Map(rows.map(({ key, fate }) => [key, fate]))
    },
  }
}
