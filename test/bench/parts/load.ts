import { openWorker } from "../../../src/bot/worker.ts"
import { openHandbook } from "../../../src/handbook/open.ts"
import { openPostgres } from "../../../src/store/postgres.ts"
import { type Instant, instant } from "../../../src/values/instant.ts"
import type { PostgresServer } from "../../stand-ins/postgres.ts"
import { officeHouse, plots } from "./office.ts"

/** Eight in the morning of a day in May, where all of the bench's gardens are. */
export const EIGHT = instant("2026-05-09T12:00:00Z")
/** An engine that hands nothing out: what a job does is done where it is called. */
export const ALONE = { hand: async () => {}, goOn: () => true }

export const handbook = openHandbook(new URL("../../../shared/", import.meta.url))

export type Loaded = Awaited<ReturnType<typeof loaded>>

/**
 * A database with so many gardens, each with the texts of three years behind it (`told` of them: as messages that went out,
 * and in the log) and ten reminders to come. Nothing is due.
 */
export async function loaded(server: PostgresServer, count: number, told: number) {
  const database = await server.create()
  const store = await openPostgres(server.url(database))
  const clock = { at: EIGHT as Instant, now: () => clock.at }
  const house = officeHouse(store, plots(count), clock, handbook)
  await openWorker(house).minute(ALONE)
  // For the loading alone: the log's rule that gardens exist is kept by how the rows are made.
  for (const [name, value] of Object.entries(LOADING))
    await server.run(database, `alter database ${database} set ${name} = ${value}`)
  await withoutIndexes(server, database, ["outgoing", "entry"], async () => {
    for (const sql of rows(count, told)) await server.run(database, sql)
  })
  for (const name of Object.keys(LOADING)) await server.run(database, `alter database ${database} reset ${name}`)
  // What a running server does behind everyone's back is done before anything is measured.
  for (const table of ["outgoing", "entry", "reminder", "garden", "turn", "memory"])
    await server.run(database, `vacuum analyze ryebell.${table}`)
  await server.run(database, "checkpoint")
  return { database, store, house, clock }
}

const LOADING = { synchronous_commit: "off", session_replication_role: "replica", maintenance_work_mem: "'1GB'" }

/** Of every five entries of a log four are calls of a reminder, and the fifth says that its days are over. */
const CALLS = 4

function rows(count: number, told: number): string[] {
  const last = count - 1
  const entries = Math.floor((told * (CALLS + 1)) / CALLS)
  const reminder = `'south:2023-09-20:cut:' || (k - 1) / ${CALLS + 1}`
  const call = `(k - 1) % ${CALLS + 1} + 1`
  const isTold = `${call} <= ${CALLS}`
  const day = `(date '2023-05-01' + k * ${Math.floor(1095 / entries)})`
  const key = `'nudge:plot-' || i || ':ines:' || ${day} || ':text:' || ${reminder} || '#' || ${call}`
  const items = `json_build_array(json_build_object('n', 1, 'id', ${reminder}, 'kind', 'cut', 'bed', 'south', 'call', ${call}))`
  const text = "'1) Cut South bed by Fri 14 May, before seed drops. Leave the roots in. Reply DONE 1 when it is cut.'"
  const everyone = `generate_series(0, ${last}) i`
  const past = `${everyone}, generate_series(1, ${entries}) k`
  return [
    `update ryebell.garden set look_at = timestamptz '2026-05-10T04:00:00Z', lease_until = null, last_seq = ${entries}`,
    `insert into ryebell.turn (garden, person) select 'plot-' || i, 'ines' from ${everyone} on conflict do nothing`,
    `insert into ryebell.memory (name, value) select 'since:plot-' || i, '"2023-05-01"' from ${everyone} on conflict do nothing`,
    // What is to come within the year.
    `insert into ryebell.reminder (garden, person, id, speaks_at)
     select 'plot-' || i, 'ines', 'south:2025-09-20:cut:' || k, timestamptz '2026-05-10T12:00:00Z' + (i * 7 + k * 101) % 8000 * interval '1 hour'
       from ${everyone}, generate_series(1, 10) k`,
    // What was told in three years: a message for each text,
    `insert into ryebell.outgoing (key, garden, person, kind, body, said, state, attempts, due_at, carrier_id, fate)
     select ${key}, 'plot-' || i, 'ines', 'nudge',
            json_build_object('key', ${key}, 'garden', 'plot-' || i, 'person', 'ines', 'kind', 'nudge', 'channel', 'text', 'to', '+1555' || (2000000 + i),
              'text', ${text}, 'seen', k, 'notBefore', '2026-05-09T12:00:00.000Z', 'goodUntil', '2026-05-09T23:30:00.000Z', 'told', ${items})::text,
            jsonb_build_array(${reminder}), 'sent', 1, ${day} + interval '12 hours', 'SM' || md5(i || ':' || k), 'delivered'
       from ${past} where ${isTold}`,
    // and the log.
    `insert into ryebell.entry (garden, seq, body)
     select 'plot-' || i, k, case when ${isTold}
       then json_build_object('at', ${day} || 'T12:00:00.000Z', 'garden', 'plot-' || i, 'by', 'ryebell', 'via', 'sms', 'kind', 'sent', 'to', 'ines', 'text', ${text},
              'told', ${items}, 'message', ${key})
       else json_build_object('at', ${day} || 'T12:00:00.000Z', 'garden', 'plot-' || i, 'by', 'ryebell', 'via', 'cli', 'kind', 'lapsed', 'of', ${reminder},
              'because', 'its days are over') end::text
       from ${past}`,
  ]
}

/** Fills tables while their indexes are away, and makes these again from their own words. */
async function withoutIndexes(
  server: PostgresServer,
  database: string,
  tables: readonly string[],
  fill: () => Promise<void>,
): Promise<void> {
  const named = tables.map((table) => `ryebell.${table}`)
  const constraints = await server.run(
    database,
    `select conrelid::regclass::text as of, conname as name, pg_get_constraintdef(oid) as words
       from pg_constraint where conrelid = any($1::regclass[]) and contype in ('p', 'u')`,
    [named],
  )
  for (const { of, name } of constraints) await server.run(database, `alter table ${of} drop constraint ${name}`)
  const indexes = await server.run(
    database,
    `select indexrelid::regclass::text as name, pg_get_indexdef(indexrelid) as words
       from pg_index where indrelid = any($1::regclass[])`,
    [named],
  )
  for (const { name } of indexes) await server.run(database, `drop index ${name}`)
  await fill()
  for (const { of, name, words } of constraints)
    await server.run(database, `alter table ${of} add constraint ${name} ${words}`)
  for (const { words } of indexes) await server.run(database, String(words))
}
