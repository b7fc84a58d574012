import type { DatabaseSync } from "node:sqlite"
import type pg from "pg"
import { CouldNot } from "../../values/problem.ts"
import { connectAlone, placeOf, plain } from "./session.ts"
import { troubleIn } from "./trouble.ts"

const ROWS_AT_ONCE = 1_000

type Row = Record<string, unknown>

/**
 * What is copied: read from the backup, put into the form that our columns have, written by a statement that takes columns.
 * `since`: the table that a later version added.
 */
type Copy = { read: string; columns: readonly string[]; as?: (row: Row) => Row; write: string; since?: string }

const COPIES: readonly Copy[] = [
  {
    read: "select garden, max(seq) as seq from entry group by garden",
    columns: ["garden", "seq"],
    write: "insert into ryebell.garden (id, last_seq) select * from unnest($1::text[], $2::int[])",
  },
  {
    read: "select garden, seq, line from entry",
    columns: ["garden", "seq", "body"],
    as: (row) => ({ ...row, body: `{${String(row.line).slice(`{"seq":${row.seq},`.length)}` }),
    write: "insert into ryebell.entry (garden, seq, body) select * from unnest($1::text[], $2::int[], $3::text[])",
  },
  {
    read: "select garden, person, id, speaks_at from reminder",
    columns: ["garden", "person", "id", "speaks_at"],
    write: `insert into ryebell.reminder (garden, person, id, speaks_at)
            select * from unnest($1::text[], $2::text[], $3::text[], $4::timestamptz[])`,
  },
  {
    read: "select distinct garden, person from reminder",
    columns: ["garden", "person"],
    write: "insert into ryebell.turn (garden, person) select * from unnest($1::text[], $2::text[])",
  },
  {
    read: `select key, garden, person, kind, body, state, attempts, due_at, carrier_id, fate, last_error
             from outgoing order by n`,
    columns: [
      "key",
      "garden",
      "person",
      "kind",
      "body",
      "said",
      "state",
      "attempts",
      "due_at",
      "carrier_id",
      "fate",
      "last_error",
    ],
    as: (row) => ({ ...row, said: JSON.stringify(idsIn(JSON.parse(String(row.body)))) }),
    write: `insert into ryebell.outgoing
              (key, garden, person, kind, body, said, state, attempts, due_at, carrier_id, fate, last_error)
            select * from unnest($1::text[], $2::text[], $3::text[], $4::text[], $5::text[], $6::jsonb[], $7::text[],
                                 $8::int[], $9::timestamptz[], $10::text[], $11::text[], $12::text[])`,
  },
  {
    read: "select id, body, attempts, applied from incoming order by n",
    columns: ["id", "sender", "body", "attempts", "applied"],
    as: (row) => ({ ...row, sender: JSON.parse(String(row.body)).from, applied: row.applied === 1 }),
    write: `insert into ryebell.incoming (id, sender, body, attempts, applied)
            select * from unnest($1::text[], $2::text[], $3::text[], $4::int[], $5::bool[])`,
  },
  {
    read: "select id, edition, host, body from kept_garden",
    columns: ["id", "edition", "host", "body"],
    since: "kept_garden",
    write: `with rows as (insert into ryebell.kept_garden (id, edition, host, body)
              select * from unnest($1::text[], $2::bigint[], $3::text[], $4::text[]) returning edition)
            update ryebell.edition set last = greatest(last, (select max(edition) from rows))`,
  },
  {
    read: "select name, value from memory where name not in ('schema_sum', 'probe', 'hold')",
    columns: ["name", "value"],
    as: (row) => ({ ...row, value: JSON.stringify(row.value) }),
    write: "insert into ryebell.memory (name, value) select * from unnest($1::text[], $2::text[])",
  },
]

function idsIn({ told }: { told: { id: string }[] }): string[] {
  return told.map((each) => plain(each.id))
}

/**
 * Fills an empty database out of a backup of either kind. Refuses where anything is there already. The restored database
 * remembers under `hold` why nothing may be sent before somebody looked.
 */
export async function restoreRows(url: string, backup: DatabaseSync, hold: string): Promise<void> {
  const place = placeOf(url)
  const client = await connectAlone(url)
  try {
    await client.query("begin")
    await client.query("lock table ryebell.entry, ryebell.outgoing, ryebell.incoming, ryebell.memory in exclusive mode")
    await refuseData(client, place)
    for (const copy of COPIES) await copyRows(client, backup, copy)
    await client.query("insert into ryebell.memory (name, value) values ('hold', $1)", [JSON.stringify(hold)])
    await client.query("commit")
  } catch (error) {
    await client.query("rollback").catch(() => {})
    throw troubleIn(error, place) ?? error
  } finally {
    await client.end().catch(() => {})
  }
}

async function refuseData(client: pg.Client, place: string): Promise<void> {
  const { rows } = await client.query<{ filled: boolean }>(`
    select exists (select from ryebell.entry) or exists (select from ryebell.outgoing)
        or exists (select from ryebell.kept_garden) or exists (select from ryebell.incoming) or exists (select from ryebell.memory) as filled`)
  if (rows[0]?.filled)
    throw new CouldNot(
      `${place} holds data already, and a restore overwrites nothing. Make a new database, set DATABASE_URL to it, and restore again.`,
    )
}

async function copyRows(
  client: pg.Client,
  backup: DatabaseSync,
  { read, columns, as, write, since }: Copy,
): Promise<void> {
  // A backup of a version before has none of them.
  if (since && !backup.prepare("select 1 from sqlite_master where name = ?").get(since)) return
  let bundle: Row[] = []
  const send = async () => {
    if (bundle.length === 0) return
    const texts = (value: unknown) => (typeof value === "string" ? plain(value) : value)
    await client.query(
      write,
      columns.map((name) => bundle.map((row) => texts(row[name]))),
    )
    bundle = []
  }
  for (const row of backup.prepare(read).iterate()) {
    bundle.push(as ? as(row) : row)
    if (bundle.length >= ROWS_AT_ONCE) await send()
  }
  await send()
}
