import { afterEach, beforeEach, describe, expect, it } from "vitest"
import { day, dayNumber } from "../../src/values/day.ts"
import { instant } from "../../src/values/instant.ts"
import { zone } from "../../src/values/zone.ts"
import { dailyTotals, dayOfMiddle, readSpell } from "../../src/weather/nws-intervals.ts"
import { description } from "../stand-ins/openapi.ts"
import { type Bend, plainWeather } from "../stand-ins/weather.ts"
import { aService, DAY, HOUR, NOTHING, on, TODAY, YORK } from "./weather-given.ts"

type Given = Awaited<ReturnType<typeof aService>>
let given: Given
beforeEach(async () => {
  given = await aService("nws")
})
afterEach(async () => {
  given.source.close()
  await given.service.close()
})

describe("a place in the USA", () => {
  it("gets seven days from today, each night's low on its morning, rain added up by day; no past", async () => {
    const daily = await given.ask()
    expect(daily?.observed).toBeNull()
    for (let i = 0; i < 7; i += 1) {
      const want = plainWeather(TODAY + i)
      const got = on(daily?.forecast, TODAY + i)
      expect(got).toMatchObject({ tmin_c: want.tmin_c, tmax_c: want.tmax_c })
      expect(got?.rain_mm).toBeCloseTo(want.rain_mm, 9)
    }
    expect(on(daily?.forecast, TODAY + 7)).toBeUndefined()
  })

  it("is asked about as the published description allows: who asks is said, four decimals at most, nothing unknown", async (context) => {
    if (!description("nws-openapi.json")) context.skip("the service's description is not beside the checkout")
    const named = await aService("nws", { contact: "ines@example.org" })
    await named.ask({ ...YORK, lat: 40.0412345, lon: -76.3 })
    expect(named.service.violations).toEqual([])
    expect(named.service.asked.map((each) => each.path)).toEqual(["/points/40.04,-76.3", "/gridpoints/CTP/140,40"])
    expect(named.service.asked.every((each) => each.query.size === 0)).toBe(true)
    expect(named.service.asked[0]?.headers["user-agent"]).toBe("ryebell (ines@example.org)")
    await named.service.close()
  })

  it("its square is asked for once a month, and again at once where it is gone", async () => {
    await given.ask()
    for (let i = 0; i < 8; i += 1) {
      given.later(7 * HOUR)
      await given.fresh()
    }
    const points = () => given.service.asked.filter((each) => each.path.startsWith("/points/")).length
    expect(points()).toBe(1)
    given.later(7 * HOUR)
    given.service.next({ is: "status", status: 404 })
    const daily = await given.fresh()
    expect(points()).toBe(2)
    expect(on(daily?.forecast, TODAY + 3)).toBeDefined()
    given.later(31 * DAY)
    await given.fresh()
    expect(points()).toBe(3)
  })

  it("what was last said of a day that is over stays, as a forecast", async () => {
    await given.ask()
    given.later(3 * DAY)
    const daily = await given.fresh()
    expect(daily?.observed).toBeNull()
    expect(on(daily?.forecast, TODAY + 1)).toMatchObject({ tmin_c: plainWeather(TODAY + 1).tmin_c })
    expect(on(daily?.forecast, TODAY + 9)).toMatchObject({ tmin_c: plainWeather(TODAY + 9).tmin_c })
  })
})

describe("places that it does not cover", () => {
  it("are left to normals, and it says why", async () => {
    given.service.next({ is: "status", status: 404 })
    expect(await given.ask({ lat: 51.5, lon: 0, elev_m: null })).toBeNull()
    expect(given.source.trouble()).toMatch(/USA only/)
  })
})

describe("an answer that cannot be believed is not taken; what was known goes on", () => {
  it.each<[string, Bend]>([
    [
      "Fahrenheit, said",
      (body) => {
        if (body.properties.maxTemperature) body.properties.maxTemperature.uom = "wmoUnit:degF"
      },
    ],
    [
      "no unit",
      (body) => {
        if (body.properties.minTemperature) delete body.properties.minTemperature.uom
      },
    ],
    [
      "rain in metres",
      (body) => {
        if (body.properties.quantitativePrecipitation) body.properties.quantitativePrecipitation.uom = "wmoUnit:m"
      },
    ],
    [
      "a forecast of two days ago",
      (body) => {
        if (body.properties.updateTime) body.properties.updateTime = "2026-05-11T10:00:00+00:00"
      },
    ],
    [
      "a layer that is no layer",
      (body) => {
        body.properties.maxTemperature = { values: "x" }
      },
    ],
    [
      "no properties",
      (body) => {
        delete body.properties
      },
    ],
  ])("%s", async (_, bend) => {
    await given.ask()
    const before = await given.ask()
    given.service.bend = bend
    given.later(7 * HOUR)
    expect(await given.fresh()).toBe(before)
    expect(given.source.trouble()).toMatch(/^nws: /)
  })

  it.each([403, 500, 503])("%i", async (status) => {
    await given.ask()
    const before = await given.ask()
    given.service.next({ is: "status", status })
    given.later(7 * HOUR)
    expect(await given.fresh()).toBe(before)
    expect(given.source.trouble()).toContain(String(status))
  })

  it("a square on another host is asked at the service's own all the same; one that is no square is not asked", async () => {
    given.service.bend = (body, path) => {
      if (path.startsWith("/points/")) body.properties.forecastGridData = "https://evil.example/gridpoints/CTP/140,40"
    }
    expect(on((await given.ask())?.forecast, TODAY)?.tmin_c).toBe(plainWeather(TODAY).tmin_c)
    const other = await aService("nws")
    other.service.bend = (body, path) => {
      if (path.startsWith("/points/")) body.properties.forecastGridData = "file:///etc/passwd"
    }
    expect(await other.ask()).toBeNull()
    await other.service.close()
  })
})

describe("gaps (O5)", () => {
  it("null in a layer, or no such layer, is a gap in that value alone", async () => {
    given.service.bend = (body) => {
      if (!body.properties.maxTemperature) return
      body.properties.maxTemperature.values[2].value = null
      delete body.properties.quantitativePrecipitation
    }
    const daily = await given.ask()
    expect(on(daily?.forecast, TODAY + 2)).toEqual({ ...NOTHING, tmin_c: plainWeather(TODAY + 2).tmin_c })
    expect(on(daily?.forecast, TODAY + 1)?.tmax_c).toBe(plainWeather(TODAY + 1).tmax_c)
  })

  it("no layer at all is no weather and no error", async () => {
    given.service.bend = (body) => {
      if (body.properties.updateTime) body.properties = { updateTime: body.properties.updateTime }
    }
    expect(await given.ask()).toBeNull()
    expect(given.source.trouble()).toBeNull()
  })
})

/** Forms of the service's intervals: weather-gov/api#69, #21; the rest by ISO 8601. */
describe("intervals", () => {
  const NY = zone("America/New_York")
  const spell = (text: string, value: number | null = 1) => ({
    ...(readSpell(text) as { from: never; to: never }),
    value,
  })

  it.each([
    ["2019-07-04T18:00:00+00:00/PT3H", 3],
    ["2026-05-14T11:00:00+00:00/PT13H", 13],
    ["2026-05-14T11:00:00+00:00/P1DT6H", 30],
    ["2026-05-14T11:00:00+00:00/P7D", 168],
    ["2026-05-14T11:00:00-04:00/PT30M", 0.5],
    ["2026-05-14T11:00:00+00:00/2026-05-14T17:00:00+00:00", 6],
  ])("%s is %d hours", (text, hours) => {
    const { from, to } = spell(text)
    expect((to - from) / HOUR).toBe(hours)
  })

  it.each([
    "",
    "NOW/PT3H",
    "2026-05-14T11:00:00+00:00",
    "2026-05-14T11:00:00+00:00/",
    "2026-05-14T11:00:00+00:00/P",
    "2026-05-14T11:00:00+00:00/PT",
    "2026-05-14T11:00:00+00:00/P1M",
    "2026-05-14T11:00:00+00:00/P30D",
    "2026-05-14T11:00:00+00:00/-PT3H",
    "2026-05-14/PT3H",
    "2026-05-14T11:00:00+00:00/2026-05-14T10:00:00+00:00",
  ])("%j is none", (text) => expect(readSpell(text)).toBeNull())

  it("a night's low, seven in the evening to nine in the morning, is the morning's", () => {
    expect(dayOfMiddle(spell("2026-05-09T23:00:00+00:00/PT14H"), NY)).toBe(dayNumber(day("2026-05-10")))
  })

  it("rain across midnight is split by its hours; across a change of clocks too", () => {
    const sixHours = (first: string, count: number, total: number) =>
      Array.from({ length: count }, (_, i) => {
        const from = instant(first) + i * 6 * HOUR
        return { from: from as never, to: (from + 6 * HOUR) as never, value: total }
      })
    // From 22:00 on the 8th in New York: four of the first six hours fall on the 9th.
    const totals = dailyTotals(sixHours("2026-05-09T02:00:00Z", 9, 6), NY)
    expect(totals.get(dayNumber(day("2026-05-09")))).toBeCloseTo(24, 9)
    expect(totals.get(dayNumber(day("2026-05-10")))).toBeCloseTo(24, 9)
    const autumn = dailyTotals(sixHours("2026-11-01T04:00:00Z", 8, 6), NY)
    expect(autumn.get(dayNumber(day("2026-11-01")))).toBeCloseTo(25, 9)
  })

  it("a day that is covered in part only has no total: little known rain is not little rain", () => {
    const totals = dailyTotals([spell("2026-05-09T04:00:00+00:00/PT12H", 5)], NY)
    expect(totals.size).toBe(0)
    expect(dailyTotals([spell("2026-05-09T04:00:00+00:00/P1D", null)], NY).size).toBe(0)
  })
})
