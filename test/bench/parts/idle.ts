import { applyIncoming, receive } from "../../../src/bot/receive.ts"
import { openWorker } from "../../../src/bot/worker.ts"
import { addMs } from "../../../src/values/instant.ts"
import type { PostgresServer } from "../../stand-ins/postgres.ts"
import { ALONE, type Loaded, loaded } from "./load.ts"
import { median, type Say, SCALE } from "./scale.ts"

/** Texts told to each gardener before: what a garden of two or three beds is told in three years. */
const TOLD = Number(process.env.TOLD ?? "120")
const MANY = Math.round(100_000 * SCALE)
const FEW = Math.round(1_000 * Math.min(1, SCALE * 10))

/** What a minute costs in which nobody is due, and what a reply takes, with few gardeners and with many. */
export async function idle(server: PostgresServer, say: Say): Promise<void> {
  say(`an idle minute: nobody due (10 reminders to come and the ${TOLD} texts of three years for each gardener)`)
  const few = await loaded(server, FEW, TOLD)
  const many = await loaded(server, MANY, TOLD)
  const sizes = await Promise.all(
    [few, many].map((each) => server.run(each.database, "select pg_database_size(current_database())::float8 as size")),
  )
  const figures = new Map<Loaded, { ms: number[]; cpu: number[]; blocks: number }>()
  for (const each of [few, many]) figures.set(each, { ms: [], cpu: [], blocks: 0 })
  const minute = async ({ house, clock }: Loaded) => {
    clock.at = addMs(clock.at, 1000)
    const worker = openWorker(house)
    await worker.beat()
    await worker.minute(ALONE)
    await worker.do({ kind: "deliver", lane: 0 }, ALONE)
    await worker.do({ kind: "send", lane: 0 }, ALONE)
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

/** Blocks of our tables and their indexes that the server touches for one minute, by its own statistics. */
async function blocksOf(
  server: PostgresServer,
  each: Loaded,
  minute: (each: Loaded) => Promise<void>,
): Promise<number> {
  const read = async () => {
    await new Promise((resolve) => setTimeout(resolve, 1500))
    const [row] = await server.run(
      each.database,
      `select sum(heap_blks_hit + heap_blks_read + idx_blks_hit + idx_blks_read)::float8 as n
         from pg_statio_user_tables where schemaname = 'ryebell'`,
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
