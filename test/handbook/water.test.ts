import { describe, expect, test } from "vitest"
import { heldWater, litres } from "../../src/agronomy/watering.ts"
import { wateringTable } from "../../src/agronomy/watering-table.ts"
import { convert } from "../../src/values/amount.ts"
import { checkValues } from "./check-values.ts"
import { handbook } from "./shared.ts"

const { row, title } = checkValues("water")
const table = wateringTable(handbook)
const near = (found: number, expected: number, tolerance: number) =>
  expect(Math.abs(found - expected)).toBeLessThanOrEqual(tolerance)

/** Litres of so many inches over so many square feet, by the program's own functions. */
const inchesOver = (inches: number, sqft: number) => litres(convert(inches, "in", "mm"), convert(sqft, "sq ft", "m2"))
const gallons = (l: number) => convert(l, "l", "gal")

describe("a depth of water over an area", () => {
  test(title(row("water-inch-100")), () => {
    near(inchesOver(1, 100), 235.97, 0.01)
    near(gallons(inchesOver(1, 100)), 62.34, 0.01)
  })
  test(`${title(row("water-purdue"))}; ${title(row("wa-02"))}`, () => near(gallons(inchesOver(1, 200)), 124, 0.8))
  test(title(row("water-1000")), () => near(gallons(inchesOver(1, 1000)), 623, 0.5))
  test(`${title(row("water-acre-inch"))}; ${title(row("wa-05"))}`, () =>
    near(gallons(litres(convert(1, "in", "mm"), convert(1, "acre", "m2"))), 27154, 1))
  test(`${title(row("water-mm-m2"))}; ${title(row("wa-06"))}`, () => expect(litres(1, 1)).toBe(1))
  test(title(row("water-bed")), () => {
    const l = litres(6, convert(32, "sq ft", "m2"))
    near(l, 17.84, 0.01)
    near(gallons(l), 4.71, 0.01)
  })
  test(title(row("wa-01")), () => near(gallons(inchesOver(1, 1)), 0.62, 0.005))
  test(title(row("wa-03")), () => {
    const { inputs, expected } = row("wa-03")
    inputs.sqft.forEach((sqft: number, i: number) => {
      near(gallons(inchesOver(1, sqft)), expected.gal[i], 0.01)
    })
  })
  test(title(row("wa-04")), () => near(gallons(inchesOver(1, 350)), 218, 0.5))
  test(title(row("wa-07")), () => {
    near(gallons(inchesOver(1, 32)), 19.95, 0.01)
    near(inchesOver(1, 32), 75.51, 0.01)
  })
})

describe("water that soil holds", () => {
  test.each(["sand", "loam", "clay"] as const)("water-holding-%s (FAO56, Table 19; from memory)", (soil) => {
    const { expected } = row(`water-holding-${soil}`)
    expect(heldWater(soil, 1000, table)).toEqual({ low: expected.low * 1000, high: expected.high * 1000 })
  })
  test(title(row("water-top-5cm")), () => {
    const { expected } = row("water-top-5cm")
    const held = heldWater("loam", 50, table)
    expect(held.low).toBeCloseTo(expected.low, 9)
    expect(held.high).toBeCloseTo(expected.high, 9)
  })
})
