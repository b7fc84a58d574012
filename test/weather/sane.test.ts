import { existsSync, readdirSync, readFileSync } from "node:fs"
import { describe, expect, it } from "vitest"
import { asDay, dayFromNumber, dayNumber, partsOf } from "../../src/values/day.ts"
import type { DayRow } from "../../src/weather/days.ts"
import { checkDays, type Normals } from "../../src/weather/sane.ts"
import { plainWeather } from "../stand-ins/weather.ts"
import { NORMALS, TODAY } from "./weather-given.ts"

/** A spring of the stand-in's weather. */
const spring = (length = 60): DayRow[] =>
  Array.from({ length }, (_, i) => ({ day: TODAY - length + i, ...plainWeather(TODAY - length + i) }))
const bent = (at: number, change: Partial<DayRow>) => spring().map((row, i) => (i === at ? { ...row, ...change } : row))
const check = (rows: DayRow[], normals: Normals | null = NORMALS, before: DayRow[] = []) =>
  checkDays(rows, normals, before)
const known = (row: DayRow | undefined) => row !== undefined && !Number.isNaN(row.tmin_c) && !Number.isNaN(row.tmax_c)

describe("a good spring", () => {
  it("passes as it is, with normals and without", () => {
    for (const normals of [NORMALS, null])
      expect(check(spring(), normals)).toEqual({ rows: spring(), doubts: 0, refused: null })
  })

  it("with gaps passes with its gaps, and the caller's rows are left alone", () => {
    const rows = bent(30, { tmin_c: Number.NaN })
    expect(check(rows).rows).toEqual(rows)
    const hot = bent(30, { tmax_c: 99 })
    check(hot)
    expect(hot[30]?.tmax_c).toBe(99)
  })
})

describe("a day that is hardly possible becomes a gap, and only that day", () => {
  const there = plainWeather(TODAY - 30)
  it.each<[string, Partial<DayRow>]>([
    ["-999 for missing", { tmin_c: -999, tmax_c: -999 }],
    ["60 C and more", { tmax_c: 61 }],
    ["-99.9 for one", { tmin_c: -99.9 }],
    ["minimum above maximum", { tmin_c: there.tmax_c, tmax_c: there.tmin_c }],
    ["nothing but zeros", { tmin_c: 0, tmax_c: 0, rain_mm: 0 }],
    ["Fahrenheit", { tmin_c: there.tmin_c * 1.8 + 32, tmax_c: there.tmax_c * 1.8 + 32 }],
    ["Kelvin", { tmin_c: there.tmin_c + 273.15, tmax_c: there.tmax_c + 273.15 }],
    ["tenths of a degree", { tmin_c: there.tmin_c * 10, tmax_c: there.tmax_c * 10 }],
    ["a lost minus on a frosty value", { tmin_c: -there.tmin_c - 10, tmax_c: there.tmax_c }],
    ["35 C between night and day", { tmin_c: there.tmin_c - 25 }],
    ["a spike of 18 C up", { tmin_c: there.tmin_c + 18, tmax_c: there.tmax_c + 18 }],
    ["a spike of 15 C down", { tmin_c: there.tmin_c - 15, tmax_c: there.tmax_c - 15 }],
  ])("%s", (_, change) => {
    const { rows, doubts, refused } = check(bent(30, change))
    expect([doubts, refused]).toEqual([1, null])
    expect(rows.filter((row) => !known(row)).map((row) => row.day)).toEqual([TODAY - 30])
  })

  it("at the ends of the series too, where there is one neighbour only", () => {
    for (const at of [0, 59]) {
      const row = spring()[at] as DayRow
      const { rows } = check(bent(at, { tmin_c: row.tmin_c + 22, tmax_c: row.tmax_c + 22 }))
      expect(rows.flatMap((each, i) => (known(each) ? [] : [i]))).toEqual([at])
    }
  })

  it("rain below zero or beyond measure is a gap in the rain alone; zeros of a missing day are no dry day", () => {
    for (const rain_mm of [-1, 501, 9999]) {
      const { rows, doubts } = check(bent(30, { rain_mm }))
      expect([doubts, known(rows[30]), rows[30]?.rain_mm]).toEqual([1, true, Number.NaN])
    }
    expect(check(bent(30, { tmin_c: 0, tmax_c: 0, rain_mm: 0 })).rows[30]?.rain_mm).toBeNaN()
  })

  it("the same values four days running are a stuck instrument; three may be chance", () => {
    const stuck = (days: number) =>
      spring().map((row, i) => (i >= 20 && i < 20 + days ? { ...row, tmin_c: 7.2, tmax_c: 18.1 } : row))
    expect(check(stuck(3)).doubts).toBe(0)
    const { rows } = check(stuck(10))
    expect(rows.flatMap((each, i) => (known(each) ? [] : [i]))).toEqual([20, 21, 22, 23, 24, 25, 26, 27, 28, 29])
  })
})

describe("an answer that is wrong as a whole is refused", () => {
  const all = (change: (row: DayRow) => Partial<DayRow>) => spring().map((row) => ({ ...row, ...change(row) }))
  const fahrenheit = all((row) => ({ tmin_c: row.tmin_c * 1.8 + 32, tmax_c: row.tmax_c * 1.8 + 32 }))

  it("Fahrenheit, Kelvin, tenths, half a year off, -999 throughout", () => {
    expect(check(fahrenheit).refused).not.toBeNull()
    expect(check(all((row) => ({ tmin_c: row.tmin_c + 273, tmax_c: row.tmax_c + 273 }))).refused).not.toBeNull()
    expect(check(all((row) => ({ tmin_c: row.tmin_c * 10, tmax_c: row.tmax_c * 10 }))).refused).not.toBeNull()
    expect(check(all((row) => plainWeather(row.day + 183))).refused).toBeNull()
    expect(check(all(() => ({ tmin_c: -999, tmax_c: -999 }))).refused).not.toBeNull()
  })

  it("Fahrenheit in winter, where every figure could be a temperature", () => {
    const winter = Array.from({ length: 30 }, (_, i) => {
      const day = TODAY - 120 + i
      const { tmin_c, tmax_c, rain_mm } = plainWeather(day)
      return { day, tmin_c: tmin_c * 1.8 + 32, tmax_c: tmax_c * 1.8 + 32, rain_mm }
    })
    expect(check(winter).refused).toMatch(/from what is normal there/)
  })

  it("without normals by what was known before", () => {
    const winter = spring().map((row) => ({ ...row, tmin_c: row.tmin_c - 15, tmax_c: row.tmax_c - 15 }))
    expect(check(winter, null).refused).toBeNull()
    expect(check(winter, null, spring()).refused).toMatch(/from what it said before/)
  })

  it("days that come twice", () => {
    expect(check([...spring(), spring()[3] as DayRow]).refused).toBe("it has a day twice")
  })
})

/** Observed daily weather of four continents, where the reference folder lies beside the checkout. */
const observed = new URL("../../../shared/reference/observed/", import.meta.url)

describe.runIf(existsSync(observed))("real weather", () => {
  it("is believed: of 99,567 measured days fewer than one in a thousand is doubted", () => {
    const files = ["places", "weather"].flatMap((folder) =>
      readdirSync(new URL(`${folder}/`, observed))
        .filter((name) => name.endsWith(".csv"))
        .map((name) => new URL(`${folder}/${name}`, observed)),
    )
    let [days, doubts, refused] = [0, 0, 0]
    for (const file of files) {
      const rows = rowsIn(readFileSync(file, "utf8"))
      const checked = check(rows, normalsOf(rows))
      days += rows.filter(known).length
      doubts += checked.doubts
      refused += checked.refused === null ? 0 : 1
    }
    expect(days).toBeGreaterThan(90_000)
    expect(refused).toBe(0)
    expect(doubts / days).toBeLessThan(0.001)
  })
})

/** `date,tmin_c,tmax_c,rain_mm`, errors and all: they are what is to be found. */
function rowsIn(text: string): DayRow[] {
  return text
    .trim()
    .split("\n")
    .slice(1)
    .flatMap((line) => {
      const [date = "", ...cells] = line.trim().split(",")
      const [tmin_c, tmax_c, rain_mm] = cells.map((cell) => (cell === "" ? Number.NaN : Number(cell))) as [
        number,
        number,
        number,
      ]
      const found = asDay(date)
      return found ? [{ day: dayNumber(found), tmin_c, tmax_c, rain_mm }] : []
    })
}

/** Monthly means of a series itself; null where it does not hold every month. */
function normalsOf(rows: readonly DayRow[]): Normals | null {
  const months = (pick: (row: DayRow) => number) =>
    Array.from({ length: 12 }, (_, month) => {
      const its = rows.filter((row) => known(row) && partsOf(dayFromNumber(row.day)).month === month + 1).map(pick)
      return its.reduce((a, b) => a + b, 0) / its.length
    })
  const normals = { tmin_c: months((row) => row.tmin_c), tmax_c: months((row) => row.tmax_c) }
  return normals.tmin_c.some(Number.isNaN) ? null : normals
}
