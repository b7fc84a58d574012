import { describe, expect, test } from "vitest"
import { nitrogenPercent, nitrogenTable } from "../../src/agronomy/nitrogen.ts"
import { mixedCn } from "../../src/agronomy/residue.ts"
import { checkValues } from "./check-values.ts"
import { handbook } from "./shared.ts"

const { row, title } = checkValues("carbon-nitrogen")
const against24 = nitrogenTable(handbook).tieUpAbove_cn.value

describe("C:N of materials", () => {
  test.each([
    ["cn-rye-straw", "cn-01", "winter-rye", "mature"],
    ["cn-wheat-straw", "cn-02", "winter-wheat", "mature"],
    ["cn-oat-straw", "cn-03", "oats", "mature"],
    ["cn-rye-anthesis", "cn-05", "winter-rye", "flowering"],
    ["cn-rye-vegetative", "cn-06", "winter-rye", "vegetative"],
    ["cn-pea-straw", "cn-pea-straw", "field-pea", "mature"],
  ] as const)("%s and %s (NRCS, Table 1) lie in our %s, %s", (one, two, id, stage) => {
    const { low, high } = handbook.species.get(id)!.cn[stage]
    expect(row(one).expected).toBeGreaterThanOrEqual(low)
    expect(row(one).expected).toBeLessThanOrEqual(high)
    expect(row(two).expected.cn ?? row(two).expected).toBe(row(one).expected)
    if (row(two).expected.against_24)
      expect(row(one).expected > against24).toBe(row(two).expected.against_24.startsWith("ties"))
  })

  test(`${title(row("cn-vetch"))}; cn-09: hairy vetch lies between our young and our flowering vetch`, () => {
    const { vegetative, flowering } = handbook.species.get("hairy-vetch")!.cn
    expect(row("cn-vetch").expected).toBeGreaterThanOrEqual(vegetative.low)
    expect(row("cn-vetch").expected).toBeLessThanOrEqual(flowering.high)
    expect(row("cn-09").expected.cn).toBeLessThan(against24)
  })

  test(`${title(row("cn-diet"))}: above it we speak of tie-up`, () => {
    const { inputs, expected } = row("cn-diet")
    expect(inputs.kept + inputs.burnt).toBe(expected)
    expect(against24).toBe(expected)
  })
})

describe("percent nitrogen from C:N", () => {
  test.each(["cn-to-n-15", "cn-to-n-20", "cn-to-n-80"])("%s (AKRON-CN): nitrogen; we do not reckon protein", (id) => {
    const { inputs, expected } = row(id)
    expect(Math.abs(nitrogenPercent(inputs.cn, inputs.carbon_percent) - expected.n_percent)).toBeLessThan(0.05)
  })
  test.each(["cn-31", "cn-32", "cn-33", "cn-34"])("%s (ARS-AKRON): nitrogen; we do not reckon protein", (id) => {
    const { inputs, expected } = row(id)
    expect(Math.abs(nitrogenPercent(inputs.cn, inputs.c_pct) - expected.n_pct)).toBeLessThanOrEqual(0.051)
  })
  test(`${title(row("cn-24"))}: the same read from C:N`, () => {
    const { inputs, expected } = row("cn-24")
    expect(nitrogenPercent(inputs.cn, expected.c_pct)).toBeCloseTo(inputs.n_pct, 9)
  })
  test(title(row("cn-40")), () => {
    const { inputs, expected } = row("cn-40")
    expect((inputs.dry_g_m2 * nitrogenPercent(inputs.cn, inputs.c_pct)) / 100).toBeCloseTo(expected.n_g_m2, 2)
  })
  test(title(row("cn-41")), () => {
    const { inputs, expected } = row("cn-41")
    expect(Math.abs(nitrogenPercent(expected.cn, inputs.c_pct) - expected.n_pct)).toBeLessThan(0.05)
    expect(inputs.n_kg_ha / (inputs.dry_mg_ha * 10)).toBeCloseTo(expected.n_pct, 1)
  })
})

describe("C:N of a mixture is all carbon over all nitrogen", () => {
  test(`${title(row("cn-mix-compost"))}; cn-23`, () => {
    const parts = row("cn-mix-compost").inputs.parts.map((part: { lb: number; c: number; n: number }) => ({
      dry: part.lb,
      cn: part.c / part.n,
      carbon: part.c,
    }))
    expect(Math.abs(mixedCn(parts) - 34.7)).toBeLessThan(0.05)
    expect(row("cn-23").expected.cn).toBe(34.7)
  })
  test(title(row("cn-mix-rye-vetch")), () => {
    const { inputs, expected, tolerance } = row("cn-mix-rye-vetch")
    expect(Math.abs(mixedCn(inputs.parts) - expected)).toBeLessThan(tolerance)
  })
  test(`${title(row("cn-mix-not-mean"))}; cn-25: never the mean of the ratios`, () => {
    const { inputs, expected } = row("cn-mix-not-mean")
    expect(mixedCn(inputs.parts)).toBeCloseTo(expected.true, 1)
    expect(mixedCn(inputs.parts)).not.toBeCloseTo(expected.mean_of_ratios, 0)
    expect(row("cn-25").expected.cn).toBe(expected.true)
  })
  test.each(["cn-20", "cn-21"])("%s (CORNELL; ratios of NRCS Table 1)", (id) => {
    const { inputs, expected, tolerance } = row(id)
    const parts = inputs.parts.map((part: { dry_mass: number; cn: number }) => ({ dry: part.dry_mass, cn: part.cn }))
    expect(Math.abs(mixedCn(parts) - expected.cn)).toBeLessThan(tolerance)
  })
})
