import { describe, expect, test } from "vitest"
import { reaches, sumAt } from "../../src/agronomy/development-clock.ts"

// Arithmetic of running sums, no source.
describe("a running sum", () => {
  const sum = Float64Array.of(0, 2, 2, 6)

  test("reaches a value within the day on which it grows there", () => {
    expect(reaches(sum, 1)).toBe(0.5)
    expect(reaches(sum, 4)).toBe(2.5)
    expect(reaches(sum, 6)).toBe(3)
  })

  test("reaches what it has held from the start at once, also where it never grows", () => {
    expect(reaches(sum, 0)).toBe(0)
    expect(reaches(Float64Array.of(3, 3, 3), 3)).toBe(0)
  })

  test("never reaches more than it comes to", () => {
    expect(reaches(sum, 6.1)).toBe(Number.POSITIVE_INFINITY)
  })

  test("is read between days, and stays at its ends outside of them", () => {
    expect(sumAt(sum, 2.5)).toBe(4)
    expect(sumAt(sum, -1)).toBe(0)
    expect(sumAt(sum, 9)).toBe(6)
  })
})
