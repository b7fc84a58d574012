import { openPostgres } from "../../../src/store/postgres.ts"
import { addMs, DAY_MS, instantText } from "../../../src/values/instant.ts"
import type { PostgresServer } from "../../stand-ins/postgres.ts"
import { EIGHT } from "./load.ts"
import { type Say, SCALE } from "./scale.ts"

/** Moves of reminders: our verb, a garden at a time, beside a bare upsert of the same rows in the same portions. */
export async function moves(server: PostgresServer, say: Say): Promise<void> {
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
