import { readFileSync } from "node:fs"
import { afterAll, beforeAll, describe, expect, it, vi } from "vitest"
import { fixedShelf, paperHouse } from "../../src/assemble-house.ts"
import type { Incoming, Store } from "../../src/bot/needs.ts"
import { play, playClock } from "../../src/bot/play.ts"
import { personRef } from "../../src/bot/who.ts"
import { moveYears } from "../../src/garden/example-file.ts"
import type { Garden } from "../../src/garden/garden.ts"
import { readGarden } from "../../src/garden/read.ts"
import { logLine } from "../../src/garden/read-log.ts"
import { openMemoryStore, openStore } from "../../src/store/open.ts"
import { addDays, type Day, day } from "../../src/values/day.ts"
import { instantAt } from "../../src/values/zone.ts"
import { handbook } from "../given.ts"
import { type PostgresServer, startPostgres, WITHOUT_POSTGRES } from "../stand-ins/postgres.ts"

const CONFIG = new URL("../../config/", import.meta.url).pathname
/** What people answer, a few days one after the other, all year round. */
const WORDS = [
  "done 1",
  "next",
  "not yet, snooze 1 3 days",
  "why",
  "undo",
  "what next \u0000 \u{1F33E}",
  "done",
  "how much",
  "skip 1",
]

/** A garden file of the project, its sowings sown again in each of so many years. */
function garden(file: string, years: number): Garden {
  const path = `${CONFIG}${file}`
  const read = readGarden(readFileSync(path, "utf8"), path, handbook())
  if ("problems" in read) throw new Error(`${file} cannot be read`)
  const moved = Array.from({ length: years }, (_, i) => moveYears(read.garden, i))
  return {
    ...read.garden,
    beds: read.garden.beds.map((bed, i) => ({ ...bed, sowings: moved.flatMap((each) => each.beds[i]?.sowings ?? []) })),
  }
}

/** Everything that leaves and everything that is logged in a stretch of a garden's life, as text. */
async function season(store: Store, garden: Garden, from: Day, days: number): Promise<string> {
  const clock = playClock(instantAt(from, 0, garden.place.zone))
  const log = { debug() {}, info() {}, warn() {}, error() {} }
  const lines: string[] = []
  const house = paperHouse(
    { handbook: handbook(), store, shelf: fixedShelf(garden), clock, weather: null, log },
    ({ at, message: { channel, to, subject, text, html, told } }) =>
      lines.push(JSON.stringify({ at, channel, to, subject, text, html, told })),
  )
  await play(house, clock, from, addDays(from, days - 1), replies(garden, from, days))
  const entries = await store.entries(garden.id)
  return [...lines, ...entries.map(logLine)].join("\n")
}

function replies(garden: Garden, from: Day, days: number): Incoming[] {
  return Array.from({ length: Math.floor(days / 4) }, (_, i) => {
    const person = garden.people[i % garden.people.length]!
    return {
      id: `r${i}`,
      via: "terminal",
      from: personRef(garden.id, person.id),
      to: "",
      text: WORDS[i % WORDS.length] as string,
      at: instantAt(addDays(from, i * 4), 9 * 60 + ((i * 7) % 600), garden.place.zone),
      media: [],
    }
  })
}

// Years of life on a machine that may do much else.
vi.setConfig({ testTimeout: 3_600_000 })

describe.skipIf(WITHOUT_POSTGRES)(WITHOUT_POSTGRES ?? "a season over PostgreSQL", () => {
  let server: PostgresServer
  beforeAll(async () => {
    server = await startPostgres()
  })
  afterAll(() => server?.remove())

  it.each([
    { file: "examples/one-bed.yaml", from: "2025-08-01", days: 365 },
    { file: "examples/freiburg.yaml", from: "2025-08-01", days: 365 },
    { file: "examples/canterbury.yaml", from: "2026-02-01", days: 365 },
    { file: "garden.yaml", from: "2025-08-01", days: 365 },
  ])("of $days days of $file is the same as over the file database, byte for byte", async ({ file, from, days }) => {
    const played = garden(file, Math.ceil(days / 365))
    const memory = openMemoryStore()
    const expected = await season(memory, played, day(from), days)
    await memory.close()
    const store = await openStore({ folder: null, url: server.url(await server.create()) })
    const found = await season(store, played, day(from), days)
    await store.close()
    expect(expected.split("\n").length).toBeGreaterThan(days / 4)
    expect(found).toBe(expected)
  })
})
