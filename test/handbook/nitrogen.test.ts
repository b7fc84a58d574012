import { describe, expect, test } from "vitest"
import {
  availableNitrogen,
  availablePerTon,
  dryFromFresh,
  dryFromHeight,
  methodShare,
  nitrogenPercent,
  nitrogenTable,
} from "../../src/agronomy/nitrogen.ts"
import { deepestTieUp, mixedCn, nitrogenFreed } from "../../src/agronomy/residue.ts"
import { residueTable } from "../../src/agronomy/residue-table.ts"
import type { Species } from "../../src/handbook/species.ts"
import { convert } from "../../src/values/amount.ts"
import { checkValues } from "./check-values.ts"
import { handbook } from "./shared.ts"

const { row, title } = checkValues("nitrogen")
const table = nitrogenTable(handbook)
const residue = residueTable(handbook)
const near = (found: number, expected: number, tolerance: number) =>
  expect(Math.abs(found - expected)).toBeLessThanOrEqual(tolerance)
const cm = (inches: number) => convert(inches, "in", "cm")
const lbPerAcre = (g: number) => convert(g, "g/m2", "lb/acre")

describe("plant-available nitrogen", () => {
  test.each(["pan-1-5", "pan-2-5", "pan-3-5"])("%s (PNW636, highlights)", (id) => {
    near(availablePerTon(row(id).inputs.n_percent, table), row(id).expected, 0.01)
  })
  test.each(["pan-01", "pan-02", "pan-03"])("%s (PNW636, highlights)", (id) => {
    near(availablePerTon(row(id).inputs.n_pct_dm, table), row(id).expected.pan_lb_ton, row(id).tolerance)
  })
  test(title(row("pan-low")), () => {
    const found = availablePerTon(1.1, table)
    expect(found).toBeGreaterThan(-20)
    expect(found).toBeLessThanOrEqual(0)
    expect(availableNitrogen(400, 1.1, table)).toBe(0)
  })
  test(`${title(row("pan-3-to-4"))}; ${title(row("pan-04"))}`, () => {
    const lbPerTon = (percent: number) => (2000 * availableNitrogen(100, percent, table)) / 100
    for (const percent of row("pan-3-to-4").inputs.n_percent) {
      expect(lbPerTon(percent)).toBeGreaterThanOrEqual(25)
      expect(lbPerTon(percent)).toBeLessThanOrEqual(44)
    }
    near(lbPerTon(3), 25, 3)
  })
  test(`${title(row("pan-mix-75-25"))}; ${title(row("pan-08"))}`, () => {
    const { inputs, expected } = row("pan-mix-75-25")
    const percent = inputs.parts.reduce(
      (sum: number, part: { dry: number; n_percent: number }) => sum + part.dry * part.n_percent,
      0,
    )
    expect(availablePerTon(percent, table)).toBeGreaterThan(expected.low)
    expect(availablePerTon(percent, table)).toBeLessThan(expected.high)
    const ryeVetch = mixedCn([
      { dry: 0.75, cn: 37 },
      { dry: 0.25, cn: 11 },
    ])
    near(availablePerTon(nitrogenPercent(ryeVetch, table.carbon_percent.value), table), 0, 6)
  })
  test(`${title(row("pan-05"))}; ${title(row("pan-06"))}`, () => {
    near(lbPerAcre(availableNitrogen(convert(6000, "lb/acre", "g/m2"), 3.5, table)), 105, 6)
    near(availableNitrogen(1000, 3.5, table), 17.5, 0.001)
  })
  test(`${title(row("pan-timing"))}; ${title(row("pan-09"))}: most of vetch's release of ten weeks is out by then`, () => {
    const freed = (days: number) => nitrogenFreed(11, "turned-in", residue.pieces.likely, days, residue)
    expect(freed(42) / freed(70)).toBeGreaterThan(0.5)
    expect(freed(28) / freed(70)).toBeGreaterThan(0.5)
  })
  test(`${title(row("pan-ceiling"))}; ${title(row("pan-07"))}: no usual stand of ours goes beyond them`, () => {
    const { legume_max, cereal_tie_up_max } = row("pan-ceiling").expected
    for (const species of handbook.species.values()) {
      if (species.kind !== "legume") continue
      const percent = nitrogenPercent(species.cn.flowering.low, table.carbon_percent.value)
      const credit = availableNitrogen(table.unmeasured_g_per_m2.flowering, percent, table)
      expect(lbPerAcre(credit), species.id).toBeLessThanOrEqual(legume_max)
    }
    const tied = -0.42 * table.unmeasured_g_per_m2.mature * deepestTieUp(82, residue.pieces.likely, residue).nitrogen
    expect(lbPerAcre(tied)).toBeLessThanOrEqual(cereal_tie_up_max)
  })
  test(title(row("biomass-fresh-example")), () => {
    const { inputs, expected, tolerance } = row("biomass-fresh-example")
    const dry = dryFromFresh(inputs.fresh_g, inputs.area_m2, inputs.dry_percent / 100)
    near(dry, expected.dry_g_per_m2, tolerance)
    near((dry * inputs.n_percent) / 100, expected.n_g_per_m2, tolerance)
    near(availableNitrogen(dry, inputs.n_percent, table), expected.pan_g_per_m2, tolerance)
    near(lbPerAcre(availableNitrogen(dry, inputs.n_percent, table)), expected.pan_lb_per_acre, tolerance)
  })
})

describe("dry matter", () => {
  test(`${title(row("biomass-nc"))}; bm-01; bm-02; bm-03: weight of a frame, its nitrogen, the half that is available`, () => {
    const { inputs, expected, tolerance } = row("biomass-nc")
    const dry = dryFromFresh(convert(inputs.dry_lb, "lb", "g"), convert(inputs.area_sqft, "sq ft", "m2"), 1)
    near(lbPerAcre(dry), expected.dry_lb_per_acre, tolerance)
    near(lbPerAcre((dry * inputs.n_percent) / 100), expected.n_lb_per_acre, tolerance)
    near(lbPerAcre((dry * inputs.n_percent) / 100) * inputs.available_fraction, expected.available_lb_per_acre, 0.3)
    expect(row("bm-01").expected.dry_lb_acre).toBe(expected.dry_lb_per_acre)
    expect(row("bm-02").expected.n_lb_acre).toBe(expected.n_lb_per_acre)
    expect(row("bm-03").expected.dug_in).toBe(expected.available_lb_per_acre)
  })
  test(`${title(row("biomass-gram-sqft"))}; bm-04; bm-05`, () => {
    const perAcre = (g: number) => lbPerAcre(dryFromFresh(g, convert(1, "sq ft", "m2"), 1))
    near(perAcre(20.8), 2000, 4)
    near(perAcre(1), row("bm-05").expected.dry_lb_acre, 0.01)
    near(perAcre(20.8), row("bm-04").expected.dry_lb_acre, 5)
  })
  test(`${title(row("biomass-metric"))}; bm-06`, () => {
    near(lbPerAcre(1), 8.9218, 0.001)
    const { inputs, expected } = row("bm-06")
    near(dryFromFresh(inputs.dry_g, inputs.m2, 1), expected.g_m2, 0.001)
    near(lbPerAcre(dryFromFresh(inputs.dry_g, inputs.m2, 1)), expected.lb_acre, 0.5)
  })
  test(title(row("bm-12")), () => {
    const { inputs, expected } = row("bm-12")
    near(dryFromFresh(inputs.fresh_g, inputs.m2, inputs.dry_matter_pct / 100), expected.dry_g_m2, 0.001)
  })
  test(title(row("bm-13")), () => {
    const { expected } = row("bm-13")
    expected.g_m2.forEach((g: number, i: number) => {
      near(lbPerAcre(g), expected.lb_acre[i], 1)
    })
  })
  test(`${title(row("biomass-height-legume"))}; bm-07`, () => {
    near(lbPerAcre(dryFromHeight(cm(14), 1, "legume", table)), 3200, 1)
    near(lbPerAcre(dryFromHeight(cm(10), 1, "legume", table)), row("bm-07").expected.dry_lb_acre, 0.5)
  })
  test(`${title(row("biomass-height-rye"))}; bm-08`, () => {
    near(lbPerAcre(dryFromHeight(cm(8), 1, "grass", table)), 2000, 0.5)
    // Half the height of the first figure holds half of it.
    near(lbPerAcre(dryFromHeight(cm(4), 1, "grass", table)), 1000, 0.5)
    near(lbPerAcre(dryFromHeight(cm(8), 0.5, "grass", table)), 1000, 0.5)
  })
  test(`${title(row("mix-rye-vetch-lawson"))}: a usual stand of ours lies among them`, () => {
    const { rye_mg_ha, vetch_mg_ha } = row("mix-rye-vetch-lawson").expected
    expect(table.unmeasured_g_per_m2.flowering).toBeGreaterThan(vetch_mg_ha * 100)
    expect(table.unmeasured_g_per_m2.flowering).toBeLessThan(rye_mg_ha * 100)
  })
})

describe("percent nitrogen by kind and stage", () => {
  const percents = (species: Species, stage: "vegetative" | "flowering") => [
    nitrogenPercent(species.cn[stage].high, table.carbon_percent.value),
    nitrogenPercent(species.cn[stage].low, table.carbon_percent.value),
  ]
  const annual = (species: Species) => species.life !== "perennial"
  test.each([
    ["n-percent-1", "bm-09", "vegetative", (one: Species) => one.kind === "legume" && annual(one)],
    ["n-percent-2", "bm-10", "flowering", (one: Species) => one.kind === "legume" && annual(one)],
    ["n-percent-3", "bm-09", "vegetative", (one: Species) => one.kind === "grass" || one.kind === "brassica"],
    ["n-percent-4", "bm-10", "flowering", (one: Species) => one.kind === "grass" || one.kind === "brassica"],
  ] as const)(
    "%s, %s (UCSC-COVER, MCCP): most of our species overlap the printed range",
    (id, _other, stage, which) => {
      const { low, high } = row(id).expected
      const all = [...handbook.species.values()].filter(which)
      const within = all.filter((species) => {
        const [least, most] = percents(species, stage) as [number, number]
        return most >= low - 0.3 && least <= high + 0.3
      })
      expect(within.length / all.length).toBeGreaterThan(0.6)
    },
  )
})

describe("what a way of killing leaves of the nitrogen", () => {
  test(`${title(row("n-available-halves"))}; bm-11; bm-03: dug in a half, on top 0.4 to a half where warm, a quarter where cool`, () => {
    // At 3.5 % nitrogen the line gives half of all nitrogen.
    const half = availableNitrogen(100, 3.5, table) / 3.5
    near(half * methodShare("turn-in", true, table), 0.5, 0.01)
    near(half * methodShare("leave", true, table), 0.4, 0.01)
    near(half * methodShare("leave", false, table), 0.25, 0.01)
    const { expected } = row("bm-11")
    near(half * methodShare("turn-in", true, table) * 120, expected.tilled, 1)
    near(half * methodShare("leave", false, table) * 120, expected.surface_cool, 1)
  })
})
