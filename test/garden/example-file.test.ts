import { readFileSync } from "node:fs"
import { describe, expect, it } from "vitest"
import { exampleGarden, moveYears } from "../../src/garden/example-file.ts"
import { readGarden } from "../../src/garden/read.ts"
import { addDays, type Day, day, daysBetween, inYear, partsOf } from "../../src/values/day.ts"
import { handbook } from "../given.ts"

const source = readFileSync(new URL("../../config/garden.yaml", import.meta.url), "utf8")
const read = readGarden(source, "garden.yaml", handbook())
if ("problems" in read) throw new Error("the example garden is broken")
const example = read.garden
/** A leap year from end to end. */
const everyDay = Array.from({ length: 366 }, (_, n) => addDays(day("2028-01-01"), n))

const sowings = (today: Day) => exampleGarden(example, today).beds.flatMap((bed) => bed.sowings)

describe("the example garden", () => {
  it("tells the season around today, whatever the day: some of it sown by then, some planned", () => {
    for (const today of everyDay) {
      const all = sowings(today)
      const past = all.filter((sowing) => sowing.sown !== null)
      expect(past.length, today).toBeGreaterThanOrEqual(2)
      expect(all.length - past.length, today).toBeGreaterThanOrEqual(1)
      for (const { id, bed, sown, planned } of all) {
        expect(sown === null).not.toBe(planned === null)
        expect(id).toBe(`${bed}:${sown ?? planned}`)
        if (sown) expect(sown <= today).toBe(true)
        if (planned) expect(planned >= addDays(today, -3)).toBe(true)
      }
      const latest = past
        .map((sowing) => sowing.sown ?? "")
        .toSorted()
        .at(-1)
      expect(latest).toBe(today)
      const distances = all.map((sowing) => Math.abs(daysBetween(today, sowing.sown ?? sowing.planned ?? today)))
      expect(Math.max(...distances)).toBeLessThan(420)
    }
  })

  it("keeps each sowing in its season: only the year moves", () => {
    const written = new Set(
      example.beds.flatMap((bed) =>
        bed.sowings.map((sowing) => inYear(sowing.sown ?? sowing.planned ?? day("2026-01-01"), 2026)),
      ),
    )
    for (const today of everyDay) {
      for (const sowing of sowings(today).filter((each) => each.bed !== "frame"))
        expect(written).toContain(inYear(sowing.sown ?? sowing.planned ?? today, 2026))
    }
  })

  it("has six beds with a raised bed, a plot and a greenhouse, two people, and both ways of reaching them", () => {
    expect(example.beds).toHaveLength(6)
    expect(new Set(example.beds.map((bed) => bed.kind))).toEqual(new Set(["raised", "plot", "greenhouse"]))
    expect(example.people.map((person) => person.by)).toEqual(["text", "mail"])
    expect(example.people[1]?.minds).toHaveLength(2)
  })
})

describe("days moved by years", () => {
  it("keep month and day, and come back", () => {
    const there = moveYears(example, 2)
    expect(there.beds[0]?.sowings[0]).toMatchObject({
      id: "south:2027-09-20",
      sown: "2027-09-20",
      next: { wanted: "2028-05-25" },
    })
    expect(moveYears(there, -2)).toEqual(example)
  })

  it("put 29 February on the 28th in a year without it", () => {
    const bed = example.beds[0]!
    const sowing = { ...bed.sowings[0]!, sown: day("2028-02-29") }
    const moved = moveYears({ ...example, beds: [{ ...bed, sowings: [sowing] }] }, 1)
    expect(moved.beds[0]?.sowings[0]?.sown).toBe("2029-02-28")
    expect(partsOf(moved.beds[0]!.sowings[0]!.sown!).year).toBe(2029)
  })
})
