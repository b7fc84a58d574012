import { describe, expect, test } from "vitest"
import { cnOf, dayOfChance, killedFrom, podsFrom, residueStage, seedLimit } from "../../src/season/member-stages.ts"
import { day } from "../../src/values/day.ts"
import { range } from "../given.ts"
import { aMember, settingOn } from "./given.ts"

const { cutting } = settingOn("2026-05-01")
const flower = {
  firstFlower: ["2026-05-14", "2026-05-20", "2026-05-26"] as [string, string, string],
  viableSeed: ["2026-05-30", "2026-06-08", "2026-06-20"] as [string, string, string],
}

describe("from when one cut kills", () => {
  test("rye from its pollen on", () => {
    expect(killedFrom(aMember("winter-rye", 1, flower), cutting)).toMatchObject({
      is: "stage",
      likely: day("2026-05-20"),
    })
  })
  test("never, where the species is not killed by cutting", () => {
    expect(killedFrom(aMember("red-clover", 1, flower), cutting)).toEqual({ is: "never" })
  })
  test("crimson clover two weeks before its flower", () => {
    expect(killedFrom(aMember("crimson-clover", 1, flower), cutting)).toMatchObject({ likely: day("2026-05-06") })
  })
  test("oats only some time after their pollen, at milk", () => {
    const kill = killedFrom(aMember("oats", 1, flower), cutting)
    expect(kill.is === "stage" && kill.likely > "2026-05-20").toBe(true)
  })
  test("full bloom that was seen is believed", () => {
    const seen = [{ what: "full-bloom" as const, on: day("2026-05-25") }]
    const vetch = aMember("buckwheat", 1, { ...flower, seen })
    expect(killedFrom(vetch, cutting)).toMatchObject({ likely: day("2026-05-25") })
  })
})

describe("the last safe day before seed", () => {
  test("is the day before one chance in ten, where that leaves time to cut", () => {
    const early = aMember("crimson-clover", 1, flower)
    expect(seedLimit(early, cutting)).toEqual({ by: day("2026-05-29"), rests: "seed" })
  })
  test("moves on, up to three chances in ten, where no cut would kill before", () => {
    const tight = aMember("winter-rye", 1, { ...flower, viableSeed: ["2026-05-21", "2026-06-10", "2026-06-20"] })
    const { by } = seedLimit(tight, cutting)!
    expect(by > "2026-05-20").toBe(true)
    expect(by <= "2026-05-30").toBe(true)
  })
  test("is none where no flower is expected", () => {
    expect(seedLimit(aMember("winter-rye", 1, { noBloom: "No." }), cutting)).toBeNull()
  })
  test("a chance between the ends of a range is read off straight lines", () => {
    const seed = range("2026-05-01", "2026-05-21", "2026-06-10")
    expect(dayOfChance(seed, 0.1)).toBe("2026-05-01")
    expect(dayOfChance(seed, 0.3)).toBe("2026-05-11")
    expect(dayOfChance(seed, 0.5)).toBe("2026-05-21")
  })
})

describe("residue", () => {
  const rye = aMember("winter-rye", 1, { ...flower, heading: ["2026-05-05", "2026-05-10", "2026-05-15"] })
  test("goes from young to bud to flower to straw", () => {
    const stages = ["2026-04-10", "2026-05-06", "2026-05-21", "2026-07-01"].map((on) =>
      residueStage(rye, day(on), cutting),
    )
    expect(stages).toEqual(["vegetative", "bud", "flowering", "mature"])
  })
  test("is young again once it has grown back", () => {
    expect(residueStage({ ...rye, secondGrowth: day("2026-06-01") }, day("2026-06-05"), cutting)).toBe("vegetative")
  })
  test("its C:N is used wide where no source was read, and at its middle where one was", () => {
    const read = cnOf(rye, "mature")
    expect(read.early).toBe(read.late)
    const guess = cnOf(aMember("crimson-clover"), "flowering")
    expect(guess.early).toBeLessThan(guess.late)
  })
  test("pods stand before seed is live, and from the day they were seen", () => {
    expect(podsFrom(rye, cutting)! < "2026-05-30").toBe(true)
    const seen = [{ what: "seed" as const, on: day("2026-05-22") }]
    expect(podsFrom({ ...rye, seen }, cutting)).toBe("2026-05-22")
  })
})
