import { describe, expect, test } from "vitest"
import { frostTable, nearestYearly, usualFrosts } from "../../src/agronomy/frost-dates.ts"
import { day, daysBetween } from "../../src/values/day.ts"
import { handbook } from "../given.ts"

const table = frostTable(handbook())
const at = (lat: number, lon: number, elev_m: number) =>
  usualFrosts(null, handbook().climates.at({ lat, lon, elev_m }), table)
const off = (found: string | null, usual: string) => Math.abs(daysBetween(day(`2026-${usual}`), day(`2026-${found}`)))

describe("usual frosts from normals", () => {
  test("Klein-Altendorf, Germany: the middle of ten years is day 112 and day 313 (observed daily minima, 2014-2023)", () => {
    const { last, first } = at(50.61, 6.99, 159)
    expect(off(last, "04-22")).toBeLessThanOrEqual(10)
    expect(off(first, "11-09")).toBeLessThanOrEqual(10)
  })
  test.each([
    ["Ithaca, New York", 42.45, -76.45, 290, "05-15", "10-02"],
    ["Battle Creek, Michigan", 42.4, -85.4, 280, "05-10", "10-05"],
    ["Portland, Oregon", 45.5, -122.7, 30, "03-25", "11-12"],
    ["Lancaster, Pennsylvania", 40.04, -76.31, 110, "05-01", "10-14"],
  ] as const)(
    "%s, within two weeks of its usual dates (from memory of frost tables)",
    (_, lat, lon, elev, spring, autumn) => {
      const { last, first } = at(lat, lon, elev)
      expect(off(last, spring)).toBeLessThanOrEqual(14)
      expect(off(first, autumn)).toBeLessThanOrEqual(14)
    },
  )
  test("a place without frost has none, and the south has its spring in October", () => {
    expect(at(25.8, -80.2, 3)).toMatchObject({ last: null, first: null })
    const { last, first } = at(-43.64, 172.5, 10)
    expect(last! > "08-15" && last! < "11-15").toBe(true)
    expect(first! > "04-01" && first! < "06-30").toBe(true)
  })
  test("what the gardener gave outranks it", () => {
    expect(
      usualFrosts({ last: "05-04", first: "10-12" }, handbook().climates.at({ lat: 25.8, lon: -80.2 }), table),
    ).toMatchObject({
      last: "05-04",
      first: "10-12",
    })
  })
})

test("a yearly day is the nearest one", () => {
  expect(nearestYearly("05-04", day("2026-12-20"))).toBe("2027-05-04")
  expect(nearestYearly("05-04", day("2026-09-20"))).toBe("2026-05-04")
})
