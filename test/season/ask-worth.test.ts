import { describe, expect, test } from "vitest"
import { estimateStages } from "../../src/season/estimate.ts"
import type { Seen, StageEstimates } from "../../src/season/stage-estimates.ts"
import { addDays, type Day, day, daysBetween } from "../../src/values/day.ts"
import { aGarden, handbook } from "../given.ts"
import { weatherOf } from "./given.ts"

const weather = weatherOf(aGarden())
const stagesOf = (species: string, on: Day = day("2025-09-20"), observed: Seen[] = []): StageEstimates =>
  estimateStages({
    species: handbook().species.get(species)!,
    development: handbook().development.get(species),
    sown: day("2025-09-20"),
    on,
    weather,
    bed: "raised",
    observed,
  })
const width = (stages: StageEstimates, stage: "firstFlower" | "viableSeed") =>
  daysBetween(stages[stage]!.early, stages[stage]!.late)

describe("when a look is worth asking for", () => {
  test("the last leaf or boot of a grass: from when it may be out until most are past it", () => {
    const { ask, flagLeaf, heading, worth } = stagesOf("winter-wheat")
    expect(worth.boot).toBeGreaterThanOrEqual(3)
    expect(ask.boot!.opens >= flagLeaf!.early && ask.boot!.opens <= flagLeaf!.likely).toBe(true)
    expect(ask.boot!.lapses >= heading!.likely).toBe(true)
  })

  test("no boot of what is no grass, and the bloom of both", () => {
    expect(stagesOf("hairy-vetch").ask.boot).toBeNull()
    for (const species of ["hairy-vetch", "winter-rye"]) {
      const { ask, firstFlower } = stagesOf(species)
      if (ask.bloom) expect(ask.bloom.opens >= firstFlower!.early && ask.bloom.opens <= firstFlower!.likely).toBe(true)
    }
    expect(stagesOf("hairy-vetch").ask.bloom).not.toBeNull()
  })

  test("not again once it was answered, and never after the bloom", () => {
    const book = stagesOf("winter-wheat")
    const leaf = book.flagLeaf!.likely
    expect(stagesOf("winter-wheat", leaf, [{ what: "flag-leaf", on: leaf }]).ask.boot).toBeNull()
    const bloom = book.firstFlower!.likely
    const after = stagesOf("winter-wheat", bloom, [{ what: "bloom", on: bloom }]).ask
    expect(after).toEqual({ boot: null, bloom: null })
  })

  test("a report narrows what comes after by about as much as it was said to be worth", () => {
    const book = stagesOf("winter-wheat")
    const leaf = book.flagLeaf!.likely
    const told = stagesOf("winter-wheat", leaf, [{ what: "flag-leaf", on: leaf }])
    const narrowed = width(book, "firstFlower") - width(told, "firstFlower")
    expect(narrowed).toBeGreaterThan(0)
    expect(Math.abs(narrowed - book.worth.boot)).toBeLessThanOrEqual(5)
    const vetch = stagesOf("hairy-vetch")
    const on = vetch.firstFlower!.likely
    const seen = stagesOf("hairy-vetch", addDays(on, 0), [{ what: "bloom", on }])
    expect(width(vetch, "viableSeed") - width(seen, "viableSeed")).toBeGreaterThanOrEqual(vetch.worth.bloom / 2)
  })
})
