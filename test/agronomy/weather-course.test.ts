import { describe, expect, test } from "vitest"
import { indexIn, weatherCourse } from "../../src/agronomy/weather-course.ts"
import { day } from "../../src/values/day.ts"
import { aGarden } from "../given.ts"
import { daily, evenClimate, weatherOf } from "../season/given.ts"

const climate = evenClimate(5, 15)
const known = {
  climate,
  observed: daily("2026-05-01", [
    [1, 11, 2],
    [Number.NaN, 12, Number.NaN],
    [3, 13, 0],
    [4, 14, 99],
  ]),
  forecast: daily("2026-05-04", [
    [7, 17, 5],
    [8, 18, Number.NaN],
  ]),
}
const course = weatherCourse(weatherOf(aGarden(), known), day("2026-05-03"), day("2026-04-30"), day("2026-05-08"))
const at = (on: string) => indexIn(course, day(on))

describe("the course of the weather", () => {
  test("is measured up to today, forecast after it, normals beyond", () => {
    expect([...course.known]).toEqual([0, 2, 0, 2, 1, 1, 0, 0, 0])
    expect(course.tmin_c[at("2026-05-01")]).toBe(1)
    expect(course.tmin_c[at("2026-05-04")]).toBe(7)
    expect(course.tmin_c[at("2026-05-07")]).toBe(5)
  })
  test("never looks at a measured day after today", () => {
    expect(course.rain_mm[at("2026-05-04")]).toBe(5)
  })
  test("fills a gap with normals, temperatures and rain each by itself", () => {
    expect(course.tmin_c[at("2026-05-02")]).toBe(5)
    expect(course.rain_mm[at("2026-05-02")]).toBeCloseTo(90 / 31, 9)
    expect(course.rain_mm[at("2026-05-05")]).toBeCloseTo(90 / 31, 9)
  })
  test("knows how far normals spread, and that what was measured does not", () => {
    const spread = weatherCourse(
      weatherOf(aGarden(), { ...known, climate: { ...climate, sdYear_c: climate.sdYear_c.map(() => 2) } }),
      day("2026-05-03"),
      day("2026-04-30"),
      day("2026-05-08"),
    ).spread_c
    expect([...spread]).toEqual([2, 0, 2, 0, 0, 0, 2, 2, 2])
  })
  test("runs straight between the middles of the months", () => {
    const rising = { ...climate, tmin_c: climate.tmin_c.map((_, month) => month) }
    const year = weatherCourse(
      weatherOf(aGarden(), { climate: rising }),
      day("2026-01-01"),
      day("2026-01-01"),
      day("2026-12-31"),
    )
    expect(year.tmin_c[indexIn(year, day("2026-04-16"))]).toBeCloseTo(3, 1)
    expect(year.tmin_c[indexIn(year, day("2026-05-01"))]).toBeCloseTo(3.5, 1)
  })
})
