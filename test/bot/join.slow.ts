import { afterAll, beforeAll, describe, expect, it } from "vitest"
import { fixedShelf } from "../../src/assemble-house.ts"
import { freshMemory } from "../../src/bot/house.ts"
import { applyIncoming, receive } from "../../src/bot/receive.ts"
import { sendDue } from "../../src/bot/send.ts"
import { openKeptShelf } from "../../src/files/kept-shelf.ts"
import { openPostgres } from "../../src/store/postgres.ts"
import { addMs, MINUTE_MS } from "../../src/values/instant.ts"
import { aBed, aGarden, aPerson, at, handbook } from "../given.ts"
import { type PostgresServer, startPostgres, WITHOUT_POSTGRES } from "../stand-ins/postgres.ts"
import { aHouse } from "./given-house.ts"

const host = aGarden({
  id: "acre",
  name: "Spring Street",
  invite: "rootwork",
  people: [aPerson()],
  beds: [aBed({ id: "south" })],
})
const START = at("2026-04-01 09:00")

describe.skipIf(WITHOUT_POSTGRES)(WITHOUT_POSTGRES ?? "joining at an office of several workers", () => {
  let server: PostgresServer
  beforeAll(async () => {
    server = await startPostgres()
  })
  afterAll(() => server?.remove())

  /** One of several workers on a database, in this process. */
  async function aWorker(url: string) {
    const one = aHouse(host)
    const store = await openPostgres(url)
    one.house.store = store
    one.house.memory = freshMemory()
    one.house.shelf = await openKeptShelf({ files: fixedShelf(host), store, handbook: handbook() })
    return one
  }

  it("takes each text of a talk at another worker, and everyone's at once", async () => {
    const url = server.url(await server.create())
    const workers = [await aWorker(url), await aWorker(url), await aWorker(url)]
    const phones = Array.from({ length: 12 }, (_, i) => `+1717555${3000 + i}`)
    const said = ["rootwork", "yes", "I'm Sam", "Long bed, 4 x 8 ft", "oats, 1 Apr", "next"]
    for (const [step, text] of said.entries()) {
      const now = addMs(START, step * MINUTE_MS)
      for (const [i, from] of phones.entries()) {
        const worker = workers[(step + i) % 3]!
        const id = `SM${step}x${i}`
        await receive(worker.house, { id, via: "sms", from, to: "", text, at: now, media: [] })
      }
      await Promise.all(workers.map(({ house }) => applyIncoming(house, now)))
      await Promise.all(workers.map(({ house }) => sendDue(house, now)))
    }
    const texts = workers.flatMap((worker) => worker.texts)
    for (const phone of phones) {
      const answers = texts.filter((text) => text.to === phone)
      expect(answers).toHaveLength(said.length)
      expect(answers.filter((text) => text.text.startsWith("You are in, Sam"))).toHaveLength(1)
    }
    for (const { house } of workers) {
      await house.shelf.refresh?.()
      const guests = house.shelf.guestsOf?.("acre") ?? []
      expect(guests).toHaveLength(12)
      expect(new Set(guests.map(({ people }) => people[0]?.phone)).size).toBe(12)
    }
    for (const { house } of workers) await house.store.close()
  })
})
