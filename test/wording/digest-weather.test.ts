import { describe, expect, it } from "vitest"
import { addDays } from "../../src/values/day.ts"
import { warmerThanNormal, weatherLines } from "../../src/wording/digest-weather.ts"
import { ON, weather } from "./long-acre.ts"

describe("weather that mattered", () => {
  it("is told against the normals, in the reader's unit", () => {
    // By hand: lows and highs of the week average 16.07 C; York's normals (from memory) give 15.0 C for 7 May.
    expect(weatherLines(weather(), ON, "metric")[0]).toMatch(
      /^Last week: lows down to 8 C, highs up to 26 C, [12] C warmer than normal\. Rain 17 mm\.$/,
    )
    expect(weatherLines(weather(), ON, "us")[0]).toContain("lows down to 46 F, highs up to 79 F")
  })

  it("names frosts with their day", () => {
    const cold = weather()
    cold.observed?.tmin_c.set([-3], 27)
    expect(weatherLines(cold, ON, "metric")).toContain("Frost on Sun 10 May (-3 C).")
  })

  it("says what is missing and never takes it for zero (failure O5)", () => {
    const holes = weather()
    for (const i of [25, 26]) holes.observed?.tmin_c.set([Number.NaN], i)
    for (let i = 0; i < 28; i += 1) holes.observed?.rain_mm.set([Number.NaN], i)
    const lines = weatherLines(holes, ON, "metric")
    expect(lines.join(" ")).toContain("2 days of last week are missing and taken from normals.")
    expect(lines[0]).toContain("Rain is not known.")
    expect(lines[0]).not.toMatch(/No rain|NaN| 0 /)
  })

  it("looks at no day after the one it stands on", () => {
    const later = weather(addDays(ON, 10))
    later.observed?.tmax_c.set([60], 27)
    expect(weatherLines(later, ON, "metric").join(" ")).not.toContain("60 C")
  })

  it("says so where nothing was measured", () => {
    const none = { ...weather(), observed: null, forecast: null }
    expect(weatherLines(none, ON, "us")).toEqual(["Nothing was measured last week; dates rest on normals for York."])
    expect(warmerThanNormal(none, addDays(ON, -6), ON)).toBeNull()
  })
})
