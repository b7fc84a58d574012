import { describe, expect, it } from "vitest"
import type { Ask } from "../../src/garden/acts.ts"
import { understand } from "../../src/replies/understand.ts"
import { day } from "../../src/values/day.ts"
import { type CaseGarden, contextFor } from "./gardens.ts"

/** Two beds in which the same was asked, and a third (invented, no source). */
const GARDEN: CaseGarden = {
  about: "cuts open in two beds of three",
  zone: "America/New_York",
  dates: "month-first",
  units: "us",
  beds: [
    { id: "south", name: "South bed", species: ["winter-rye", "hairy-vetch"] },
    { id: "north", name: "North bed", species: ["winter-rye", "hairy-vetch"] },
    { id: "east", name: "East bed", species: ["oats"] },
  ],
  open: [
    { n: 1, bed: "south", kind: "cut" },
    { n: 2, bed: "north", kind: "cut" },
  ],
}

/** What an answer to our question comes to. */
function answered(ask: Ask, text: string, answer: string, asked = "2026-05-13") {
  const context = contextFor(GARDEN, "2026-05-13T09:30")
  return understand(answer, { ...context, pending: { ask, text, asked: day(asked) } })
}
const alone = (answer: string) => understand(answer, contextFor(GARDEN, "2026-05-13T09:30"))

describe("an answer to the question which bed", () => {
  const bed = (answer: string, asked?: string) =>
    answered({ which: "bed", choices: ["south", "north"] }, "first purple flowers", answer, asked).acts

  it("completes what was said before", () => {
    expect(bed("the south one")).toEqual([
      { act: "observe", bed: "south", species: null, what: "bloom", on: day("2026-05-13") },
    ])
  })

  it("may be both of two, or all", () => {
    for (const answer of ["both", "all of them"])
      expect(answered({ which: "bed", choices: ["south", "north"] }, "watered", answer).acts).toMatchObject([
        { act: "watered", bed: "south" },
        { act: "watered", bed: "north" },
      ])
  })

  it("counts on the day it was asked and the next; the day is that on which it was said", () => {
    expect(bed("south", "2026-05-12")).toMatchObject([{ bed: "south", on: "2026-05-12" }])
    expect(bed("south", "2026-05-11")).toEqual(alone("south").acts)
    expect(bed("south", "2026-05-14")).toEqual(alone("south").acts)
  })

  it("is none where it names what was not offered, denies, or tells of something else", () => {
    for (const answer of [
      "east",
      "not south",
      "if it is south",
      "watered south",
      "who knows what grows out there in that corner",
    ])
      expect(bed(answer), answer).toEqual(alone(answer).acts)
  })

  it("gives way to words about the texts themselves", () => {
    expect(bed("stop")).toEqual([{ act: "stop" }])
  })
})

describe("an answer to the question which reminder", () => {
  const number = (answer: string) => answered({ which: "reminder", choices: [1, 2] }, "done", answer).acts

  it("is a number, both, or the bed of one", () => {
    expect(number("2")).toMatchObject([{ act: "done", n: [2] }])
    expect(number("both")).toMatchObject([{ act: "done", n: [1, 2] }])
    expect(number("north")).toMatchObject([{ act: "done", n: [2] }])
  })

  it("is none where that number or bed was not offered", () => {
    expect(number("7")).toEqual(alone("7").acts)
    expect(number("east")).toEqual(alone("east").acts)
    expect(number("north and east")).toEqual(alone("north and east").acts)
  })
})

describe("an answer to the question which day", () => {
  const cut = (answer: string) => answered({ which: "day", choices: [] }, "cut south today or yesterday", answer).acts

  it("is one day", () => {
    expect(cut("yesterday")).toMatchObject([{ act: "done", n: [1], on: "2026-05-12" }])
    expect(cut("the 11th")).toMatchObject([{ act: "done", n: [1], on: "2026-05-11" }])
  })

  it("is none where it names no day", () => {
    expect(cut("hm")).toEqual(alone("hm").acts)
  })
})

describe("an answer to the question which plant", () => {
  it("is one of those offered", () => {
    const plant = (answer: string) =>
      answered({ which: "species", choices: ["winter-rye", "hairy-vetch"] }, "it is in bloom on south", answer)
    expect(plant("oats").acts).toEqual(alone("oats").acts)
    expect(plant("rye and vetch").acts).toEqual(alone("rye and vetch").acts)
  })
})

describe("an answer to the question what was meant", () => {
  const meant = (answer: string) => answered({ which: "what", choices: [] }, "north", answer).acts

  it("is read as one with what was said", () => {
    expect(meant("cut")).toMatchObject([{ act: "done", n: [2] }])
    expect(meant("watered yesterday")).toMatchObject([{ act: "watered", bed: "north", on: "2026-05-12" }])
  })

  it("is a text of its own where it names a bed, means the texts, or says nothing", () => {
    for (const answer of ["cut south", "help", "hm"]) expect(meant(answer), answer).toEqual(alone(answer).acts)
  })
})

describe("what a reading was made of", () => {
  const as = (text: string) => alone(text).trace?.words.map((word) => word.as)

  it("names beds, plants, days, times, figures and numbers", () => {
    expect(as("cut rye on south yesterday")).toEqual(
      expect.arrayContaining(["species winter-rye", "bed south", "a day; small word"]),
    )
    expect(as("done 2")).toEqual(expect.arrayContaining(["number 2"]))
    expect(as("rye is 40 cm high")).toEqual(expect.arrayContaining(["a figure"]))
    expect(as("planted tomatoes")?.join()).toContain("crop tomato")
  })

  it("says how a slip of the thumb was read", () => {
    expect(as("watred south")?.join()).toContain("read as watered")
  })

  it("tells of each clause what it came to", () => {
    const clauses = alone("watered south. bloom on north").trace?.clauses.map(({ acts }) => acts.map((act) => act.act))
    expect(clauses).toEqual([["watered"], ["observe"]])
  })
})
