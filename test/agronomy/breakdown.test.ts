import { describe, expect, test } from "vitest"
import { restDays, waitsFor } from "../../src/agronomy/breakdown.ts"
import { residueTable, waitsTable } from "../../src/agronomy/residue-table.ts"
import type { Then } from "../../src/garden/garden.ts"
import { day } from "../../src/values/day.ts"
import { handbook } from "../given.ts"
import { evenGround } from "./ground.ts"

// Plain consequences of the residue module and the table of waits; the figures themselves are held in test/handbook/rest.test.ts.
const table = residueTable(handbook())
const waits = waitsTable(handbook())
const killedOn = day("2026-05-01")
const species = (id: string) => handbook().species.get(id)!
const none = { early: 0, likely: 0, late: 0 }

function restOf(then: Then, soil_c: number, days = 300) {
  const least = { transplants: none, smallSeed: none, group: "given" }
  const cn = { early: 40, likely: 40, late: 40 }
  return restDays({ killedOn, then, cn, waits: least, ground: evenGround(killedOn, days, soil_c, 0.4) }, table)
}

describe("least waits of a mix", () => {
  test("are those of its slowest part, where that is a fifth of it or more", () => {
    const wait = (share: number) =>
      waitsFor(
        [
          { species: species("winter-rye"), share },
          { species: species("phacelia"), share: 1 - share },
        ],
        "leave",
        waits,
      )
    const rye = waitsFor([{ species: species("winter-rye"), share: 1 }], "leave", waits)
    const phacelia = waitsFor([{ species: species("phacelia"), share: 1 }], "leave", waits)
    expect(rye.smallSeed.likely).toBeGreaterThan(phacelia.smallSeed.likely)
    expect(wait(0.2).smallSeed).toEqual(rye.smallSeed)
    expect(wait(0.19)).toEqual(phacelia)
  })

  test("of many small parts are those of all of them", () => {
    const parts = ["winter-rye", "phacelia", "oats", "field-pea", "crimson-clover", "daikon-radish"]
    const rye = waitsFor([{ species: species("winter-rye"), share: 1 }], "leave", waits)
    const mix = waitsFor(
      parts.map((id) => ({ species: species(id), share: 1 / 6 })),
      "leave",
      waits,
    )
    expect(mix.smallSeed.likely).toBe(rye.smallSeed.likely)
  })
})

describe("the rest of a bed", () => {
  test("under a tarp rots in warmer, wetter ground than left open, but never sooner than the tarp must lie", () => {
    const [tarp, open] = [restOf("tarp", 4), restOf("leave", 4)]
    expect(tarp.transplants.likely).toBeLessThan(open.transplants.likely)
    expect(tarp.smallSeed.likely).toBeLessThan(open.smallSeed.likely)
    expect(restOf("tarp", 28).transplants.likely).toBeGreaterThanOrEqual(table.ready.tarp_days.likely)
  })

  test("turned in waits longer for small seed than for plants; carried off, only roots rot", () => {
    const turned = restOf("turn-in", 12)
    expect(turned.smallSeed.likely).toBeGreaterThan(turned.transplants.likely)
    expect(restOf("carry-off", 12).transplants.likely).toBeLessThan(restOf("leave", 12).transplants.likely)
    expect(restOf("turn-in", 12).smallSeed.likely).toBeGreaterThan(restOf("carry-off", 12).smallSeed.likely)
  })

  test("goes on as on the last day that is known of the ground", () => {
    expect(restOf("turn-in", 12, 3)).toEqual(restOf("turn-in", 12))
  })
})
