import { mkdtempSync, readFileSync, rmSync } from "node:fs"
import { tmpdir } from "node:os"
import { join } from "node:path"
import { fixedShelf, paperHouse } from "../../src/assemble-house.ts"
import { webNeeds } from "../../src/assemble-web.ts"
import { openDesk } from "../../src/bot/desk.ts"
import { play, playClock } from "../../src/bot/play.ts"
import { moveYears } from "../../src/garden/example-file.ts"
import { readGarden } from "../../src/garden/read.ts"
import { openHandbook } from "../../src/handbook/open.ts"
import { openStore } from "../../src/store/open.ts"
import { addDays, type Day, day } from "../../src/values/day.ts"
import { instantAt } from "../../src/values/zone.ts"
import { linksFor } from "../../src/web/link.ts"
import { webApp } from "../../src/web/server.ts"

/** Pages that are asked for in each year: `REQUESTS=33333` for a hundred thousand in all. */
const REQUESTS = Number(process.env.REQUESTS ?? "2000")
const SECRET = "a key of the bench, long enough"
const EXAMPLE = new URL("../../config/garden.yaml", import.meta.url)

/** Does a process that runs for years hold more and more? `count` years (three at most) of the example garden, and pages asked for all along. */
export async function yearsBench(say: (line: string) => void, count = 3): Promise<void> {
  const { gc } = globalThis
  if (!gc) return say("start with node --expose-gc: memory can only be told after a collection")
  const handbook = openHandbook(new URL("../../shared/", import.meta.url))
  const read = readGarden(readFileSync(EXAMPLE, "utf8"), "garden.yaml", handbook)
  if ("problems" in read) throw new Error("the example garden cannot be read")
  const years = [0, 1, 2].map((count) => moveYears(read.garden, count))
  const garden = {
    ...read.garden,
    beds: read.garden.beds.map((bed, i) => ({ ...bed, sowings: years.flatMap((each) => each.beds[i]?.sowings ?? []) })),
  }
  const folder = mkdtempSync(join(tmpdir(), "ryebell-bench-"))
  const store = await openStore({ folder })
  const first = day("2025-08-01")
  const clock = playClock(instantAt(first, 0, garden.place.zone))
  const log = { debug() {}, info() {}, warn() {}, error: (what: unknown, words: string) => console.error(words, what) }
  let left = 0
  const house = paperHouse({ handbook, store, shelf: fixedShelf(garden), clock, weather: null, log }, () => {
    left += 1
  })
  const desk = openDesk(house, clock)
  const place = { host: "127.0.0.1", port: 0, publicUrl: null, wire: { more: undefined, trouble: () => ({}) } }
  const app = webApp(webNeeds({ house, desk, clock, folder, secret: SECRET, ...place }))
  const who = { garden: garden.id, person: garden.people[0]?.id ?? "" }
  const heaps: number[] = []
  try {
    for (let year = 0; year < count; year += 1) {
      const from: Day = addDays(first, year * 365)
      await play(house, clock, from, addDays(from, 364), [])
      const { season, calendar } = linksFor("http://localhost", who, clock.now(), [SECRET])
      const asked = [season, `${season}/log`, calendar, "http://localhost/health", "http://localhost/season/wrong"]
      for (let i = 0; i < REQUESTS; i += 1) await (await app.request(asked[i % asked.length] as string)).arrayBuffer()
      gc()
      gc()
      const { heapUsed, rss } = process.memoryUsage()
      heaps.push(heapUsed)
      say(
        `  year ${year + 1}: ${(heapUsed / 1e6).toFixed(1)} MB in use, ${(rss / 1e6).toFixed(0)} MB held; ${left} messages, ${(await store.entries(garden.id)).length} log entries, ${REQUESTS} pages`,
      )
    }
    const growth = (heaps.at(-1) as number) / (heaps[0] as number) - 1
    if (count > 1) say(`  growth from year 1 to year ${count}   ${(growth * 100).toFixed(1)} %`)
  } finally {
    await store.close()
    rmSync(folder, { recursive: true, force: true })
  }
}

if (import.meta.main) await yearsBench((line) => console.log(line))
