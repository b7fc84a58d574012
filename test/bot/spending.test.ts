import { describe, expect, it } from "vitest"
import { momentFor } from "../../src/bot/pace.ts"
import { addMs, DAY_MS, instantText, MINUTE_MS } from "../../src/values/instant.ts"
import { aBed, aGarden, aPerson, aSowing, at } from "../given.ts"
import { aHouse } from "./given-house.ts"

/** Plots on which the same is due on the same days; each phone is another. */
const plots = (count: number) =>
  Array.from({ length: count }, (_, i) =>
    aGarden({
      id: `plot-${i}`,
      people: [aPerson({ phone: `+1717555${4000 + i}`, email: null, digest: null })],
      beds: [aBed({ id: "south", sowings: [aSowing({ bed: "south" })] })],
    }),
  )

/** Mornings and evenings of so many days of a spring on which all plots hear something. */
const days = (count: number) =>
  Array.from({ length: count }, (_, i) =>
    ["07:55", "08:05", "19:00"].map((time) => at(`2026-04-18 ${time}`) + i * DAY_MS),
  )
    .flat()
    .map((ms) => addMs(at("2026-04-18 00:00"), ms - at("2026-04-18 00:00")))

const limited = async (limit: number) => {
  const house = aHouse(...plots(6))
  house.house.textsADay = limit
  for (const now of days(4)) await house.at(now)
  const perDay = new Map<string, number>()
  for (const { at: moment } of house.texts) {
    const day = instantText(moment).slice(0, 10)
    perDay.set(day, (perDay.get(day) ?? 0) + 1)
  }
  return { house, perDay }
}

describe("what a day may cost (X9)", () => {
  it("is held to: past the owner's number texts wait, and in the end everybody has heard", async () => {
    const { house, perDay } = await limited(2)
    expect(Math.max(...perDay.values())).toBe(2)
    expect(house.house.memory.counts.get("text later")).toBeGreaterThan(0)
    expect(new Set(house.texts.map((text) => text.to)).size).toBe(6)
  }, 60_000)

  it("counts together what several processes send", async () => {
    const one = aHouse(...plots(6))
    const other = aHouse(...plots(6))
    other.house.store = one.house.store
    one.house.textsADay = 4
    other.house.textsADay = 4
    for (const now of days(1)) {
      await one.at(now)
      await other.at(addMs(now, MINUTE_MS))
    }
    expect(one.texts.length + other.texts.length).toBeLessThanOrEqual(4)
    expect(one.texts.length).toBeGreaterThan(0)
  }, 60_000)

  it("counts what strangers are answered too, where the owner set a number", async () => {
    const house = aHouse(...plots(1))
    house.house.textsADay = 3
    for (let i = 0; i < 12; i += 1)
      await house.says(`+1717555${6000 + i}`, "hello", addMs(at("2026-03-02 09:00"), i * MINUTE_MS))
    expect(house.texts).toHaveLength(3)
  })
})

describe("gardens that share a sender", () => {
  it("do not stand before each other: one of a thousand people leaves a small one its share of every minute", () => {
    const crowd = aGarden({
      id: "allotments",
      people: Array.from({ length: 1000 }, (_, i) =>
        aPerson({ id: `p${i}`, phone: `+1717${5550000 + i}`, email: null }),
      ),
      beds: [aBed({ id: "a" })],
    })
    const small = aGarden({
      id: "zinnia-lane",
      people: Array.from({ length: 50 }, (_, i) => aPerson({ id: `z${i}`, phone: `+1814${5550000 + i}`, email: null })),
      beds: [aBed({ id: "a" })],
    })
    const { house } = aHouse(crowd, small)
    const eight = at("2026-05-01 08:00")
    const momentsOf = (garden: typeof crowd) =>
      garden.people.map((person) => momentFor({ ...house, textRate: 1 }, garden, person, eight) - eight)
    const middle = (moments: number[]) => moments.toSorted((a, b) => a - b)[Math.floor(moments.length / 2)] as number
    const [ofCrowd, ofSmall] = [middle(momentsOf(crowd)), middle(momentsOf(small))]
    expect(ofSmall).toBeGreaterThan(ofCrowd * 0.6)
    expect(ofSmall).toBeLessThan(ofCrowd * 1.4)
  })
})
