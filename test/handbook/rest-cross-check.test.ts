import { describe, expect, test } from "vitest"
import { restDays, waitsFor } from "../../src/agronomy/breakdown.ts"
import { residueTable, waitsTable } from "../../src/agronomy/residue-table.ts"
import type { Then } from "../../src/garden/garden.ts"
import { day } from "../../src/values/day.ts"
import { evenGround } from "../agronomy/ground.ts"
import { handbook } from "./shared.ts"

/**
 * A second, simpler reckoning of the rest, made apart from ours and fitted to the same published waits (standard days at 20 C, a
 * RUSLE temperature curve, a factor for the C:N): days after the cut, early, likely, late. Two models that were built
 * apart should agree within their ranges; where they do not, the text says so.
 */
const SECOND: readonly {
  what: string
  species: string
  cn: number
  then: Then
  soil_c: number
  transplants: readonly [number, number, number]
  smallSeed: readonly [number, number, number]
}[] = [
  {
    what: "rye at boot, left on top",
    species: "winter-rye",
    cn: 30,
    then: "leave",
    soil_c: 16,
    transplants: [14, 23, 34],
    smallSeed: [27, 42, 63],
  },
  {
    what: "rye in flower, turned in",
    species: "winter-rye",
    cn: 37,
    then: "turn-in",
    soil_c: 18,
    transplants: [14, 23, 34],
    smallSeed: [24, 39, 58],
  },
  {
    what: "hairy vetch in bloom, turned in",
    species: "hairy-vetch",
    cn: 12,
    then: "turn-in",
    soil_c: 16,
    transplants: [9, 15, 23],
    smallSeed: [16, 26, 39],
  },
  {
    what: "white mustard in flower, turned in",
    species: "white-mustard",
    cn: 22,
    then: "turn-in",
    soil_c: 17,
    transplants: [9, 16, 23],
    smallSeed: [21, 31, 48],
  },
  {
    what: "rye at boot, tops carried off",
    species: "winter-rye",
    cn: 30,
    then: "carry-off",
    soil_c: 16,
    transplants: [5, 9, 14],
    smallSeed: [14, 21, 31],
  },
]

const table = residueTable(handbook)
const killedOn = day("2026-05-14")

describe("two models of the rest agree within their ranges", () => {
  test.each(SECOND)("$what", ({ species, cn, then, soil_c, transplants, smallSeed }) => {
    const waits = waitsFor([{ species: handbook.species.get(species)!, share: 1 }], then, waitsTable(handbook))
    const ends = { early: cn, likely: cn, late: cn }
    const found = restDays({ killedOn, then, cn: ends, waits, ground: evenGround(killedOn, 300, soil_c, 0.9) }, table)
    for (const [ours, second] of [
      [found.transplants, transplants],
      [found.smallSeed, smallSeed],
    ] as const) {
      expect(ours.early).toBeLessThanOrEqual(second[2])
      expect(second[0]).toBeLessThanOrEqual(ours.late)
      expect(Math.abs(ours.likely - second[1])).toBeLessThanOrEqual(14)
    }
  })
})
