import fc from "fast-check"
import { describe, expect, it } from "vitest"
import {
  addDays,
  asDay,
  day,
  dayFromNumber,
  dayNumber,
  dayOf,
  dayOfYear,
  daysBetween,
  inYear,
  weekday,
} from "../../src/values/day.ts"

describe("a day of the calendar", () => {
  it("is read from YYYY-MM-DD and from nothing else", () => {
    for (const text of ["2025-09-20", "2024-02-29", "0001-01-01"]) expect(asDay(text)).toBe(text)
    for (const text of [
      "2025-9-20",
      "2025-02-29",
      "2025-13-01",
      "2025-00-10",
      "2025-04-31",
      "20250920",
      " 2025-09-20",
      "2025-09-20T00:00Z",
      "",
    ]) {
      expect(asDay(text), text).toBeNull()
    }
  })

  it("agrees with the run-time's own calendar over four centuries (ECMA-262 time values)", () => {
    fc.assert(
      fc.property(fc.integer({ min: dayNumber(day("1800-01-01")), max: dayNumber(day("2200-12-31")) }), (n) => {
        const d = dayFromNumber(n)
        const date = new Date(n * 86_400_000)
        expect(d).toBe(date.toISOString().slice(0, 10))
        expect(dayNumber(d)).toBe(n)
        expect(weekday(d)).toBe(date.getUTCDay() === 0 ? 7 : date.getUTCDay())
      }),
      { numRuns: 3000 },
    )
  })

  it("counts over leap days and year ends", () => {
    expect(addDays(day("2028-02-28"), 1)).toBe("2028-02-29")
    expect(daysBetween(day("2028-02-28"), day("2028-03-01"))).toBe(2)
    expect(addDays(day("2025-12-31"), 1)).toBe("2026-01-01")
    expect(dayOfYear(day("2024-12-31"))).toBe(366)
  })

  it("moves 29 February to the 28th only in years that lack it (T10)", () => {
    const leap = dayOf(2024, 2, 29)!
    expect([2023, 2024, 2027, 2028].map((year) => inYear(leap, year))).toEqual([
      "2023-02-28",
      "2024-02-29",
      "2027-02-28",
      "2028-02-29",
    ])
  })
})
