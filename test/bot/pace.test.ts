import { describe, expect, it } from "vitest"
import { momentFor, openPace } from "../../src/bot/pace.ts"
import { openMemoryStore } from "../../src/store/open.ts"
import { addMs, type Instant, MINUTE_MS } from "../../src/values/instant.ts"
import { aBed, aGarden, aPerson, aSowing, at } from "../given.ts"
import { aHouse, every } from "./given-house.ts"

const plots = (count: number) =>
  Array.from({ length: count }, (_, i) =>
    aGarden({
      id: `plot-${i}`,
      people: [aPerson({ phone: `+1717555${4000 + i}`, email: null })],
      beds: [aBed({ id: "a" })],
    }),
  )
const EIGHT = at("2026-05-01 08:00")

describe("a morning peak", () => {
  it("is spread over as long as the sender needs, evenly, and every day alike", () => {
    const gardens = plots(3000)
    const { house } = aHouse(...gardens)
    const moments = gardens.map((g) => momentFor({ ...house, textRate: 1 }, g, g.people[0]!, EIGHT) - EIGHT)
    expect(Math.min(...moments)).toBeGreaterThanOrEqual(0)
    expect(Math.max(...moments)).toBeLessThan(3000_000)
    for (let tenth = 0; tenth < 10; tenth += 1) {
      const inIt = moments.filter((ms) => Math.floor(ms / 300_000) === tenth).length
      expect(inIt).toBeGreaterThan(230)
      expect(inIt).toBeLessThan(370)
    }
    const tomorrow = at("2026-05-02 08:00")
    expect(gardens.map((g) => momentFor({ ...house, textRate: 1 }, g, g.people[0]!, tomorrow) - tomorrow)).toEqual(
      moments,
    )
  })

  it("leaves nobody's hours, and a household does not wait at all", () => {
    const gardens = plots(3000)
    const { house } = aHouse(...gardens)
    const late = at("2026-05-01 19:28")
    for (const g of gardens) {
      const moment = momentFor({ ...house, textRate: 0.1 }, g, g.people[0]!, late)
      expect(moment).toBeLessThanOrEqual(addMs(late, MINUTE_MS))
    }
    const [one] = plots(1) as [ReturnType<typeof aGarden>]
    expect(momentFor({ ...aHouse(one).house, textRate: 1 }, one, one.people[0]!, EIGHT)).toBe(EIGHT)
    expect(momentFor(house, gardens[0]!, gardens[0]!.people[0]!, EIGHT)).toBe(EIGHT)
  })

  it("loses nothing and stays in hours when it is played", async () => {
    const gardens = Array.from({ length: 40 }, (_, i) =>
      aGarden({
        id: `plot-${i}`,
        people: [aPerson({ phone: `+1717555${4000 + i}`, email: null, digest: null })],
        beds: [aBed({ id: "south", sowings: [aSowing({ bed: "south" })] })],
      }),
    )
    const house = aHouse(...gardens)
    house.house.text = { ...house.house.text!, via: "terminal" }
    house.house.textRate = 0.1
    house.house.pace = openPace(house.house.store, 0.1)
    for (const now of every(1, at("2026-04-18 07:55"), at("2026-04-18 19:30"))) await house.at(now)
    for (const now of every(1, at("2026-05-02 07:55"), at("2026-05-02 12:00"))) await house.at(now)
    const nudges = house.texts.filter((text) => text.kind === "nudge")
    expect(new Set(nudges.map((text) => text.to)).size).toBe(40)
    const perMinute = new Map<number, number>()
    for (const { at: moment } of nudges) perMinute.set(moment, (perMinute.get(moment) ?? 0) + 1)
    expect(Math.max(...perMinute.values())).toBeLessThanOrEqual(6)
  })
})

describe("the rate of a sender", () => {
  it("is kept to by several workers together, and begins anew with each minute", async () => {
    const store = openMemoryStore()
    const workers = [openPace(store, 2), openPace(store, 2), openPace(store, 2)]
    for (let minute = 0; minute < 3; minute += 1) {
      const now = addMs(EIGHT, minute * MINUTE_MS) as Instant
      let taken = 0
      for (let i = 0; i < 200; i += 1) if (await workers[i % 3]!(now)) taken += 1
      // Blocks that another had taken and did not use are the most that may be missing.
      expect(taken).toBeLessThanOrEqual(120)
      expect(taken).toBeGreaterThanOrEqual(96)
    }
  })
})
