import { describe, expect, test } from "vitest"
import { prepareWeather } from "../../src/agronomy/ensemble.ts"
import { madeYears } from "../../src/agronomy/made-years.ts"
import { vernalDay } from "../../src/agronomy/vernalisation.ts"
import type { DailyWeather } from "../../src/agronomy/weather-series.ts"
import { NIGHTS, normalsOf } from "../../src/agronomy/weather-tape.ts"
import { day, dayNumber } from "../../src/values/day.ts"
import { handbook } from "../given.ts"

const climate = handbook().climates.at({ lat: 40.04, lon: -76.31 })
const normal = normalsOf(climate)

/** Daily weather by normals, so much warmer, from a year's first day to another's last. */
function daily(from: number, to: number, warmer: (i: number) => number): DailyWeather {
  const first = dayNumber(day(`${from}-01-01`))
  const length = dayNumber(day(`${to}-12-31`)) - first + 1
  const of = (values: Float64Array) => Float64Array.from({ length }, (_, i) => values[i % 366]! + warmer(i))
  return { first, tmin_c: of(normal.tmin_c), tmax_c: of(normal.tmax_c), rain_mm: new Float64Array(length) }
}
const weather = (observed: DailyWeather | null, forecast: DailyWeather | null = null) => ({
  lat: 40.04,
  lon: -76.31,
  observed,
  forecast,
  climate,
})
const nights = (known: ReturnType<typeof weather>, on: string, first: string, days: number) => {
  const outlook = prepareWeather(known, day(on))
  return outlook.courses.map((course) => outlook.along(course, NIGHTS, dayNumber(day(first)), days))
}

describe("years that are made of normals", () => {
  test("have the normals for their mean, and the spread that the climate has from day to day and from year to year", () => {
    const years = madeYears(climate)
    for (const slot of [10, 100, 190, 300]) {
      const mean = years.reduce((sum, year) => sum + year[slot]!, 0) / years.length
      expect(Math.abs(mean)).toBeLessThan(1.2)
    }
    // A month is thirty days; with twelve years one month says little, all together enough.
    const ratios = climate.sdYear_c.map((sd, month) => {
      const means = years.map((year) => year.subarray(month * 30, month * 30 + 30).reduce((a, b) => a + b, 0) / 30)
      return Math.sqrt(means.reduce((sum, each) => sum + each * each, 0) / means.length) / sd
    })
    const ratio = ratios.reduce((a, b) => a + b, 0) / 12
    expect(ratio).toBeGreaterThan(0.8)
    expect(ratio).toBeLessThan(1.25)
  })
  test("are the same every time", () => {
    expect(madeYears({ ...climate })).toEqual(madeYears(climate))
  })
})

describe("what is known of a place on a day", () => {
  test("is the same on every course up to that day, and differs after it", () => {
    const known = weather(daily(2015, 2025, (i) => 4 * Math.sin(i / 7)))
    const ways = nights(known, "2025-05-31", "2025-05-20", 40)
    for (const way of ways) expect([...way.slice(0, 12)]).toEqual([...ways[0]!.slice(0, 12)])
    expect(new Set(ways.map((way) => way[30]!.toFixed(3))).size).toBeGreaterThan(3)
  })
  test("comes from whole years that ended before it, twenty at the most", () => {
    const known = weather(daily(1990, 2025, () => 0))
    const { ownYears } = prepareWeather(known, day("2025-05-31"))
    expect(ownYears).toHaveLength(20)
    expect(Math.max(...ownYears)).toBe(2024)
  })
  test("holds the forecast after the measured days, and nothing of it where days are missing between", () => {
    const measured = daily(2025, 2025, () => 0)
    const days = dayNumber(day("2025-05-31")) - measured.first + 1
    const cut: DailyWeather = {
      ...measured,
      tmin_c: measured.tmin_c.slice(0, days),
      tmax_c: measured.tmax_c.slice(0, days),
      rain_mm: measured.rain_mm.slice(0, days),
    }
    const ahead = (from: string): DailyWeather => ({
      first: dayNumber(day(from)),
      tmin_c: new Float64Array(5).fill(33),
      tmax_c: new Float64Array(5).fill(40),
      rain_mm: new Float64Array(5),
    })
    const ways = nights(weather(cut, ahead("2025-06-01")), "2025-05-31", "2025-06-01", 5)
    for (const way of ways) expect([...way]).toEqual([33, 33, 33, 33, 33])
    const gap = nights(weather(cut, ahead("2025-06-04")), "2025-05-31", "2025-06-01", 5)
    expect(gap.some((way) => way.includes(33))).toBe(false)
  })
  test("corrects the normals by what was measured", () => {
    const warm = prepareWeather(weather(daily(2020, 2024, () => 2)), day("2024-12-31"))
    for (const month of warm.departure.tmin_c) expect(Math.abs(month - 2)).toBeLessThan(0.3)
  })
})

describe("vernalization of a day", () => {
  const cold = { least: -1, from: 3, to: 8, most: 18 }
  test("is whole from 3 to 8 C, none at -1 and 18 C, half in the middle of each ramp (Weir et al. 1984, from memory)", () => {
    expect(vernalDay(5, 5, cold)).toBe(1)
    expect(vernalDay(-1, -1, cold)).toBe(0)
    expect(vernalDay(18, 18, cold)).toBe(0)
    expect(vernalDay(1, 1, cold)).toBeCloseTo(0.5, 9)
    expect(vernalDay(13, 13, cold)).toBeCloseTo(0.5, 9)
  })
  test("lies between 0 and 1 on any day", () => {
    for (let low = -40; low < 40; low += 3)
      for (let range = 0; range < 25; range += 4) {
        const found = vernalDay(low, low + range, cold)
        expect(found >= 0 && found <= 1).toBe(true)
      }
  })
})
