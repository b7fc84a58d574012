import { describe, expect, it } from "vitest"
import {
  convert,
  readAmount,
  readNumber,
  showAbout,
  showAmount,
  type UnitName,
  unitOf,
} from "../../src/values/amount.ts"

describe("conversion", () => {
  // NIST Special Publication 811 (2008), appendix B.8, from memory; the last digits as printed there.
  it.each<[number, UnitName, number, UnitName, number]>([
    [1, "in", 2.54, "cm", 1e-12],
    [1, "ft", 0.3048, "m", 1e-12],
    [1, "yd", 0.9144, "m", 1e-12],
    [1, "sq ft", 0.09290304, "m2", 1e-12],
    [1, "sq yd", 0.83612736, "m2", 1e-12],
    [1, "acre", 4046.873, "m2", 0.05],
    [1, "ha", 10_000, "m2", 1e-9],
    [1, "oz", 28.349523125, "g", 1e-9],
    [1, "lb", 453.59237, "g", 1e-9],
    [1, "gal", 3.785412, "l", 5e-7],
    [1, "qt", 0.9463529, "l", 5e-8],
    [98.6, "f", 37, "c", 1e-9],
    [-40, "f", -40, "c", 1e-9],
    [0, "c", 32, "f", 1e-9],
  ])("%d %s is %d %s", (value, from, expected, to, tolerance) => {
    expect(Math.abs(convert(value, from, to) - expected)).toBeLessThanOrEqual(tolerance)
  })

  // Arithmetic from the exact definitions: an acre is 43,560 square feet.
  it("takes seed and nitrogen rates from field to bed", () => {
    expect(convert(1, "lb/acre", "g/m2")).toBeCloseTo(0.112085, 5)
    expect(convert(1, "lb/1000 sq ft", "lb/acre")).toBeCloseTo(43.56, 9)
    expect(convert(1, "lb/1000 sq ft", "g/m2")).toBeCloseTo(4.88243, 4)
  })

  // "One inch of rain on 1,000 square feet is 623 gallons": the usual table value of extension services, from memory.
  it("makes 623 gallons of an inch of water on 1,000 square feet", () => {
    const litres = convert(1, "in", "mm") * convert(1000, "sq ft", "m2")
    expect(convert(litres, "l", "gal")).toBeCloseTo(623.4, 1)
  })

  it("refuses to make litres of grams", () => {
    expect(() => convert(1, "g", "l")).toThrow(RangeError)
  })

  it("comes back to where it was", () => {
    for (const [from, to] of [
      ["in", "m"],
      ["oz", "kg"],
      ["f", "c"],
      ["gal", "ml"],
      ["acre", "sq ft"],
    ] as const)
      expect(convert(convert(12.34, from, to), to, from)).toBeCloseTo(12.34, 9)
  })
})

describe("reading", () => {
  it.each<[string, number | null]>([
    ["4", 4],
    ["4.5", 4.5],
    ["4,5", 4.5],
    [".5", 0.5],
    ["4 1/2", 4.5],
    ["4½", 4.5],
    ["1/2", 0.5],
    ["½", 0.5],
    ["1,200", null],
    ["1/0", null],
    ["4-5", null],
    ["", null],
    ["four", null],
  ])("the number %j is %s", (text, expected) => {
    expect(readNumber(text)).toBe(expected)
  })

  it.each<[string, number, UnitName]>([
    ["14 in", 14, "in"],
    ['14"', 14, "in"],
    ["3 inches", 3, "in"],
    ["1/2 in", 0.5, "in"],
    ["0.8 oz", 0.8, "oz"],
    ["2 lbs.", 2, "lb"],
    ["5 gallons", 5, "gal"],
    ["12 litres", 12, "l"],
    ["35 cm", 35, "cm"],
    ["-9 C", -9, "c"],
    ["48 °F", 48, "f"],
    ["12mm", 12, "mm"],
    ["3 m²", 3, "m2"],
    ["100 square feet", 100, "sq ft"],
  ])("%j is %d %s", (text, value, unit) => {
    expect(readAmount(text)).toEqual({ value, unit })
  })

  it("takes the unit that is assumed where none is written, and nothing without one", () => {
    expect(readAmount("14", "in")).toEqual({ value: 14, unit: "in" })
    expect(readAmount("14")).toBeNull()
    expect(readAmount("14 furlongs", "in")).toBeNull()
    expect(readAmount("about an inch", "in")).toBeNull()
    expect(unitOf("square kilos")).toBeUndefined()
  })
})

describe("showing", () => {
  it.each<[number, Parameters<typeof showAmount>[1], string, string]>([
    [17.84, "l", "5 gal", "18 litres"],
    [1, "l", "0.3 gal", "1 litre"],
    [237, "l", "65 gal", "240 litres"],
    [14, "g", "0.5 oz", "14 g"],
    [21.6, "g", "0.8 oz", "22 g"],
    [0.4, "g", "0.01 oz", "0.4 g"],
    [2000, "g", "4.4 lb", "2 kg"],
    [-9, "c", "16 F", "-9 C"],
    [-0.3, "c", "31 F", "0 C"],
    [25.4, "mm", "1 in", "25 mm"],
    [2, "mm", "0.08 in", "2 mm"],
    [0, "mm", "0 in", "0 mm"],
    [2, "cm", "0.8 in", "2 cm"],
    [36, "cm", "14 in", "36 cm"],
    [250, "cm", "8.2 ft", "2.5 m"],
    [2.97, "m2", "32 sq ft", "3 m2"],
    [10, "g/m2", "2 lb per 1,000 sq ft", "10 g per m2"],
  ])("%d %s is %j in US units and %j in metric ones", (value, kept, us, metric) => {
    expect(showAmount(value, kept, "us")).toBe(us)
    expect(showAmount(value, kept, "metric")).toBe(metric)
  })

  it("says about where an amount is an estimate", () => {
    expect(showAbout(17.84, "l", "us")).toBe("about 5 gal")
  })

  it("keeps to letters that every phone has, and near the amount from one unit on", () => {
    for (const [kept, unit] of [
      ["g", "oz"],
      ["l", "gal"],
      ["cm", "in"],
      ["m2", "sq ft"],
    ] as const) {
      for (let value = 3.3; value < 900; value *= 1.37) {
        const shown = showAmount(convert(value, unit, kept), kept, "us")
        expect(shown).toMatch(/^[\d.]+ [a-z ]+$/)
        const read = readAmount(shown)
        expect(read).not.toBeNull()
        if (read) expect(Math.abs(convert(read.value, read.unit, unit) / value - 1)).toBeLessThan(0.15)
      }
    }
  })
})
