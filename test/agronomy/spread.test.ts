import { describe, expect, test } from "vitest"
import { momentsOver, normalGrid, normalQuantile, spreadFactors, TENTH } from "../../src/agronomy/spread.ts"

/** Share of a standard normal distribution below z, by Simpson's rule over its density. */
function below(z: number): number {
  const steps = 2_000
  const width = z / steps
  const density = (x: number) => Math.exp((-x * x) / 2) / Math.sqrt(2 * Math.PI)
  let sum = density(0) + density(z)
  for (let i = 1; i < steps; i += 1) sum += (i % 2 === 1 ? 4 : 2) * density(i * width)
  return 0.5 + (sum * width) / 3
}

describe("quantiles of the normal distribution", () => {
  test.each([0.001, 0.02, 0.1, 0.3, 0.5, 0.77, 0.9, 0.975, 0.9995])(
    "the share below the quantile of %d is that",
    (p) => {
      expect(below(normalQuantile(p))).toBeCloseTo(p, 8)
    },
  )
  test("agree with printed tables: 1.2816, 1.9600, 2.5758 (Abramowitz and Stegun, table 26.5, from memory)", () => {
    expect(normalQuantile(0.9)).toBeCloseTo(1.2816, 4)
    expect(normalQuantile(0.975)).toBeCloseTo(1.96, 4)
    expect(normalQuantile(0.995)).toBeCloseTo(2.5758, 4)
    expect(normalQuantile(0.9)).toBeCloseTo(TENTH, 8)
  })
  test("there is none at 0 or 1", () => {
    for (const p of [0, 1, -0.1, Number.NaN]) expect(() => normalQuantile(p)).toThrow(RangeError)
  })
  test("a grid is in order and even on both sides", () => {
    const grid = normalGrid(9)
    expect([...grid].sort((a, b) => a - b)).toEqual(grid)
    grid.forEach((z, i) => {
      expect(z).toBeCloseTo(-grid[grid.length - 1 - i]!, 8)
    })
  })
})

describe("the spread of a requirement", () => {
  test("has its low, likely and high at the 10th, 50th and 90th of a hundred", () => {
    const factors = spreadFactors({ low: 20, likely: 30, high: 60 }, [-TENTH, 0, TENTH])
    expect([...factors].map((each) => Number(each.toFixed(6)))).toEqual([20, 30, 60])
  })
})

describe("a distribution of moments", () => {
  test("gives back the quantiles of what was added, to an eighth of a day", () => {
    const moments = momentsOver(100)
    for (let i = 0; i < 1_000; i += 1) moments.add(20 + (i * 40) / 1_000, 1)
    expect(Math.abs(moments.quantile(0.1) - 24)).toBeLessThan(0.13)
    expect(Math.abs(moments.quantile(0.5) - 40)).toBeLessThan(0.13)
    expect(Math.abs(moments.quantile(0.9) - 56)).toBeLessThan(0.13)
  })
  test("keeps apart what lies beyond its end", () => {
    const moments = momentsOver(10)
    moments.add(5, 1)
    moments.add(Number.POSITIVE_INFINITY, 3)
    expect(moments.total()).toBe(4)
    expect(moments.beyond()).toBe(3)
    expect(moments.quantile(0.5)).toBe(10)
  })
})
