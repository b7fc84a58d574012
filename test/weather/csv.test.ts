import { describe, expect, it } from "vitest"
import { day, dayNumber } from "../../src/values/day.ts"
import { WrongInput } from "../../src/values/problem.ts"
import { readWeatherCsv } from "../../src/weather/csv.ts"

const read = (text: string) => readWeatherCsv(text, "w.csv")
const problemsOf = (text: string) => {
  try {
    read(text)
  } catch (error) {
    if (error instanceof WrongInput) return error.problems.map((each) => `${each.place?.line} ${each.field}`)
  }
  return []
}

describe("a weather file", () => {
  it("is read with its gaps as gaps: days left out, values left out", () => {
    const series = read("date,tmin_c,tmax_c,rain_mm\n2026-02-28,1.5,9,0\n2026-03-02,-2,,3.2\n")
    expect(series.first).toBe(dayNumber(day("2026-02-28")))
    expect([...series.tmin_c]).toEqual([1.5, Number.NaN, -2])
    expect([...series.tmax_c]).toEqual([9, Number.NaN, Number.NaN])
    expect([...series.rain_mm]).toEqual([0, Number.NaN, 3.2])
  })

  it("may have its lines in any order, its columns too, and no rain", () => {
    const series = read("tmax_c,date,tmin_c\r\n5,2026-01-02,1\r\n4,2026-01-01,0\r\n")
    expect([...series.tmax_c]).toEqual([4, 5])
    expect([...series.rain_mm]).toEqual([Number.NaN, Number.NaN])
  })

  it("is refused with every line that cannot be", () => {
    const text =
      "date,tmin_c,tmax_c,rain_mm\n2026-02-30,1,2,0\n2026-03-01,9,2,0\n2026-03-02,-999,2,0\n2026-03-03,1,2,-1\n2026-03-04,warm,2,0\n2026-03-05,1,2,0\n2026-03-05,1,2,0\n"
    expect(problemsOf(text)).toEqual(["2 date", "3 tmax_c", "4 tmin_c", "5 rain_mm", "6 tmin_c", "8 date"])
  })

  it("may be read with days that cannot be as gaps that are told; a line without a day is still refused", () => {
    const told: string[] = []
    const doubt = (one: { place: { line: number } | null; field: string }) =>
      told.push(`${one.place?.line} ${one.field}`)
    const text = "date,tmin_c,tmax_c,rain_mm\n2026-03-01,9,2,0\n2026-03-02,-999,2,0\n2026-03-03,1,2,0\n"
    const series = readWeatherCsv(text, "w.csv", doubt)
    expect([...series.tmax_c]).toEqual([Number.NaN, Number.NaN, 2])
    expect(told).toEqual(["2 tmax_c", "3 tmin_c"])
    expect(() => readWeatherCsv(`${text}2026-03-99,1,2,0\n`, "w.csv", doubt)).toThrow(WrongInput)
  })

  it("is refused without its header or without a day", () => {
    expect(problemsOf("day,low,high\n2026-01-01,1,2\n")).toEqual(["1 header"])
    expect(problemsOf("date,tmin_c,tmax_c,rain_mm\n")).toEqual(["1 "])
  })
})
