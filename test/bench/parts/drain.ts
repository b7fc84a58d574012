import { PgBoss } from "pg-boss"
import { openPostgres } from "../../../src/store/postgres.ts"
import { addMs, instantText, MINUTE_MS } from "../../../src/values/instant.ts"
import type { PostgresServer } from "../../stand-ins/postgres.ts"
import { EIGHT } from "./load.ts"
import { race } from "./race.ts"
import { type Say, SCALE } from "./scale.ts"

const TEXTS = Math.round(50_000 * SCALE)

/** What is put into words already leaves by two workers, beside the job engine with nothing to do. */
export async function drain(server: PostgresServer, say: Say): Promise<void> {
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
