import { describe, expect, it } from "vitest"
import { readBed, readSowing } from "../../src/garden/join-answers.ts"
import { day, handbook } from "../given.ts"

const TODAY = day("2026-11-10")
const isSowing = (words: string) => "value" in readSowing(words, handbook(), TODAY, "month-first")
const bed = (text: string, units: "us" | "metric" = "us") => {
  const read = readBed(text, units, isSowing)
  return "value" in read ? [read.value.name, read.value.size, read.value.rest] : read.wrong
}

describe("a bed as people tell it", () => {
  it.each([
    ["South bed, 4 x 8 ft", ["South bed", "4 x 8 ft", null]],
    ["4x8 ft south bed", ["South bed", "4x8 ft", null]],
    ["south bed 4x8", ["South bed", "4 x 8 ft", null]],
    ["it's called Long one, about 3 m2.", ["Long one", "3 m2", null]],
    ["12 sq ft", ["Bed 1", "12 sq ft", null]],
    ["The long one", ["The long one", null, null]],
    ["The long one, by the wall", ["The long one, by the wall", null, null]],
    ["north, 4x8, winter rye sown 3 oct", ["North", "4 x 8 ft", "winter rye sown 3 oct"]],
    ["north 4x8 winter rye 3 oct", ["North", "4 x 8 ft", "winter rye 3 oct"]],
    ["north\n4 x 8 ft\nrye 60, hairy vetch 40, 20 Sep", ["North", "4 x 8 ft", "rye 60, hairy vetch 40, 20 Sep"]],
    ["4x8 north bed, oats today", ["North bed", "4 x 8 ft", "oats today"]],
    ["north, oats today", ["North", null, "oats today"]],
    ["north, 4x8, kudzu in may", ["North", "4 x 8 ft", "kudzu in may"]],
    ["north, 4x8, nothing yet", ["North", "4 x 8 ft", "nothing yet"]],
  ])("%j", (text, expected) => {
    expect(bed(text)).toEqual(expected)
  })

  it("takes two sides without a unit for the garden's own, and asks where they may be inches or centimetres", () => {
    expect(bed("north 1.2 x 2.4", "metric")).toEqual(["North", "1.2 x 2.4 m", null])
    expect(bed("north 48x96", "us")).toEqual(["North 48x96", null, null])
    expect(bed("north 120x240", "metric")).toEqual(["North 120x240", null, null])
    expect(bed("north 120 x 240 cm", "metric")).toEqual(["North", "120 x 240 cm", null])
  })

  it("is no bed where nothing is said", () => {
    expect(bed(" ")).toBe("name-length")
    expect(bed("a".repeat(60))).toBe("name-length")
  })
})
