import { randomBytes } from "node:crypto"
import { closeSync, openSync, renameSync, rmSync } from "node:fs"
import { dirname, resolve } from "node:path"
import { DatabaseSync } from "node:sqlite"
import type pg from "pg"
import { type Instant, instantText } from "../../values/instant.ts"
import { CouldNot } from "../../values/problem.ts"
import { syncFile, syncFolder } from "../atomic-file.ts"
import { migrate } from "../migrate.ts"
import { knownSteps } from "../open.ts"
import { type Contents, checkSound } from "../sound.ts"
import { sumOf } from "../sqlite/sum.ts"
import { refuseNewerDatabase, versionIn } from "./migrate.ts"
import { connectAlone, placeOf } from "./session.ts"
import { troubleIn } from "./trouble.ts"

const ROWS_AT_ONCE = 1_000

type EntryRow = { garden: string; seq: number; body: string }
type ReminderRow = { garden: string; person: string; id: string; speaks_at: Instant }
type IncomingRow = { id: string; body: string; attempts: number; applied: boolean }
type KeptRow = { id: string; edition: number; host: string | null; body: string }
type MemoryRow = { name: string; value: string }
type OutgoingRow = {
  key: string
  garden: string
  person: string
  kind: string
  body: string
  state: string
  attempts: number
  due_at: Instant
  carrier_id: string | null
  fate: string | null
  last_error: string | null
}

/**
 * Copies a database, as it is at one moment, into one file of the same form as a backup of the file database. Workers may go
 * on meanwhile. The copy is looked through before it gets its name.
 */
export async function backupRows(url: string, newest: number, file: string): Promise<Contents> {
  const place = placeOf(url)
  const client = await connectAlone(url)
  const partial = `${file}.${randomBytes(4).toString("hex")}.partial`
  try {
    const version = await versionIn(client, place)
    refuseNewerDatabase(version, newest, place)
    if (version === 0) throw new CouldNot(`There is nothing to back up: ${place} holds no data of Ryebell.`)
    closeSync(openSync(partial, "wx", 0o600))
    const copy = new DatabaseSync(partial)
    let contents: Contents
    try {
      copy.exec("pragma journal_mode = off; pragma synchronous = off")
      migrate(copy, 0, knownSteps())
      await client.query("begin isolation level repeatable read, read only")
      copy.exec("begin")
      await copyRows(client, copy)
      copy.exec("commit")
      await client.query("commit")
      contents = checkSound(copy, file)
    } finally {
      copy.close()
    }
    syncFile(partial)
    renameSync(partial, file)
    syncFolder(dirname(resolve(file)))
    return contents
  } catch (error) {
    rmSync(partial, { force: true })
    throw backupTrouble(error, place)
  } finally {
    await client.end().catch(() => {})
  }
}

function backupTrouble(error: unknown, place: string): unknown {
  const code = (error as { code?: unknown }).code
  if (error instanceof Error && (code === "EACCES" || code === "ENOSPC" || code === "EROFS"))
    return new CouldNot(`The copy could not be written (${error.message}).`, { cause: error })
  return troubleIn(error, place) ?? error
}

async function copyRows(client: pg.Client, copy: DatabaseSync): Promise<void> {
  const entry = copy.prepare("insert into entry (garden, seq, line, sum) values (?, ?, ?, ?)")
  for await (const row of rowsOf<EntryRow>(
    client,
    "select garden, seq, body from ryebell.entry order by garden, seq",
  )) {
    const line = `{"seq":${row.seq},${row.body.slice(1)}`
    entry.run(row.garden, row.seq, line, sumOf(line))
  }
  const reminder = copy.prepare("insert into reminder (garden, person, id, speaks_at) values (?, ?, ?, ?)")
  for await (const row of rowsOf<ReminderRow>(client, "select garden, person, id, speaks_at from ryebell.reminder"))
    reminder.run(row.garden, row.person, row.id, instantText(row.speaks_at))
  const outgoing = copy.prepare(`
    insert into outgoing (key, garden, person, kind, body, sum, state, attempts, due_at, lease_until, carrier_id, fate, last_error)
    values (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`)
  for await (const row of rowsOf<OutgoingRow>(
    client,
    `select key, garden, person, kind, body, state, attempts, due_at, carrier_id, fate, last_error
       from ryebell.outgoing order by n`,
  )) {
    const due = instantText(row.due_at)
    // A try that is under way is unsettled for whoever restores.
    const lease = row.state === "sending" ? due : null
    const { key, garden, person, kind, body, state, attempts, carrier_id, fate, last_error } = row
    outgoing.run(
      key,
      garden,
      person,
      kind,
      body,
      sumOf(body),
      state,
      attempts,
      due,
      lease,
      carrier_id,
      fate,
      last_error,
    )
  }
  const incoming = copy.prepare("insert into incoming (id, body, sum, attempts, applied) values (?, ?, ?, ?, ?)")
  for await (const row of rowsOf<IncomingRow>(
    client,
    "select id, body, attempts, applied from ryebell.incoming order by n",
  ))
    incoming.run(row.id, row.body, sumOf(row.body), row.attempts, row.applied ? 1 : 0)
  const kept = copy.prepare("insert into kept_garden (id, edition, host, body, sum) values (?, ?, ?, ?, ?)")
  for await (const row of rowsOf<KeptRow>(client, "select id, edition, host, body from ryebell.kept_garden"))
    kept.run(row.id, row.edition, row.host, row.body, sumOf(row.body))
  const memory = copy.prepare("insert into memory (name, value) values (?, ?)")
  for await (const row of rowsOf<MemoryRow>(
    client,
    "select name, value from ryebell.memory where name not like 'probe:%' and name <> 'schema_sum'",
  ))
    memory.run(row.name, JSON.parse(row.value) as string)
}

/** Rows of a query, a bundle at a time, so that any number fits into memory. */
async function* rowsOf<Row extends pg.QueryResultRow>(client: pg.Client, query: string): AsyncGenerator<Row> {
  await client.query(`declare rows no scroll cursor for ${query}`)
  for (;;) {
    const { rows } = await client.query<Row>(`fetch ${ROWS_AT_ONCE} from rows`)
    yield* rows
    if (rows.length < ROWS_AT_ONCE) break
  }
  await client.query("close rows")
}
