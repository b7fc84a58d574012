import { describe, expect, test } from "vitest"
import { residueTable } from "../../src/agronomy/residue-table.ts"
import { groundOf, soilOn, warmFrom } from "../../src/agronomy/soil-warmth.ts"
import { weatherCourse } from "../../src/agronomy/weather-course.ts"
import type { KnownWeather } from "../../src/agronomy/weather-series.ts"
import { addDays, day, dayNumber } from "../../src/values/day.ts"
import { aGarden, handbook } from "../given.ts"
import { daily, evenClimate, weatherOf } from "../season/given.ts"

const table = residueTable(handbook())
const none = { soil: [], watered: [], rain: [] }
const ground = (
  known: Partial<KnownWeather>,
  kind: "raised" | "greenhouse" = "raised",
  facts = none as Parameters<typeof groundOf>[2],
) =>
  groundOf(
    weatherCourse(weatherOf(aGarden(), known), day("2026-05-10"), day("2026-04-01"), day("2026-09-30")),
    kind,
    facts,
    table,
  )

describe("soil warmth", () => {
  test("follows the mean air of the last week, not a single day", () => {
    const jump = ground({ climate: evenClimate(5, 15), observed: daily("2026-05-10", [[15, 25, 0]]) })
    expect(soilOn(jump, day("2026-05-09"))).toBeCloseTo(10, 6)
    expect(soilOn(jump, day("2026-05-10"))).toBeCloseTo(10 + 10 / 7, 6)
  })
  test("is warmer under glass, and never below freezing", () => {
    expect(soilOn(ground({ climate: evenClimate(5, 15) }, "greenhouse"), day("2026-05-01"))).toBeCloseTo(14, 6)
    expect(soilOn(ground({ climate: evenClimate(-20, -10) }), day("2026-05-01"))).toBe(0)
  })
  test("spreads where only normals are known: warm for the early end, cold for the late", () => {
    const climate = { ...evenClimate(5, 15), sdYear_c: Array.from({ length: 12 }, () => 1.5) }
    const spread = ground({ climate })
    expect(soilOn(spread, day("2026-05-01"), "early")).toBeGreaterThan(10.9)
    expect(soilOn(spread, day("2026-05-01"), "late")).toBeLessThan(9.1)
  })
  test("is drawn to what was measured, fully that day and less with the days", () => {
    const drawn = ground({ climate: evenClimate(5, 15) }, "raised", {
      ...none,
      soil: [{ on: day("2026-05-05"), value_c: 14 }],
    })
    expect(soilOn(drawn, day("2026-05-04"))).toBeCloseTo(10, 6)
    expect(soilOn(drawn, day("2026-05-05"))).toBeCloseTo(14, 6)
    expect(soilOn(drawn, day("2026-05-15"))).toBeCloseTo(10 + 4 * (1 - 10 / 21), 6)
    expect(soilOn(drawn, day("2026-06-10"))).toBeCloseTo(10, 6)
  })
  test("is warm from the first day of a warm week, or never", () => {
    const rising = {
      ...evenClimate(0, 10),
      tmin_c: [0, 1, 2, 4, 8, 12, 14, 13, 10, 5, 2, 0],
      tmax_c: [5, 6, 9, 15, 20, 25, 27, 26, 22, 16, 10, 6],
    }
    const warm = warmFrom(ground({ climate: rising }), day("2026-04-01"), 13)!
    expect(soilOn(ground({ climate: rising }), warm)).toBeGreaterThanOrEqual(13)
    expect(soilOn(ground({ climate: rising }), addDays(warm, -1))).toBeLessThan(13)
    expect(warmFrom(ground({ climate: rising }), day("2026-04-01"), 30)).toBeNull()
  })
})

describe("wetness", () => {
  const wetness = (known: Partial<KnownWeather>, on: string, kind?: "greenhouse", watered: string[] = []) => {
    const found = ground(known, kind ?? "raised", { ...none, watered: watered.map(day) })
    const i = dayNumber(day(on)) - found.first
    return [found.soilWet[i]!, found.surfaceWet[i]!]
  }
  test("a rain of 4 mm wets the residue, each dry day halves it (STEINER1999, from memory)", () => {
    const rain = daily("2026-05-01", [
      [5, 15, 6],
      [5, 15, 0],
      [5, 15, 1],
      [5, 15, 0],
    ])
    expect(wetness({ climate: evenClimate(5, 15), observed: rain }, "2026-05-01")[1]).toBe(1)
    expect(wetness({ climate: evenClimate(5, 15), observed: rain }, "2026-05-03")[1]).toBe(0.25)
  })
  test("soil is moist after 25 mm in two weeks and dry after none", () => {
    const dry = daily(
      "2026-04-01",
      Array.from({ length: 45 }, () => [5, 15, 0] as const),
    )
    expect(wetness({ climate: evenClimate(5, 15), observed: dry }, "2026-05-10")[0]).toBeCloseTo(0.385, 3)
    const wet = daily(
      "2026-04-01",
      Array.from({ length: 45 }, () => [5, 15, 3] as const),
    )
    expect(wetness({ climate: evenClimate(5, 15), observed: wet }, "2026-05-10")[0]).toBe(1)
  })
  test("waterings count, and glass is always watered", () => {
    const dry = daily(
      "2026-04-01",
      Array.from({ length: 45 }, () => [5, 15, 0] as const),
    )
    const watered = wetness({ climate: evenClimate(5, 15), observed: dry }, "2026-05-10", undefined, [
      "2026-05-04",
      "2026-05-09",
    ])
    expect(watered[0]).toBeGreaterThan(0.7)
    expect(wetness({ climate: evenClimate(5, 15), observed: dry }, "2026-05-10", "greenhouse")).toEqual([1, 0.9])
  })
})
