import { describe, expect, it } from "vitest"
import { DAY_MS, HOUR_MS, type Instant, instantOf, MINUTE_MS } from "../../src/values/instant.ts"
import { instantAt, localMinutes, type Zone, zone } from "../../src/values/zone.ts"
import { aBed, aGarden, aPerson, aSowing, at, day } from "../given.ts"
import { aHouse, every, type TestHouse } from "./given-house.ts"

const INES = "+17175550142"

/** A garden in a zone in which something is due again and again from March to August, north or south. */
function inZone(z: Zone, known: Partial<Parameters<typeof aPerson>[0]> = {}) {
  const sown = ["2026-03-25", "2026-04-20", "2026-05-15", "2026-06-10", "2026-07-05"]
  return aGarden({
    people: [aPerson({ zone: z, email: null, digest: null, ...known })],
    place: { zone: z },
    beds: [
      aBed({ id: "south", sowings: [aSowing({ bed: "south" })] }),
      ...sown.map((planned, index) =>
        aBed({
          id: `bed-${index}`,
          sowings: [aSowing({ bed: `bed-${index}`, planned: day(planned), species: [{ id: "buckwheat", share: 1 }] })],
        }),
      ),
    ],
  })
}

async function joined(garden: ReturnType<typeof aGarden>, when: Instant): Promise<TestHouse> {
  const house = aHouse(garden)
  await house.says(INES, "join", when)
  house.texts.length = 0
  return house
}

const keysOf = (house: TestHouse) => house.texts.filter((text) => text.kind === "nudge").map((text) => text.key)

describe("the day on which the clocks change", () => {
  it.each([
    ["a missing hour", "2026-03-08", "02:30", "2026-03-08T07:00:00Z"],
    ["a doubled hour", "2026-11-01", "01:30", "2026-11-01T05:30:00Z"],
  ])("with %s in a person's hours brings one text, at the first right moment (T1, T2)", async (_, on, from, first) => {
    const z = zone("America/New_York")
    const [hour, minute] = from.split(":").map(Number) as [number, number]
    const person = { texts: { from: hour * 60 + minute, to: 23 * 60, most: 5 } }
    const garden = {
      ...inZone(z, person),
      beds: [
        aBed({
          id: "south",
          sowings: [aSowing({ bed: "south", planned: day(on), species: [{ id: "buckwheat", share: 1 }] })],
        }),
      ],
    }
    const start = instantAt(day(on), 0, z)
    const house = await joined(garden, instantOf(start - 20 * DAY_MS))
    for (const now of every(10, start, instantOf(start + 25 * HOUR_MS))) await house.at(now)
    const texts = house.texts.filter((text) => text.kind === "nudge")
    expect(texts.length).toBeLessThanOrEqual(1)
    for (const text of texts) expect(text.at).toBeGreaterThanOrEqual(Date.parse(first))
  })

  it("goes on minute by minute through the 25 hours of an autumn day (T3, T6)", async () => {
    const house = await joined(inZone(zone("Europe/London")), instantOf(Date.parse("2026-10-24T12:00:00Z")))
    let ticks = 0
    for (const now of every(
      1,
      instantOf(Date.parse("2026-10-24T23:00:00Z")),
      instantOf(Date.parse("2026-10-25T23:59:00Z")),
    )) {
      await house.at(now)
      ticks += 1
      expect(house.house.memory.lastTick).toBe(now)
    }
    expect(ticks).toBe(1500)
  }, 120_000)
})

describe("hours of a person in twelve zones, over five months and every change of clocks in them", () => {
  it.each([
    "America/New_York",
    "America/Santiago",
    "America/St_Johns",
    "Europe/London",
    "Africa/Casablanca",
    "Asia/Kolkata",
    "Asia/Kathmandu",
    "Asia/Tokyo",
    "Australia/Lord_Howe",
    "Pacific/Auckland",
    "Pacific/Chatham",
    "Pacific/Kiritimati",
  ])(
    "%s: each text inside them, and never more a day than they allow (T8)",
    async (name) => {
      const z = zone(name)
      const house = await joined(inZone(z), instantAt(day("2026-02-28"), 600, z))
      for (const now of every(180, instantAt(day("2026-03-01"), 7, z), instantAt(day("2026-07-31"), 0, z)))
        await house.at(now)
      const texts = house.texts.filter((text) => text.kind === "nudge")
      expect(texts.length).toBeGreaterThan(4)
      for (const text of texts) {
        expect(localMinutes(text.at, z), text.key).toBeGreaterThanOrEqual(8 * 60)
        expect(localMinutes(text.at, z), text.key).toBeLessThan(19 * 60 + 30)
      }
    },
    120_000,
  )

  it("of somebody who lives elsewhere are theirs, while the days are the garden's (T9)", async () => {
    const tokyo = zone("Asia/Tokyo")
    const garden = {
      ...inZone(zone("America/New_York")),
      people: [aPerson({ zone: tokyo, email: null, digest: null })],
    }
    const house = await joined(garden, at("2026-03-01 09:00"))
    for (const now of every(120, at("2026-03-20 00:00"), at("2026-05-20 00:00"))) await house.at(now)
    expect(keysOf(house).length).toBeGreaterThan(2)
    for (const text of house.texts.filter((each) => each.kind === "nudge")) {
      expect(localMinutes(text.at, tokyo)).toBeGreaterThanOrEqual(8 * 60)
      expect(localMinutes(text.at, tokyo)).toBeLessThan(19 * 60 + 30)
    }
  }, 120_000)
})

describe("ticks that come late, together, or in the past", () => {
  const garden = () => inZone(zone("America/New_York"))
  const [from, to] = [at("2026-03-20 07:00"), at("2026-05-01 07:00")]

  it("up to five minutes late lose nothing and double nothing (T15)", async () => {
    const exact = await joined(garden(), at("2026-03-01 09:00"))
    const late = await joined(garden(), at("2026-03-01 09:00"))
    for (const now of every(60, from, to)) {
      await exact.at(now)
      await late.at(instantOf(now + ((now / 1000) % 301) * 1000))
    }
    expect(keysOf(late)).toEqual(keysOf(exact))
  }, 120_000)

  it("after eight hours of sleep say at the next tick what was due (T12)", async () => {
    const awake = await joined(garden(), at("2026-03-01 09:00"))
    for (const now of every(60, from, to)) await awake.at(now)
    const first = awake.texts.find((text) => text.kind === "nudge")?.at ?? to
    const asleep = await joined(garden(), at("2026-03-01 09:00"))
    for (const now of every(60, from, instantOf(first - 4 * HOUR_MS))) await asleep.at(now)
    expect(keysOf(asleep)).toEqual([])
    await asleep.at(instantOf(first + 4 * HOUR_MS))
    expect(keysOf(asleep)).toHaveLength(1)
  })

  it.each([78 * MINUTE_MS, 3 * DAY_MS, 30 * DAY_MS, 400 * DAY_MS])(
    "after %i ms away say one text at most (T13, T14)",
    async (away) => {
      const house = await joined(garden(), at("2026-03-01 09:00"))
      for (const now of every(60, from, at("2026-04-02 08:00"))) await house.at(now)
      const before = keysOf(house).length
      const back = instantOf(at("2026-04-02 08:00") + away)
      for (const now of every(1, back, instantOf(back + 90 * MINUTE_MS))) await house.at(now)
      expect(keysOf(house).length - before).toBeLessThanOrEqual(1)
    },
  )

  it("two hours in the past repeat nothing, and the log goes on counting (T16)", async () => {
    const house = await joined(garden(), at("2026-03-01 09:00"))
    for (const now of every(60, from, at("2026-03-26 12:00"))) await house.at(now)
    const before = keysOf(house)
    for (const now of every(10, at("2026-03-26 10:00"), at("2026-03-26 12:30"))) await house.at(now)
    await house.says(INES, "south rye is 30 cm tall", at("2026-03-26 10:30"))
    expect(keysOf(house)).toEqual(before)
    const seqs = (await house.log()).map((entry) => entry.seq)
    expect(seqs).toEqual(seqs.map((_, index) => index + 1))
  })

  it("three days or fifty years in the past send nothing until the clock is right again (T17)", async () => {
    for (const wrong of [at("2026-04-10 12:00"), instantOf(0)]) {
      const house = await joined(garden(), at("2026-03-01 09:00"))
      for (const now of every(60, from, at("2026-04-14 12:00"))) await house.at(now)
      const before = keysOf(house).length
      for (const now of every(30, wrong, instantOf(wrong + DAY_MS))) await house.at(now)
      expect(house.house.hold.reason).toContain("clock")
      expect(keysOf(house).length).toBe(before)
      for (const now of every(60, at("2026-04-15 07:00"), at("2026-05-20 12:00"))) await house.at(now)
      expect(house.house.hold.reason).toBeNull()
      expect(keysOf(house).length).toBeGreaterThan(before)
    }
  }, 120_000)

  it("with a change of the zone's rules in between send at the hour as it is then (T20)", async () => {
    const house = await joined(garden(), at("2026-03-01 09:00"))
    await house.at(at("2026-03-20 07:00"))
    const moved = { ...garden(), people: [aPerson({ zone: zone("America/Halifax"), email: null, digest: null })] }
    house.house.shelf = { all: () => [moved], byId: () => moved, version: () => 2 }
    for (const now of every(30, at("2026-03-20 07:10"), at("2026-05-10 07:00"))) await house.at(now)
    const texts = house.texts.filter((text) => text.kind === "nudge")
    expect(texts.length).toBeGreaterThan(0)
    for (const text of texts) expect(localMinutes(text.at, zone("America/Halifax"))).toBeGreaterThanOrEqual(8 * 60)
    expect(texts.some((text) => localMinutes(text.at, zone("America/New_York")) < 8 * 60)).toBe(true)
  }, 120_000)
})

describe("many things far off", () => {
  it("fire when their day has come and not before, two hundred days ahead (T11)", async () => {
    const z = zone("America/New_York")
    const garden = {
      ...inZone(z),
      beds: [
        aBed({
          id: "south",
          sowings: [aSowing({ bed: "south", planned: day("2026-10-10"), species: [{ id: "winter-rye", share: 1 }] })],
        }),
      ],
    }
    const house = await joined(garden, at("2026-03-20 07:00"))
    for (const now of every(720, at("2026-03-20 08:00"), at("2026-06-01 07:00"))) await house.at(now)
    expect(keysOf(house)).toEqual([])
  })
})
