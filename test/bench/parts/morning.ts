import { replan } from "../../../src/bot/replan.ts"
import { openPostgres } from "../../../src/store/postgres.ts"
import { addMs, instant, instantText, MINUTE_MS } from "../../../src/values/instant.ts"
import type { PostgresServer } from "../../stand-ins/postgres.ts"
import { handbook } from "./load.ts"
import { officeHouse, plots } from "./office.ts"
import { race } from "./race.ts"
import { type Say, SCALE } from "./scale.ts"

const GARDENS = Math.round(4_000 * SCALE)
const SPRING = instant("2026-04-20T16:00:00Z")

/** A whole morning: what is due is planned, put into words and sent by two workers. */
export async function morning(server: PostgresServer, say: Say): Promise<void> {
  say(`${GARDENS} gardeners due at eight, two workers: each garden planned, its text put into words and sent`)
  const database = await server.create()
  const store = await openPostgres(server.url(database))
  const gardens = plots(GARDENS)
  await store.append(
    gardens.map(({ id }) => ({
      at: SPRING,
      garden: id,
      by: "ines",
      via: "sms",
      kind: "channel",
      person: "ines",
      channel: "text",
      state: "confirmed",
      because: "the bench",
    })),
  )
  const [first] = gardens
  if (first) await replan(officeHouse(store, gardens, { now: () => SPRING }, handbook), first, SPRING)
  await store.close()
  // All are alike: what one is to hear, all are.
  for (const sql of [
    `insert into ryebell.turn (garden, person) select id, 'ines' from ryebell.garden on conflict do nothing`,
    `insert into ryebell.reminder (garden, person, id, speaks_at)
     select g.id, r.person, r.id, r.speaks_at from ryebell.garden g, ryebell.reminder r
      where r.garden = 'plot-0' on conflict do nothing`,
    `insert into ryebell.memory (name, value) select 'since:' || id, '"2026-04-20"' from ryebell.garden on conflict do nothing`,
    "analyze",
  ])
    await server.run(database, sql)
  const [due] = await server.run(database, "select min(speaks_at) as at from ryebell.reminder")
  const at = addMs(instant((due as { at: Date }).at.toISOString()), MINUTE_MS)
  const seconds = await race("send-worker.ts", [server.url(database), String(GARDENS), instantText(at), "words too"])
  const [row] = await server.run(database, "select count(*)::int as sent from ryebell.outgoing where state = 'sent'")
  if (row?.sent !== GARDENS) throw new Error(`${row?.sent} were sent of ${GARDENS}`)
  const rate = GARDENS / seconds
  say(
    `  ${rate.toFixed(0)} a second, ${((2 * 1000) / rate).toFixed(1)} ms of a core each where both cores are free: 50,000 in ${(50_000 / rate / 60).toFixed(0)} min`,
  )
  await server.drop(database)
}
