import fc from "fast-check"
import { describe, expect, test } from "vitest"
import { type RestDays, restDays, waitsFor } from "../../src/agronomy/breakdown.ts"
import { decayRate, deepestTieUp } from "../../src/agronomy/residue.ts"
import { residueTable, waitsTable } from "../../src/agronomy/residue-table.ts"
import type { Then } from "../../src/garden/garden.ts"
import { day } from "../../src/values/day.ts"
import { evenGround } from "../agronomy/ground.ts"
import { checkValues } from "./check-values.ts"
import { handbook } from "./shared.ts"

const { row, title } = checkValues("rest")
const table = residueTable(handbook)
const waits = waitsTable(handbook)
const killedOn = day("2026-05-01")
const species = (id: string) => handbook.species.get(id)!
const ends = ([early, likely, late]: number[]) => ({ early: early!, likely: likely!, late: late! })
const listOf = (days: RestDays["transplants"]) => [days.early, days.likely, days.late]

/** Days of rest in even ground; least waits from the table unless they are given. */
function rest(
  id: string,
  cn: number,
  then: Then,
  soil_c: number,
  wet = 0.6,
  least?: { transplants: number[]; small_seed: number[] },
) {
  const own = waitsFor([{ species: species(id), share: 1 }], then, waits)
  const given = least && { transplants: ends(least.transplants), smallSeed: ends(least.small_seed), group: "given" }
  return restDays(
    { killedOn, then, cn: ends([cn, cn, cn]), waits: given ?? own, ground: evenGround(killedOn, 300, soil_c, wet) },
    table,
  )
}

describe("worked by hand", () => {
  test.each([
    "rest-vector-rye-boot",
    "rest-vector-rye-anthesis",
    "rest-vector-vetch-bloom",
    "rest-vector-mustard-bloom",
  ])("%s: turned in, even moist soil", (id) => {
    const { inputs, expected } = row(id)
    const found = rest("winter-rye", inputs.cn, inputs.method, inputs.soil_c, 0.6, {
      transplants: inputs.minimum_transplants,
      small_seed: inputs.minimum_small_seed,
    })
    expect(listOf(found.transplants)).toEqual(expected.transplants)
    expect(listOf(found.smallSeed)).toEqual(expected.small_seed)
  })
  test("rye in flower left on top at 17 C: 14, 28, 42 days; vetch in bloom at 18 C: 10, 12, 19; the two 60:40 at 17 C: 13, 23, 35 (worked by hand from STICS8)", () => {
    expect(listOf(rest("winter-rye", 37, "leave", 17).transplants)).toEqual([14, 28, 42])
    expect(listOf(rest("hairy-vetch", 11, "leave", 18).transplants)).toEqual([10, 12, 19])
    expect(listOf(rest("winter-rye", 19.02, "leave", 17).transplants)).toEqual([13, 23, 35])
  })
})

describe("published waits", () => {
  test(`${title(row("wait-tilled-2"))}: legumes and young green stuff turned in at 15 C`, () => {
    for (const [id, cn] of [
      ["hairy-vetch", 11],
      ["field-pea", 16],
      ["winter-rye", 26],
    ] as const) {
      const { likely } = rest(id, cn, "turn-in", 15).transplants
      expect(likely).toBeGreaterThanOrEqual(14)
      expect(likely).toBeLessThanOrEqual(21)
    }
  })
  test(`${title(row("wait-rye-corn"))}: two weeks are the least likely wait after rye`, () => {
    expect(waitsFor([{ species: species("winter-rye"), share: 1 }], "leave", waits).transplants.likely).toBe(14)
  })
  test(`${title(row("wait-mustard-cornell"))}; ${title(row("wait-mustard-10-14"))}`, () => {
    const own = waitsFor([{ species: species("brown-mustard"), share: 1 }], "turn-in", waits).transplants
    expect(own.early).toBe(7)
    expect(own.likely).toBeGreaterThanOrEqual(10)
    expect(own.likely).toBeLessThanOrEqual(14)
    expect(rest("brown-mustard", 12, "turn-in", 25).transplants.early).toBeGreaterThanOrEqual(7)
  })
  test(`${title(row("wait-allelopathy-mulch"))}; ${title(row("wait-small-seed-4"))}; ${title(row("wait-phytotoxins"))}: small seed after rye`, () => {
    const { smallSeed } = waitsFor([{ species: species("winter-rye"), share: 1 }], "leave", waits)
    expect(smallSeed.likely).toBe(28)
    expect(smallSeed.late).toBe(40)
    expect(smallSeed.early).toBeGreaterThanOrEqual(14)
    expect(smallSeed.late).toBeLessThanOrEqual(60)
  })
  test(`${title(row("wait-tender-2-4"))}: tender stems turned in or left, soil of 12 to 20 C`, () => {
    for (const soil of [12, 15, 18, 20]) {
      for (const then of ["turn-in", "leave"] as const) {
        const found = rest("hairy-vetch", 12, then, soil).transplants
        expect(found.likely, `${then} at ${soil} C`).toBeGreaterThanOrEqual(then === "leave" ? 10 : 14)
        expect(found.likely, `${then} at ${soil} C`).toBeLessThanOrEqual(28)
      }
    }
  })
  test(`${title(row("tarp-rye"))}; ${title(row("tarp-rye-vetch"))}`, () => {
    const { kills, some_regrowth } = row("tarp-rye").expected
    const found = rest("winter-rye", 20, "tarp", 18).transplants
    expect(found.early).toBeGreaterThanOrEqual(some_regrowth)
    expect(found.likely).toBeGreaterThanOrEqual(row("tarp-rye-vetch").expected)
    expect(found.late).toBeGreaterThanOrEqual(kills[1])
  })
  test(`${title(row("scm-egg-adult"))}; ${title(row("scm-planting-delay"))}: the seedcorn fly`, () => {
    expect((row("scm-egg-adult").expected * 5) / 9).toBeCloseTo(waits.maggot.eggToAdult_cDays, 0)
    expect(((39 - 32) * 5) / 9).toBeCloseTo(waits.maggot.base_c, 1)
    const { expected, tolerance } = row("scm-planting-delay")
    expect(Math.abs(waits.maggot.wait_days[2] / 7 - expected)).toBeLessThanOrEqual(tolerance)
  })
})

describe("what must hold for any bed", () => {
  const anyBed = fc.record({
    id: fc.constantFrom(...[...handbook.species.keys()].sort()),
    cn: fc.integer({ min: 9, max: 80 }),
    soil: fc.integer({ min: 4, max: 28 }),
    wet: fc.double({ min: 0.2, max: 1, noNaN: true }),
    then: fc.constantFrom<Then>("leave", "carry-off", "turn-in", "tarp"),
  })
  test("rest-monotone: early, likely and late come in that order", () => {
    fc.assert(
      fc.property(anyBed, ({ id, cn, soil, wet, then }) => {
        for (const days of Object.values(rest(id, cn, then, soil, wet))) {
          expect(days.early).toBeLessThanOrEqual(days.likely)
          expect(days.likely).toBeLessThanOrEqual(days.late)
        }
      }),
    )
  })
  test("rest-warmer-shorter (STICS8): warmer moist soil is never ready later", () => {
    fc.assert(
      fc.property(anyBed, fc.integer({ min: 0, max: 8 }), ({ id, cn, soil, wet, then }, warmer) => {
        const cold = rest(id, cn, then, soil, wet)
        const warm = rest(id, cn, then, soil + warmer, wet)
        for (const want of ["transplants", "smallSeed"] as const)
          for (const end of ["early", "likely", "late"] as const)
            expect(warm[want][end]).toBeLessThanOrEqual(cold[want][end])
      }),
    )
  })
  test("rest-small-seed-later (PUTNAM): small seed is never ready before plants", () => {
    fc.assert(
      fc.property(anyBed, ({ id, cn, soil, wet, then }) => {
        const { transplants, smallSeed } = rest(id, cn, then, soil, wet)
        for (const end of ["early", "likely", "late"] as const)
          expect(smallSeed[end]).toBeGreaterThanOrEqual(transplants[end])
      }),
    )
  })
  test("rest-carry-off-sooner: carrying the tops off is never later than leaving or turning them in", () => {
    fc.assert(
      fc.property(anyBed, ({ id, cn, soil, wet }) => {
        const off = rest(id, cn, "carry-off", soil, wet)
        for (const then of ["leave", "turn-in"] as const) {
          const other = rest(id, cn, then, soil, wet)
          expect(off.transplants.likely).toBeLessThanOrEqual(other.transplants.likely)
          expect(off.smallSeed.likely).toBeLessThanOrEqual(other.smallSeed.likely)
        }
      }),
    )
  })
  test("rest-buried-faster (JAHANZAD2016): tops turned in decay faster than on the surface", () => {
    fc.assert(
      fc.property(fc.integer({ min: 8, max: 90 }), (cn) => {
        expect(decayRate(cn, "turned-in", table.pieces.likely, table)).toBeGreaterThan(
          decayRate(cn, "surface", 1, table),
        )
      }),
    )
  })
  test("rest-tie-up-grows (NRCS-CN): rye ties up more in flower than in boot, vetch nothing", () => {
    const tied = [11, 26, 37].map((cn) => Math.abs(deepestTieUp(cn, table.pieces.likely, table).nitrogen))
    expect(tied[0]).toBe(0)
    expect(tied[2]).toBeGreaterThan(tied[1]!)
  })
  test("rest-winter-killed: a cover killed in autumn keeps no plant waiting in spring", () => {
    expect(waits.winterKilled.transplants.slice(0, 2)).toEqual([0, 0])
  })
})
