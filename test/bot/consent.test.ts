import { describe, expect, it } from "vitest"
import { DAY_MS } from "../../src/values/instant.ts"
import { aBed, aGarden, aPerson, aSowing, at, day } from "../given.ts"
import { aHouse, every, type TestHouse } from "./given-house.ts"

const INES = "+17175550142"
/** A bed of rye and vetch in April: questions fall due every few days. */
const spring = (known = {}) =>
  aGarden({
    people: [aPerson({ email: null, digest: null, ...known })],
    beds: [
      aBed({ id: "south", sowings: [aSowing({ bed: "south" })] }),
      aBed({
        id: "east",
        sowings: [aSowing({ bed: "east", planned: day("2026-04-10"), species: [{ id: "oats", share: 1 }] })],
      }),
    ],
  })

async function weeks(house: TestHouse, from: string, to: string): Promise<void> {
  for (const now of every(240, at(from), at(to))) await house.at(now)
}

describe("the first text to a phone", () => {
  it("asks, and nothing else goes there until it is answered; asked twice, then quiet (P1)", async () => {
    const house = aHouse(spring())
    await weeks(house, "2026-04-01 08:00", "2026-06-20 08:00")
    expect(house.texts.map((text) => text.key.split(":")[0])).toEqual(["join", "join"])
    expect(house.texts[0]?.text).toContain("Reply JOIN to start")
    expect((house.texts[1]?.at ?? 0) - (house.texts[0]?.at ?? 0)).toBeGreaterThanOrEqual(3 * DAY_MS)
  })

  it("is the question whatever else is due, and a yes brings the rest on the same day", async () => {
    const house = aHouse(spring())
    await weeks(house, "2026-04-01 08:00", "2026-04-20 08:00")
    const before = house.texts.length
    await house.says(INES, "yes please", at("2026-04-20 12:00"))
    await weeks(house, "2026-04-20 12:10", "2026-04-21 09:00")
    expect(house.texts.slice(before).some((text) => text.told.length > 0)).toBe(true)
    const consent = (await house.log()).filter((entry) => entry.kind === "channel")
    expect(consent).toMatchObject([{ person: "ines", channel: "text", state: "confirmed" }])
    expect(JSON.stringify(consent)).not.toContain(INES)
  })

  it.each(["join", "status", "south rye is 40 cm tall", "OK"])(
    "is not needed by one who texts %j first",
    async (words) => {
      const house = aHouse(spring())
      await house.says(INES, words, at("2026-03-31 12:00"))
      await weeks(house, "2026-04-01 08:00", "2026-04-20 08:00")
      expect(house.texts.some((text) => text.key.startsWith("join:"))).toBe(false)
    },
  )

  it.each(["HELP", "what is all that", "STOP"])("%j is no yes", async (words) => {
    const house = aHouse(spring())
    await house.says(INES, words, at("2026-03-31 12:00"))
    await weeks(house, "2026-04-01 08:00", "2026-05-20 08:00")
    expect(house.texts.filter((text) => text.told.length > 0)).toEqual([])
  })

  it("lets mail take over where there is an address, until the yes comes", async () => {
    const house = aHouse(spring({ email: "ines@example.org" }))
    await weeks(house, "2026-04-01 08:00", "2026-05-10 08:00")
    expect(house.texts.every((text) => text.key.startsWith("join:"))).toBe(true)
    expect(house.mails.filter((mail) => mail.kind === "nudge").length).toBeGreaterThan(1)
  })

  it("is asked anew where the number in the garden file was mended", async () => {
    const garden = spring()
    const house = aHouse(garden)
    await house.says(INES, "join", at("2026-04-01 12:00"))
    const mended = { ...garden, people: [{ ...garden.people[0]!, phone: "+17175550199" }] }
    house.house.shelf = { all: () => [mended], byId: () => mended, version: () => 2 }
    await weeks(house, "2026-04-02 08:00", "2026-05-20 08:00")
    expect(
      new Set(house.texts.filter((text) => text.to === "+17175550199").map((text) => text.key.split(":")[0])),
    ).toEqual(new Set(["join"]))
  })
})

describe("a phone that has said nothing for a year", () => {
  it("is asked once whether it is still the same person's, and else left alone (P2)", async () => {
    const house = aHouse(spring())
    await house.says(INES, "join", at("2025-03-01 12:00"))
    await weeks(house, "2026-04-01 08:00", "2026-06-20 08:00")
    const asked = house.texts.filter((text) => text.at > at("2026-04-01 00:00"))
    expect(asked.map((text) => text.key.split(":")[0])).toEqual(["still"])
    await house.says(INES, "yes still me", at("2026-06-20 12:00"))
    await weeks(house, "2026-06-20 17:30", "2026-06-22 08:00")
    expect(house.texts.filter((text) => text.key.startsWith("still:"))).toHaveLength(1)
  })
})
