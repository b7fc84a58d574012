import { mkdirSync, writeFileSync } from "node:fs"
import { join } from "node:path"
import type { Entry } from "../../src/garden/entry.ts"
import { openPostgres } from "../../src/store/postgres.ts"
import { addMs, type Instant, instant, instantOf, instantText, MINUTE_MS } from "../../src/values/instant.ts"
import { openCarrier } from "../stand-ins/carrier.ts"
import { type MailProxy, mailProxy } from "../stand-ins/mail-proxy.ts"
import type { PostgresServer } from "../stand-ins/postgres.ts"
import { type Bot, bot, command, freshFolder } from "./program.ts"

const SECRET = "a secret that all workers share"

export type Office = Awaited<ReturnType<typeof openOffice>>

/**
 * An office with many gardens, all alike but for their phones, on one database behind a line that can be cut, a carrier that
 * keeps a book, and workers that are the real program. Time runs `speed` times faster than life for everyone, and each
 * worker's clock may stand elsewhere.
 */
export async function openOffice(server: PostgresServer, options: { gardens: number; speed: number; seed: number }) {
  const folder = freshFolder("office")
  const database = await server.create()
  const line: MailProxy = await mailProxy(server.port)
  const start = await morning(folder)
  const began = performance.now()
  const now = (): Instant => instantOf(start + (performance.now() - began) * options.speed)
  const carrier = await openCarrier({ now, seed: options.seed, api: null })
  carrier.knobs.lateMs = 60
  const phones = Array.from({ length: options.gardens }, (_, i) => phoneOf(i))
  mkdirSync(join(folder, "gardens"))
  phones.forEach((phone, i) => {
    writeFileSync(join(folder, "gardens", `plot-${i}.yaml`), gardenFile(i, phone))
  })
  await confirmAll(server.url(database), phones)

  const workers: Bot[] = []
  let hired = 0
  /** The environment of a worker, whose clock may stand elsewhere. */
  const settings = (skewMs = 0, name = "looks on"): Record<string, string> => ({
    RYEBELL_GARDEN: join(folder, "gardens"),
    RYEBELL_DATA: join(folder, name),
    RYEBELL_CLOCK: `${instantText(addMs(now(), skewMs))}x${options.speed}`,
    DATABASE_URL: server.url(database, line.port),
    SECRET_KEY: SECRET,
    TWILIO_ACCOUNT_SID: carrier.account,
    TWILIO_AUTH_TOKEN: carrier.token,
    TWILIO_FROM: carrier.number,
    TWILIO_API_URL: carrier.url,
    LOG_LEVEL: "error",
  })
  /** One worker more; `program`: of another version of the program. */
  const hire = (skewMs = 0, program?: string): Bot => {
    hired += 1
    const worker = bot([], settings(skewMs, `worker-${hired}`), program)
    workers.push(worker)
    return worker
  }
  /** The store past the workers, as they have it: of whatever version they made it. */
  async function lookIn() {
    const [row] = await server.run(database, "select version from ryebell.version")
    const steps = Array.from({ length: Number(row?.version) }, (_, i) => ({ version: i + 1, sql: "" }))
    return openPostgres(server.url(database), { steps, connections: 2 })
  }
  return {
    server,
    phones,
    /** Everyone's texting hours, in minutes of their day. */
    hours: { from: 8 * 60, to: 19 * 60 + 30 },
    line,
    carrier,
    workers,
    settings,
    hire,
    now,
    database,
    /** The logs of all gardens, read past the workers. */
    async logs(): Promise<Entry[][]> {
      const store = await lookIn()
      const logs = await Promise.all(phones.map((_, i) => store.entries(`plot-${i}`)))
      await store.close()
      return logs
    },
    /** Somebody texts: as a webhook keeps it, and as often. */
    async hears(from: string, text: string, id: string): Promise<void> {
      const store = await lookIn()
      await store.keepIncoming({ id, via: "sms", from, to: carrier.number, text, at: now(), media: [] })
      await store.close()
    },
    async waiting(): Promise<{ outgoing: number; incoming: number }> {
      const rows = await server.run(
        database,
        `select (select count(*)::int from ryebell.outgoing where state in ('waiting', 'sending')) as outgoing,
                (select count(*)::int from ryebell.incoming where not applied) as incoming`,
      )
      return rows[0] as { outgoing: number; incoming: number }
    },
    /** How far the clock that the workers share is ahead of the carrier's, ms: that of whichever worker began first. */
    async ahead(): Promise<number> {
      const [row] = await server.run(
        database,
        "select value, clock_timestamp() as time from ryebell.memory where name = 'trial clock'",
      )
      const [at, shows, speed] = (JSON.parse(String(row?.value)) as string).split(" ")
      return instant(shows as string) + (Number(row?.time) - instant(at as string)) * Number(speed) - now()
    },
    /** Gardens that have something to say at the next set time of the day. */
    async later(): Promise<Set<string>> {
      const rows = await server.run(
        database,
        "select distinct garden from ryebell.reminder where speaks_at > $1 and speaks_at < $1::timestamptz + interval '12 hours'",
        [instantText(now())],
      )
      return new Set(rows.map((row) => String(row.garden)))
    },
    /** Phones from which a stop was logged. */
    async stopped(): Promise<string[]> {
      const rows = await server.run(database, "select distinct garden from ryebell.entry where body like $1", [
        '%"acts":[{"act":"stop"}]%',
      ])
      return rows.map(({ garden }) => phones[Number(String(garden).slice("plot-".length))] as string)
    },
    /** What stands in the tables of one garden's reminders, messages and turns. */
    async standing(plot: number): Promise<unknown> {
      const of = async (sql: string) => server.run(database, sql, [`plot-${plot}`])
      return {
        now: instantText(now()),
        reminders: await of("select id, speaks_at from ryebell.reminder where garden = $1 order by speaks_at limit 3"),
        turns: await of("select lease_until, clock_timestamp() as now from ryebell.turn where garden = $1"),
        messages: await of("select kind, state, attempts, due_at, last_error from ryebell.outgoing where garden = $1"),
      }
    },
    /** Reminders that are due and that nobody has taken up. */
    async due(): Promise<number> {
      const rows = await server.run(database, "select count(*)::int as n from ryebell.reminder where speaks_at <= $1", [
        instantText(now()),
      ])
      return Number(rows[0]?.n)
    },
    async close(): Promise<void> {
      await Promise.all(workers.map((worker) => worker.kill()))
      await line.close()
      await carrier.close()
      await server.drop(database)
    },
  }
}

/** Two minutes before the first text of a spring in which one of these gardens is played by itself. */
async function morning(folder: string): Promise<Instant> {
  const file = join(folder, "plot.yaml")
  writeFileSync(file, gardenFile(0, phoneOf(0)))
  const { out } = await command(["season", "--garden", file, "--from", "2026-05-01", "--to", "2026-06-15", "--json"])
  const { events } = JSON.parse(out) as { events: { at: string; is: string }[] }
  const text = events.find((event) => event.is === "text")
  if (!text) throw new Error("nothing is due to anybody in all of this spring")
  return addMs(instant(text.at), -2 * MINUTE_MS)
}

/** Numbers that ring nowhere hold 100 only: these have an area that was never given out. */
function phoneOf(i: number): string {
  return `+1555${String(2_000_000 + i)}`
}

function gardenFile(i: number, phone: string): string {
  return `garden: Plot ${i}
place: { latitude: 40.04, longitude: -76.31, zone: America/New_York, units: us, normals: york-pa }
people:
  - { id: ines, name: Ines, phone: "${phone}", texts: { from: "08:00", to: "19:30", most: 2 } }
beds:
  - id: south
    kind: raised
    size: 4 x 8 ft
    sowings:
      - { sown: 2025-09-20, species: { hairy-vetch: 40, winter-rye: 60 }, next: { crop: tomato, wanted: 2026-05-25 } }
`
}

/** Everyone said yes to texts a month ago. */
async function confirmAll(url: string, phones: readonly string[]): Promise<void> {
  const store = await openPostgres(url)
  await store.append(
    phones.map((phone, i) => ({
      at: instant("2026-04-09T12:00:00Z"),
      garden: `plot-${i}`,
      by: "ines",
      via: "sms",
      kind: "channel",
      person: "ines",
      channel: "text",
      state: "confirmed",
      because: `a text from the phone ending in ${phone.slice(-4)}`,
    })),
  )
  await store.close()
}
