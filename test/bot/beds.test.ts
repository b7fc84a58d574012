import { describe, expect, it } from "vitest"
import type { Instant } from "../../src/values/instant.ts"
import { checkText } from "../../src/wording/check-text.ts"
import { aBed, aGarden, aPerson, aSowing, at } from "../given.ts"
import { every, type TestHouse } from "./given-house.ts"
import { aMail, anOffice, soon, talk, talkByMail } from "./given-office.ts"

const SAM = "+17175550150"
const INES = "+17175550142"
const acre = () =>
  aGarden({
    name: "Spring Street",
    invite: "rootwork",
    people: [aPerson()],
    beds: [aBed({ id: "south", sowings: [aSowing({ bed: "south" })] })],
  })
const JOINING = ["Rootwork", "yes", "I'm Sam", "Long bed, 4 x 8 ft", "rye 60, hairy vetch 40, 20 Sep"]

/** Sam has joined with one bed. */
async function joined(): Promise<TestHouse> {
  const house = await anOffice(acre())
  await talk(house, SAM, ...JOINING)
  return house
}

const bedsOf = (house: TestHouse, garden = "acre-1") => house.house.shelf.byId(garden)?.beds ?? []
const fine = (texts: readonly string[]) => {
  for (const text of texts)
    expect(checkText(text, { several: true, replies: "any", carrierWords: true }), text).toEqual([])
}

describe("a bed added by text", () => {
  it("comes in whole from one text, is planned at once, and UNDO takes it back", async () => {
    const house = await joined()
    const answers = await talk(house, SAM, "add bed: north, 4x8, winter rye sown 3 oct")
    expect(answers[0]).toMatch(/^Added: North \(4 x 8 ft\)\. .*rye sown on .*3 Oct/)
    expect(answers[0]).toMatch(/UNDO/)
    fine(answers)
    expect(bedsOf(house)).toMatchObject([
      { name: "Long bed" },
      { id: "north", name: "North", sowings: [{ sown: "2025-10-03", species: [{ id: "winter-rye", share: 1 }] }] },
    ])
    expect(bedsOf(house)[1]?.area_m2).toBeCloseTo(2.97, 2)
    expect((await talk(house, SAM, "why north"))[0]).toMatch(/North/)
    expect((await house.log("acre-1")).some((e) => e.kind === "reply" && e.acts[0]?.act === "add-bed")).toBe(true)
    expect((await talk(house, SAM, "undo"))[0]).toMatch(/^Taken back: "add bed: north/)
    expect(bedsOf(house).map(({ name }) => name)).toEqual(["Long bed"])
  })

  it("comes in by a short talk, in which other words are heard as ever", async () => {
    const house = await joined()
    const answers = await talk(
      house,
      SAM,
      "add a bed",
      "north bed",
      "long bed rye is 41 cm tall",
      "big",
      "1.2 x 2.4 m",
      "kudzu",
      "oats and field peas 1 Apr",
    )
    expect(answers[0]).toMatch(/What do you call the new bed/)
    expect(answers[1]).toMatch(/How big is North bed/)
    expect(answers[2]).toMatch(/height/)
    expect(answers[3]).toMatch(/did not get that.*How big is North bed/)
    expect(answers[4]).toMatch(/Which cover is sown in North bed/)
    expect(answers[5]).toMatch(/do not know "kudzu.*Which cover/)
    expect(answers[6]).toMatch(/^Added: North bed \(1.2 x 2.4 m\)\. Oats and .*pea.* sown on/)
    fine([answers[0], answers[1], answers[4], answers[6]].map(String))
    expect(bedsOf(house)[1]?.sowings[0]?.species.map(({ id }) => id)).toEqual(["oats", "field-pea"])
  })

  it("may be empty, and what is sown there later is told like anything else", async () => {
    const house = await joined()
    await talk(house, SAM, "add bed north 3 m2", "none")
    expect(bedsOf(house)[1]).toMatchObject({ name: "North", sowings: [] })
    const answers = await talk(house, SAM, "sowed oats in north today", "next")
    expect(answers[0]).toMatch(/North/)
    const acts = (await house.log("acre-1")).flatMap((e) => (e.kind === "reply" ? e.acts : []))
    expect(acts.at(-2)).toMatchObject({ act: "sowed", bed: "north", species: ["oats"] })
  })

  it("is asked about rather than guessed: sides that may be inches, a cover of several names", async () => {
    const house = await joined()
    const answers = await talk(house, SAM, "add bed: north, 48x96, clover 1 apr", "48 x 96 in", "crimson clover 1 apr")
    expect(answers[0]).toMatch(/How big is North/)
    expect(bedsOf(house)).toHaveLength(2)
    expect(bedsOf(house)[1]?.area_m2).toBeCloseTo(2.97, 2)
  })

  it("is under glass where its name says so", async () => {
    const house = await joined()
    await talk(house, SAM, "add bed: greenhouse east, 3 m2, oats 1 apr", "add bed: green row, 3 m2, oats 1 apr")
    expect(bedsOf(house).map(({ kind }) => kind)).toEqual(["raised", "greenhouse", "raised"])
  })

  it("has a name of its own: one that is there already is not taken twice", async () => {
    const house = await joined()
    const answers = await talk(house, SAM, "add bed: Long BED, 3 m2, oats 1 apr", "4x8")
    expect(answers[0]).toMatch(/called Long bed already/)
    expect(bedsOf(house)).toHaveLength(1)
    fine(answers.slice(0, 1))
  })

  it("is taken once, however often its text comes and wherever a process was killed", async () => {
    for (const verb of ["settleIncoming", "keepGarden", "remember"] as const) {
      const house = await joined()
      const { store } = house.house
      const whole = store[verb].bind(store) as (...args: unknown[]) => Promise<never>
      let calls = 0
      Object.assign(store, {
        [verb]: async (...args: unknown[]) => {
          if (verb === "remember" && !String(args[0]).startsWith("beds:")) return whole(...args)
          calls += 1
          if (calls % 2 === 1) throw new Error("killed before it was written")
          return whole(...args)
        },
      })
      const before = house.texts.length
      for (const text of ["add bed: north, 4x8, rye 3 oct", "drop bed north", "undo"]) {
        const now = soon()
        for (let times = 0; times < 2; times += 1) await house.says(SAM, text, now, { id: `SM-${verb}-${text}` })
        for (let times = 1; times < 6; times += 1) await house.at((now + times * 90_000) as Instant)
      }
      expect(
        bedsOf(house).map(({ id }) => id),
        verb,
      ).toEqual(["long-bed", "north"])
      expect(
        house.texts.slice(before).map(({ text }) => text.slice(0, 5)),
        verb,
      ).toEqual(["Added", "North", "Taken"])
    }
  })

  it("comes in by mail as well", async () => {
    const house = await anOffice(acre())
    await talkByMail(house, "sam@example.org", ...JOINING)
    await aMail(house, "sam@example.org", "add bed\nnorth\n4 x 8 ft\noats 1 Apr", soon())
    expect(house.mails.at(-1)?.text).toMatch(/^Added: North/)
    expect(bedsOf(house)).toHaveLength(2)
  })

  it("is not taken into a garden of a file: whoever asks is told so, and their words are kept", async () => {
    const house = await anOffice(acre())
    await house.says(INES, "join", soon())
    const answers = await talk(house, INES, "add bed: north, 4x8, rye 3 oct", "drop bed south")
    for (const answer of answers) expect(answer).toMatch(/^Spring Street is kept in a file/)
    fine(answers)
    expect(bedsOf(house, "acre")).toHaveLength(1)
    const kept = (await house.log("acre")).filter((e) => e.kind === "reply" && e.note === true)
    expect(kept.map((e) => e.kind === "reply" && e.text)).toEqual(["add bed: north, 4x8, rye 3 oct", "drop bed south"])
  })

  it("is none where the words say something else", async () => {
    const house = await joined()
    await talk(house, SAM, "new bed looks great", "add compost to the long bed 4 inches", "I added 2 beds of straw")
    expect(bedsOf(house)).toHaveLength(1)
  })

  it("is one of sixty at most, and twenty answers a day tell of them", async () => {
    const house = await joined()
    const now = soon()
    const before = house.texts.length
    for (let i = 0; i < 62; i += 1) await house.says(SAM, `add bed: row ${i}, 3 m2, none`, (now + i * 1000) as Instant)
    expect(bedsOf(house)).toHaveLength(60)
    expect(house.texts.slice(before).length).toBeLessThanOrEqual(20)
  }, 60_000)
})

describe("a bed left out by text", () => {
  it("is silent from then on, its log stays, and it is no stray of the log", async () => {
    const house = await joined()
    await talk(house, SAM, "add bed: north, 4x8, winter rye sown 3 oct", "north rye is 30 cm tall")
    const answers = await talk(house, SAM, "drop bed north")
    expect(answers[0]).toMatch(/^North is left out.*UNDO/)
    fine(answers)
    const before = house.texts.length
    for (const now of every(240, at("2026-04-02 07:00"), at("2026-05-25 20:00"))) await house.at(now)
    const later = house.texts.slice(before).map(({ text }) => text)
    expect(later.length).toBeGreaterThan(0)
    expect(later.filter((text) => /North/.test(text))).toEqual([])
    expect(house.house.memory.views.get("acre-1")?.view.history.orphans).toEqual([])
    expect((await house.log("acre-1")).some((e) => e.kind === "reply" && e.text.startsWith("north rye"))).toBe(true)
  })

  it("comes back by UNDO with all that was told of it", async () => {
    const house = await joined()
    await talk(house, SAM, "add bed: north, 4x8, winter rye sown 3 oct", "north rye is 30 cm tall")
    const told = () =>
      house.house.memory.views
        .get("acre-1")
        ?.view.history.beds.get("north")
        ?.map(({ facts }) => facts.length)
    const before = told()
    const answers = await talk(house, SAM, "drop bed north", "undo")
    expect(answers[1]).toMatch(/^Taken back: "drop bed north"/)
    expect(bedsOf(house).map(({ id }) => id)).toEqual(["long-bed", "north"])
    expect(told()).toEqual(before)
  })

  it("gives its name to another bed, and none of its past", async () => {
    const house = await joined()
    await talk(house, SAM, "add bed: north, 4x8, winter rye sown 3 oct", "drop bed north")
    await talk(house, SAM, "add bed: north, 3 m2, oats 1 apr")
    expect(bedsOf(house).map(({ id, name }) => [id, name])).toEqual([
      ["long-bed", "Long bed"],
      ["north-2", "North"],
    ])
  })

  it("is asked about where no bed has that name, and is kept where it is the only one", async () => {
    const house = await joined()
    const answers = await talk(house, SAM, "drop bed east", "drop the long bed")
    expect(answers[0]).toMatch(/Which bed is to be left out: Long bed/)
    expect(answers[1]).toMatch(/Long bed is your only bed/)
    expect(bedsOf(house)).toHaveLength(1)
    fine(answers)
  })
})
