import { readFileSync } from "node:fs"
import { afterAll, beforeAll, describe, expect, it } from "vitest"
import { fixedShelf, paperHouse } from "../../src/assemble-house.ts"
import type { Incoming, Store } from "../../src/bot/needs.ts"
import { play, playClock } from "../../src/bot/play.ts"
import { personRef } from "../../src/bot/who.ts"
import { readGarden } from "../../src/garden/read.ts"
import { logLine } from "../../src/garden/read-log.ts"
import { openMemoryStore, openStore } from "../../src/store/open.ts"
import { day } from "../../src/values/day.ts"
import { instant } from "../../src/values/instant.ts"
import { instantAt } from "../../src/values/zone.ts"
import { handbook } from "../given.ts"
import { type PostgresServer, startPostgres, WITHOUT_POSTGRES } from "../stand-ins/postgres.ts"

const FILE = new URL("../../config/garden.yaml", import.meta.url).pathname
const FROM = day("2026-03-01")
const TO = day("2026-05-31")

/** Everything that leaves and everything that is logged in three months of the example garden, as text. */
async function season(store: Store): Promise<string> {
  const read = readGarden(readFileSync(FILE, "utf8"), FILE, handbook())
  if ("problems" in read) throw new Error("the example garden cannot be read")
  const { garden } = read
  const clock = playClock(instantAt(FROM, 0, garden.place.zone))
  const log = { debug() {}, info() {}, warn() {}, error() {} }
  const lines: string[] = []
  const house = paperHouse(
    { handbook: handbook(), store, shelf: fixedShelf(garden), clock, weather: null, log },
    ({ at, message: { channel, to, subject, text, html, told } }) =>
      lines.push(JSON.stringify({ at, channel, to, subject, text, html, told })),
  )
  await play(house, clock, FROM, TO, replies(garden.id))
  const entries = await store.entries(garden.id)
  return [...lines, ...entries.map(logLine)].join("\n")
}

function replies(garden: string): Incoming[] {
  const said: [string, string, string][] = [
    ["2026-03-12T18:20:00-04:00", "ines", "done 1"],
    ["2026-04-20T18:20:00-04:00", "ines", "bloom south"],
    ["2026-04-20T18:21:00-04:00", "ines", "undo"],
    ["2026-05-03T08:00:00-04:00", "walt", "snooze 1 3 days"],
    ["2026-05-13T07:59:30-04:00", "ines", "cut south yesterday, 90 cm"],
    ["2026-05-20T12:00:00-04:00", "ines", "what next \u0000 \u{1F33E}"],
  ]
  return said.map(([at, by, text], i) => ({
    id: `r${i}`,
    via: "terminal",
    from: personRef(garden, by),
    to: "",
    text,
    at: instant(at),
    media: [],
  }))
}

describe.skipIf(WITHOUT_POSTGRES)(WITHOUT_POSTGRES ?? "a season over PostgreSQL", () => {
  let server: PostgresServer
  beforeAll(async () => {
    server = await startPostgres()
  })
  afterAll(() => server?.remove())

  it("is the same as over the file database, byte for byte", async () => {
    const memory = openMemoryStore()
    const expected = await season(memory)
    await memory.close()
    const store = await openStore({ folder: null, url: server.url(await server.create()) })
    const found = await season(store)
    await store.close()
    expect(expected.split("\n").length).toBeGreaterThan(60)
    expect(found).toBe(expected)
  })
})
