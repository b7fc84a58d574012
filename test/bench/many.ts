import { type ChildProcessWithoutNullStreams, spawn } from "node:child_process"
import { PgBoss } from "pg-boss"
import { applyIncoming, receive } from "../../src/bot/receive.ts"
import { openWorker } from "../../src/bot/worker.ts"
import { openHandbook } from "../../src/handbook/open.ts"
import { openPostgres } from "../../src/store/postgres.ts"
import { addMs, DAY_MS, type Instant, instant, instantText, MINUTE_MS } from "../../src/values/instant.ts"
import { type PostgresServer, startPostgres, WITHOUT_POSTGRES } from "../stand-ins/postgres.ts"
import { officeHouse, plots } from "./parts/office.ts"

/*
 * Many gardeners on a real PostgreSQL. Every figure stands beside a limit measured in the same run; ratios carry over to
 * another machine, times do not. `SCALE=0.1` makes everything a tenth as large.
 */
const SCALE = Number(process.env.SCALE ?? "1")
const MANY = Math.round(100_000 * SCALE)
const FEW = Math.round(1_000 * Math.min(1, SCALE * 10))
const TEXTS = Math.round(50_000 * SCALE)
/** Texts told to each gardener before: three years of two in three weeks and a little more. */
const TOLD = Number(process.env.TOLD ?? "120")
const EIGHT = instant("2026-05-09T12:00:00Z")
const handbook = openHandbook(new URL("../../shared/", import.meta.url))

type Say = (line: string) => void
const ENGINE = { hand: async () => {}, goOn: () => true }

/** `ONLY=drain,moves` runs those alone. */
const ONLY = process.env.ONLY?.split(",") ?? null
const PARTS = { idle, drain, moves }

export async function manyBench(say: Say): Promise<void> {
  if (WITHOUT_POSTGRES) return say(WITHOUT_POSTGRES)
  const server = await startPostgres({ durable: true, settings: ["shared_buffers=512MB", "max_wal_size=4GB"] })
  try {
    for (const [name, part] of Object.entries(PARTS)) if (ONLY === null || ONLY.includes(name)) await part(server, say)
  } finally {
    await server.remove()
  }
}

/** A database with so many gardens, each with three years of reminders told and to come. */
async function loaded(server: PostgresServer, count: number) {
  const database = await server.create()
  const store = await openPostgres(server.url(database))
  const clock = { at: EIGHT as Instant, now: () => clock.at }
  const house = officeHouse(store, plots(count), clock, handbook)
  await openWorker(house).minute(ENGINE)
  const fill = [
    `update ryebell.garden set look_at = timestamptz '2026-05-10T04:00:00Z', lease_until = null`,
    `insert into ryebell.turn (garden, person) select 'plot-' || i, 'ines' from generate_series(0, ${count - 1}) i on conflict do nothing`,
    // What is to come within the year.
    `insert into ryebell.reminder (garden, person, id, speaks_at)
     select 'plot-' || i, 'ines', 'south:2025-09-20:cut:' || k, timestamptz '2026-05-10T12:00:00Z' + (i * 7 + k * 101) % 8000 * interval '1 hour'
       from generate_series(0, ${count - 1}) i, generate_series(1, 10) k`,
    // What was told in three years: one row a text.
    `insert into ryebell.outgoing (key, garden, person, kind, body, state, attempts, due_at, carrier_id, fate)
     select 'nudge:' || i || ':' || k, 'plot-' || i, 'ines', 'nudge', '{"key":"x","text":"Cut South bed by Fri 14 May, before seed drops. Leave the roots in."}', 'sent', 1,
            timestamptz '2026-05-01T12:00:00Z' - k * interval '9 days', 'SM' || i, 'delivered'
       from generate_series(0, ${count - 1}) i, generate_series(1, ${TOLD}) k`,
    `analyze ryebell.reminder`,
    `analyze ryebell.outgoing`,
    `analyze ryebell.garden`,
    `checkpoint`,
  ]
  for (const sql of fill) await server.run(database, sql)
  return { database, store, house, clock }
}

type Loaded = Awaited<ReturnType<typeof loaded>>

async function idle(server: PostgresServer, say: Say): Promise<void> {
  say(`an idle minute: nobody due (10 reminders to come and ${TOLD} texts told for each gardener)`)
  const few = await loaded(server, FEW)
  const many = await loaded(server, MANY)
  const sizes = await Promise.all(
    [few, many].map((each) => server.run(each.database, "select pg_database_size(current_database())::float8 as size")),
  )
  const figures = new Map<Loaded, { ms: number[]; cpu: number[]; blocks: number }>()
  for (const each of [few, many]) figures.set(each, { ms: [], cpu: [], blocks: 0 })
  const minute = async ({ house, clock }: Loaded) => {
    clock.at = addMs(clock.at, 1000)
    const worker = openWorker(house)
    await worker.beat()
    await worker.minute(ENGINE)
    await worker.do({ kind: "deliver", lane: 0 }, ENGINE)
    await worker.do({ kind: "send", lane: 0 }, ENGINE)
  }
  for (let round = 0; round < 60; round += 1) {
    for (const each of [few, many]) {
      const cpu = process.cpuUsage()
      const began = performance.now()
      await minute(each)
      const took = performance.now() - began
      const used = process.cpuUsage(cpu)
      if (round >= 10) {
        figures.get(each)?.ms.push(took)
        figures.get(each)?.cpu.push((used.user + used.system) / 1000)
      }
    }
  }
  for (const [i, each] of [few, many].entries()) {
    const blocks = await blocksOf(server, each, minute)
    const { ms, cpu } = figures.get(each) as { ms: number[]; cpu: number[] }
    figures.set(each, { ms, cpu, blocks })
    const size = Number(sizes[i]?.[0]?.size) / 1e6
    say(
      `  ${String(each.house.shelf.all().length).padStart(7)} gardeners  ${median(ms).toFixed(1)} ms, ${median(cpu).toFixed(1)} ms on a core, ${blocks} blocks, database ${size.toFixed(0)} MB`,
    )
  }
  const [a, b] = [figures.get(few), figures.get(many)] as { ms: number[]; cpu: number[]; blocks: number }[]
  if (a && b)
    say(
      `  ratio                ${(median(b.ms) / median(a.ms)).toFixed(2)} of time, ${(median(b.cpu) / median(a.cpu)).toFixed(2)} of a core, ${(b.blocks / a.blocks).toFixed(2)} of blocks`,
    )
  await replies([few, many], say)
  for (const each of [few, many]) {
    await each.store.close()
    await server.drop(each.database)
  }
}

/** Blocks that the server touches for one minute, from a session's own statistics. */
async function blocksOf(
  server: PostgresServer,
  each: Loaded,
  minute: (each: Loaded) => Promise<void>,
): Promise<number> {
  const read = async () => {
    await new Promise((resolve) => setTimeout(resolve, 1500))
    const [row] = await server.run(
      "postgres",
      "select (blks_hit + blks_read)::float8 as n from pg_stat_database where datname = $1",
      [each.database],
    )
    return Number((row as { n: number }).n)
  }
  const before = await read()
  for (let i = 0; i < 20; i += 1) await minute(each)
  return Math.round(((await read()) - before) / 20)
}

/** From the keeping of a reply to the moved plan. */
async function replies(offices: readonly Loaded[], say: Say): Promise<void> {
  say("a reply: kept, understood, answered, its garden planned and its reminders moved")
  const found = offices.map(() => [] as number[])
  for (let round = 0; round < 60; round += 1) {
    for (const [i, { house, clock }] of offices.entries()) {
      const at = round % 30
      clock.at = addMs(clock.at, 180_000)
      const began = performance.now()
      await receive(house, {
        id: `SM${round}`,
        via: "sms",
        from: `+1555${2_000_000 + at}`,
        to: "+15550000000",
        text: "bloom on south",
        at: clock.at,
        media: [],
      })
      await applyIncoming(house, clock.at)
      // At its first reply a garden's past is read; from then on it is known.
      if (round >= 30) found[i]?.push(performance.now() - began)
    }
  }
  for (const [i, { house }] of offices.entries()) {
    const ms = found[i] as number[]
    say(
      `  ${String(house.shelf.all().length).padStart(7)} gardeners  half within ${median(ms).toFixed(0)} ms, all within ${Math.max(...ms).toFixed(0)} ms`,
    )
  }
  say(`  ratio                ${(median(found[1] as number[]) / median(found[0] as number[])).toFixed(2)}`)
}

async function drain(server: PostgresServer, say: Say): Promise<void> {
  say(
    `${TEXTS} texts due at eight, two workers, a carrier that takes them at once; beside the bare job engine, two processes`,
  )
  // In turns, so that both meet the same moods of the machine.
  const rates: { own: number; bare: number }[] = []
  for (let round = 0; round < 2; round += 1) {
    const bare = await bareDrain(server)
    const own = await ownDrain(server)
    rates.push({ own, bare })
    say(
      `  round ${round + 1}: ours ${own.toFixed(0)}/s, the bare engine ${bare.toFixed(0)}/s, ratio ${(own / bare).toFixed(2)}`,
    )
  }
  const sum = (of: "own" | "bare") => rates.reduce((total, each) => total + each[of], 0)
  say(`  ratio                ${(sum("own") / sum("bare")).toFixed(2)}`)
}

async function ownDrain(server: PostgresServer): Promise<number> {
  const database = await server.create()
  const store = await openPostgres(server.url(database))
  await store.close()
  const body = (i: string) =>
    `json_build_object('key', 'k' || ${i}, 'garden', 'plot-' || ${i}, 'person', 'ines', 'kind', 'nudge', 'channel', 'text', 'to', '+1555' || (2000000 + ${i}),
       'text', 'Cut South bed by Fri 14 May, before seed drops. Leave the roots in. Reply DONE 1', 'seen', 0, 'notBefore', '2026-05-09T12:00:00.000Z',
       'goodUntil', '2026-05-09T23:30:00.000Z', 'told', json_build_array(json_build_object('n', 1, 'id', 'south:2025-09-20:cut:1', 'kind', 'cut', 'bed', 'south')))`
  await server.run(
    database,
    `insert into ryebell.outgoing (key, garden, person, kind, body, said, due_at)
     select 'k' || i, 'plot-' || i, 'ines', 'nudge', ${body("i")}::text, '["south:2025-09-20:cut:1"]', timestamptz '2026-05-09T12:00:00Z'
       from generate_series(0, ${TEXTS - 1}) i`,
  )
  await server.run(
    database,
    `insert into ryebell.garden (id, mark, look_at)
     select 'plot-' || i, 'm', timestamptz '2026-05-10T04:00:00Z' from generate_series(0, ${TEXTS - 1}) i`,
  )
  await server.run(database, "analyze")
  const seconds = await race("send-worker.ts", [
    server.url(database),
    String(TEXTS),
    instantText(addMs(EIGHT, MINUTE_MS)),
  ])
  const [row] = await server.run(
    database,
    "select (select count(*)::int from ryebell.outgoing where state = 'sent') as sent, (select count(*)::int from ryebell.entry) as logged",
  )
  if (row?.sent !== TEXTS || row?.logged !== TEXTS)
    throw new Error(`${row?.sent} were sent and ${row?.logged} logged of ${TEXTS}`)
  await server.drop(database)
  return TEXTS / seconds
}

async function bareDrain(server: PostgresServer): Promise<number> {
  const database = await server.create()
  const boss = new PgBoss({ connectionString: server.url(database), schema: "bare", max: 4 })
  boss.on("error", () => {})
  await boss.start()
  await boss.createQueue("text", { policy: "standard" })
  for (let i = 0; i < TEXTS; i += 1000)
    await boss.insert(
      "text",
      Array.from({ length: Math.min(1000, TEXTS - i) }, (_, k) => ({ data: { n: i + k } })),
    )
  await server.run(database, "analyze")
  const seconds = await race("bare-worker.ts", [server.url(database)])
  await boss.stop({ graceful: false })
  await server.drop(database)
  return TEXTS / seconds
}

/** Seconds that two processes of one kind take together, from their common start. */
async function race(file: string, args: string[]): Promise<number> {
  const path = new URL(`./parts/${file}`, import.meta.url).pathname
  const children = [0, 1].map(() => spawn(process.execPath, [path, ...args]))
  await Promise.all(children.map((child) => said(child, "ready")))
  const began = performance.now()
  const ends = children.map((child) => said(child, "sent"))
  for (const child of children) child.stdin.write("go\n")
  await Promise.all(ends)
  return (performance.now() - began) / 1000
}

function said(child: ChildProcessWithoutNullStreams, word: string): Promise<void> {
  return new Promise((resolve, reject) => {
    child.stdout.on("data", (chunk) => String(chunk).includes(word) && resolve())
    child.stderr.on("data", (chunk) => process.stderr.write(chunk))
    child.once("exit", (status) =>
      status === 0 ? resolve() : reject(new Error(`a worker ended with status ${status}`)),
    )
  })
}

/** Moves of reminders: our verb, a garden at a time, beside a bare upsert of the same rows in the same portions. */
async function moves(server: PostgresServer, say: Say): Promise<void> {
  const gardens = Math.round(5_000 * Math.min(1, SCALE * 4))
  const each = 10
  say(`reminders moved: ${gardens} gardens of ${each}, a garden in a statement, 8 statements at once`)
  const database = await server.create()
  const store = await openPostgres(server.url(database))
  await server.run(
    database,
    "create table bare (garden text, person text, id text, speaks_at timestamptz not null, primary key (garden, person, id)) with (fillfactor = 90)",
  )
  await server.run(database, "create index on bare (speaks_at, garden, person, id)")
  const { default: pg } = await import("pg")
  const pool = new pg.Pool({ connectionString: server.url(database), max: 8 })
  const ids = Array.from({ length: each }, (_, k) => `south:2025-09-20:cut:${k}`)
  const rows = (garden: number, days: number) =>
    ids.map((id, k) => ({ id, person: "ines", speaksAt: addMs(EIGHT, (days + ((garden + k) % 90)) * DAY_MS) }))
  const bare = async (garden: number, days: number) => {
    const moved = rows(garden, days)
    await pool.query({
      name: "bare",
      text: `insert into bare select $1, * from unnest($2::text[], $3::text[], $4::timestamptz[])
             on conflict (garden, person, id) do update set speaks_at = excluded.speaks_at`,
      values: [
        `plot-${garden}`,
        moved.map((row) => row.person),
        moved.map((row) => row.id),
        moved.map((row) => instantText(row.speaksAt)),
      ],
    })
  }
  const own = (garden: number, days: number) => store.placeReminders(`plot-${garden}`, rows(garden, days))
  const all = async (work: (garden: number, days: number) => Promise<void>, days: number) => {
    const began = performance.now()
    let next = 0
    await Promise.all(
      Array.from({ length: 8 }, async () => {
        while (next < gardens) {
          next += 1
          await work(next, days)
        }
      }),
    )
    return performance.now() - began
  }
  await all(bare, 0)
  await all(own, 0)
  const took = { bare: 0, own: 0 }
  for (let round = 1; round <= 4; round += 1) {
    took.bare += await all(bare, round)
    took.own += await all(own, round)
  }
  const rate = (ms: number) => (gardens * each * 4 * 1000) / ms
  say(
    `  bare upsert ${rate(took.bare).toFixed(0)} moves/s, placed ${rate(took.own).toFixed(0)} moves/s, ratio ${(took.bare / took.own).toFixed(2)}`,
  )
  await pool.end()
  await store.close()
  await server.drop(database)
}

function median(values: readonly number[]): number {
  return values.toSorted((a, b) => a - b)[Math.floor(values.length / 2)] ?? Number.NaN
}

if (import.meta.main) await manyBench((line) => console.log(line))
