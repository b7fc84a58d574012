import { describe, expect, it } from "vitest"
import { deliverNext } from "../../src/bot/deliver.ts"
import { asInAllGardens } from "../../src/bot/one-phone.ts"
import { replan } from "../../src/bot/replan.ts"
import type { Garden } from "../../src/garden/garden.ts"
import { DAY_MS } from "../../src/values/instant.ts"
import { localDay, localMinutes, zone } from "../../src/values/zone.ts"
import { checkText } from "../../src/wording/check-text.ts"
import { aBed, aGarden, aPerson, aSowing, at, NEW_YORK } from "../given.ts"
import { aHouse, every, type TestHouse } from "./given-house.ts"

const INES = "+17175550142"
const phoneOnly = { email: null, digest: null }
const acre = (person: Parameters<typeof aPerson>[0] = {}) =>
  aGarden({
    people: [aPerson({ ...phoneOnly, ...person })],
    beds: [aBed({ id: "south", sowings: [aSowing({ bed: "south" })] })],
  })
const hill = (person: Parameters<typeof aPerson>[0] = {}) =>
  aGarden({
    id: "hill",
    name: "Hill Lots",
    people: [aPerson({ id: "zoe", name: "Zoe", ...phoneOnly, ...person })],
    beds: [aBed({ id: "ridge", sowings: [aSowing({ bed: "ridge" })] })],
  })

async function weeks(house: TestHouse, from: string, to: string): Promise<void> {
  for (const now of every(120, at(from), at(to))) await house.at(now)
}

/** Both gardens have a yes, and May has come: something is open in each. */
async function inMay(...gardens: Garden[]): Promise<TestHouse> {
  const house = aHouse(...(gardens.length > 0 ? gardens : [acre(), hill()]))
  await house.at(at("2026-04-01 08:00"))
  await house.says(INES, "join long acre", at("2026-04-01 09:00"))
  await house.says(INES, "ridge rye is 41 cm tall", at("2026-04-02 09:00"))
  await weeks(house, "2026-04-02 10:00", "2026-05-20 21:00")
  return house
}

const openIn = (house: TestHouse, garden: string) =>
  new Set(house.texts.filter((text) => text.garden === garden).flatMap((text) => text.told.flatMap(({ n }) => n ?? [])))

const actsIn = async (house: TestHouse, garden: string, text: string) =>
  (await house.log(garden)).flatMap((entry) => (entry.kind === "reply" && entry.text === text ? entry.acts : []))

describe("one phone in two gardens of files", () => {
  it("gets no more texts a day than the fewer of both, none outside the hours of both, and never two at one hour", async () => {
    const house = await inMay(
      acre({ texts: { from: 7 * 60, to: 12 * 60, most: 3 } }),
      hill({ texts: { from: 9 * 60, to: 20 * 60, most: 1 } }),
    )
    const nudges = house.texts.filter((text) => text.told.length > 0)
    expect(new Set(nudges.map((text) => text.garden))).toEqual(new Set(["acre", "hill"]))
    const days = nudges.map((text) => localDay(text.at, NEW_YORK))
    expect(days.length).toBe(new Set(days).size)
    for (const text of nudges) {
      expect(localMinutes(text.at, NEW_YORK)).toBeGreaterThanOrEqual(9 * 60)
      expect(localMinutes(text.at, NEW_YORK)).toBeLessThan(12 * 60)
    }
  })

  it("gets nothing twice: each call of each reminder is said once, under a number of its own", async () => {
    const house = await inMay()
    const calls = house.texts.flatMap((text) => text.told.map((told) => `${text.garden} ${told.id}#${told.call}`))
    expect(calls.length).toBeGreaterThan(2)
    expect(calls.length).toBe(new Set(calls).size)
    const [here, there] = [openIn(house, "acre"), openIn(house, "hill")]
    expect([...here].filter((n) => there.has(n))).toEqual([])
  })

  it("gets no number twice where two gardens are put into words side by side, as workers and lanes do", async () => {
    const house = aHouse(acre(), hill())
    await house.says(INES, "join long acre", at("2026-04-01 09:00"))
    await house.says(INES, "ridge rye is 41 cm tall", at("2026-04-02 09:00"))
    let both = 0
    for (const now of every(120, at("2026-04-02 10:00"), at("2026-05-20 21:00"))) {
      for (const garden of house.house.shelf.all()) await replan(house.house, garden, now)
      const before = (await house.house.store.depth()).outgoing
      await Promise.all([deliverNext(house.house, now), deliverNext(house.house, now)])
      if ((await house.house.store.depth()).outgoing > before + 1) both += 1
      await house.at(now)
    }
    const owners = new Map<number, Set<string>>()
    for (const { garden, told } of house.texts)
      for (const { n = 0, id } of told) owners.set(n, (owners.get(n) ?? new Set()).add(`${garden} ${id}`))
    expect(owners.size).toBeGreaterThan(2)
    expect([...owners].filter(([, whose]) => whose.size > 1)).toEqual([])
    expect(both).toBe(0)
  })

  it("is asked which garden a bare DONE is for where both wait for one, and the answer settles that one alone", async () => {
    for (const [answer, garden] of [
      ["hill lots", "hill"],
      ["Long Acre", "acre"],
      ["south", "acre"],
    ] as const) {
      const house = await inMay()
      await house.says(INES, "done", at("2026-05-21 12:00"))
      expect(house.texts.at(-1)?.text).toBe("Which garden is that for: Long Acre or Hill Lots?")
      expect(checkText(house.texts.at(-1)?.text ?? "", { replies: "any" })).toEqual([])
      await house.says(INES, answer, at("2026-05-21 12:02"))
      for (const each of ["acre", "hill"]) {
        const settled = (await actsIn(house, each, answer)).filter(({ act }) => act === "done")
        const asked = (await house.log(each)).some((entry) => entry.kind === "reply" && entry.ask?.which === "reminder")
        expect(settled.length > 0 || asked, `${answer} in ${each}`).toBe(each === garden)
      }
    }
  })

  it("takes a number, alone after that question or beside a word, for the garden that told it", async () => {
    const house = await inMay()
    const n = Math.max(...openIn(house, "acre"))
    await house.says(INES, "done", at("2026-05-21 12:00"))
    await house.says(INES, String(n), at("2026-05-21 12:02"))
    expect(await actsIn(house, "acre", String(n))).toMatchObject([{ act: "done", n: [n] }])
    const other = Math.max(...openIn(house, "hill"))
    await house.says(INES, `done ${other}`, at("2026-05-21 13:00"))
    expect(await actsIn(house, "hill", `done ${other}`)).toMatchObject([{ act: "done", n: [other] }])
  })

  it("takes a bare DONE for the only garden in which anything is open, whichever wrote last", async () => {
    const house = await inMay()
    for (const n of openIn(house, "hill")) await house.says(INES, `done ${n}`, at("2026-05-21 12:00"))
    await house.says(INES, "why ridge", at("2026-05-21 12:30"))
    await house.says(INES, "done", at("2026-05-21 13:00"))
    expect((await actsIn(house, "hill", "done")).length).toBe(0)
    const here = (await house.log("acre")).filter((entry) => entry.kind === "reply" && entry.text === "done")
    expect(here).toHaveLength(1)
  })

  it("is answered twenty times a day by both together, whatever it says", async () => {
    const house = aHouse(acre(), hill())
    await house.says(INES, "join long acre", at("2026-04-01 05:00"))
    for (const [i, now] of [...every(10, at("2026-04-01 06:00"), at("2026-04-01 14:00"))].entries())
      await house.says(INES, `${i % 2 ? "ridge" : "south"} rye is ${30 + i} cm tall`, now)
    expect(new Set(house.texts.map(({ garden }) => garden))).toEqual(new Set(["acre", "hill"]))
    expect(house.texts.filter(({ kind }) => kind === "answer")).toHaveLength(20)
  })

  it("is silent in both after STOP to one, and has both back after START", async () => {
    const house = await inMay()
    await house.says(INES, "STOP", at("2026-05-21 12:00"))
    const before = house.texts.length
    await weeks(house, "2026-05-21 13:00", "2026-06-20 20:00")
    expect(house.texts.slice(before)).toEqual([])
    await house.says(INES, "START", at("2026-06-20 20:10"))
    for (const garden of ["acre", "hill"])
      expect(
        (await house.log(garden)).some(
          (entry) =>
            (entry.kind === "channel" && entry.state === "started") ||
            (entry.kind === "reply" && entry.acts.some(({ act }) => act === "start")),
        ),
        garden,
      ).toBe(true)
  })

  it("is quiet in both after PAUSE to one, and UNDO takes it back in both", async () => {
    const house = await inMay()
    await house.says(INES, "pause", at("2026-05-21 12:00"))
    const before = house.texts.length
    await weeks(house, "2026-05-21 13:00", "2026-05-28 20:00")
    expect(house.texts.slice(before)).toEqual([])
    await house.says(INES, "undo", at("2026-05-28 20:10"))
    for (const garden of ["acre", "hill"])
      expect(
        (await house.log(garden)).filter((entry) => entry.kind === "undo"),
        garden,
      ).toHaveLength(1)
  })

  it("is asked by each garden whether it wants texts, and one yes answers all that asked", async () => {
    const house = aHouse(acre(), hill())
    await weeks(house, "2026-04-01 08:00", "2026-04-25 20:00")
    const asked = house.texts.filter((text) => text.key.startsWith("join:")).map((text) => text.garden)
    expect(new Set(asked)).toEqual(new Set(["acre", "hill"]))
    const last = house.texts.at(-1)?.at ?? at("2026-04-25 20:00")
    const again = aHouse(acre(), hill())
    for (const now of every(120, at("2026-04-01 08:00"), last)) await again.at(now)
    const waiting = new Set(
      again.texts.filter((text) => text.key.startsWith("join:") && text.at > last - 3 * DAY_MS).map((t) => t.garden),
    )
    expect(waiting.size).toBe(2)
    await again.says(INES, "YES", last)
    for (const garden of waiting)
      expect(
        (await again.log(garden)).filter((entry) => entry.kind === "channel" && entry.state === "confirmed"),
        garden,
      ).toHaveLength(1)
  })
})

describe("hours of one person in several gardens", () => {
  const shelf = (...gardens: Garden[]) => ({
    all: () => gardens,
    byId: (id: string) => gardens.find((garden) => garden.id === id),
    version: () => 1,
  })
  const hours = (a: Garden, b: Garden) =>
    asInAllGardens(shelf(a, b), a, a.people[0] as never, at("2026-05-10 12:00")).texts

  it("are those that all of them name, on the person's own clock", () => {
    const chicago = zone("America/Chicago")
    const east = acre({ texts: { from: 8 * 60, to: 19 * 60, most: 2 } })
    expect(hours(east, hill({ zone: chicago, texts: { from: 8 * 60, to: 20 * 60, most: 1 } }))).toEqual({
      from: 9 * 60,
      to: 19 * 60,
      most: 1,
    })
  })

  it("stay the garden's own where no hour is in both, and where the phone is in one garden only", () => {
    const early = acre({ texts: { from: 6 * 60, to: 9 * 60, most: 3 } })
    expect(hours(early, hill({ texts: { from: 12 * 60, to: 20 * 60, most: 1 } }))).toEqual({
      from: 6 * 60,
      to: 9 * 60,
      most: 1,
    })
    expect(hours(early, hill({ phone: "+17175550199" }))).toEqual(early.people[0]?.texts)
  })
})
