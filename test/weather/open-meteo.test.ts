import { afterEach, beforeEach, describe, expect, it } from "vitest"
import { description } from "../stand-ins/openapi.ts"
import { type Bend, plainWeather } from "../stand-ins/weather.ts"
import { aService, DAY, HOUR, NOTHING, on, START, TODAY, YORK } from "./weather-given.ts"

type Given = Awaited<ReturnType<typeof aService>>
let given: Given
beforeEach(async () => {
  given = await aService("open-meteo")
})
afterEach(async () => {
  given.source.close()
  await given.service.close()
})

describe("a new place", () => {
  it("gets three winters of its past, yesterday included, and sixteen days ahead, today included", async () => {
    const daily = await given.ask()
    expect(on(daily?.observed, TODAY - 1)).toEqual(plainWeather(TODAY - 1))
    expect(on(daily?.observed, TODAY - 400)).toEqual(plainWeather(TODAY - 400))
    expect(on(daily?.observed, TODAY - 1100)).toEqual(plainWeather(TODAY - 1100))
    expect(on(daily?.observed, TODAY)).toBeUndefined()
    expect(on(daily?.forecast, TODAY)).toEqual(plainWeather(TODAY))
    expect(on(daily?.forecast, TODAY + 15)).toEqual(plainWeather(TODAY + 15))
    expect(on(daily?.forecast, TODAY - 1)).toBeUndefined()
    expect(daily?.observed?.tmin_c.every((value) => !Number.isNaN(value))).toBe(true)
  })

  it("is asked about as the published description allows, in the garden's zone and at its height", async (context) => {
    if (!description("open-meteo-openapi.json")) context.skip("the service's description is not beside the checkout")
    await given.ask()
    expect(given.service.asked.map((each) => each.path)).toEqual(["/v1/forecast", "/v1/archive"])
    expect(given.service.violations).toEqual([])
    for (const { query, headers } of given.service.asked) {
      expect(query.get("timezone")).toBe("America/New_York")
      expect(query.get("elevation")).toBe("120")
      expect(headers["user-agent"]).toMatch(/^ryebell \(/)
    }
  })

  it("without a zone takes the one that the service finds", async () => {
    const daily = await given.ask({ lat: YORK.lat, lon: YORK.lon, elev_m: null })
    expect(given.service.asked[0]?.query.get("timezone")).toBe("auto")
    expect(given.service.asked[0]?.query.has("elevation")).toBe(false)
    expect(on(daily?.observed, TODAY - 1)).toEqual(plainWeather(TODAY - 1))
  })

  it("goes without its earlier years where the archive fails, says so, and asks again the next day", async () => {
    given.service.next({ is: "late", ms: 0 }, { is: "status", status: 500 })
    const daily = await given.ask()
    expect(on(daily?.observed, TODAY - 1)).toEqual(plainWeather(TODAY - 1))
    expect(on(daily?.observed, TODAY - 400)).toBeUndefined()
    expect(given.source.trouble()).toMatch(/earlier years/)
    given.later(DAY)
    expect(on((await given.fresh())?.observed, TODAY - 400)).toEqual(plainWeather(TODAY - 400))
    expect(given.source.trouble()).toBeNull()
  })

  it("does not ask the archive every day about days that it does not have", async () => {
    const gap = TODAY - 500
    given.service.bend = (body) => {
      const at = body.daily.time.indexOf("2024-12-29")
      if (at >= 0) body.daily.temperature_2m_min[at] = null
    }
    expect(on((await given.ask())?.observed, gap)?.tmin_c).toBeNaN()
    for (let i = 0; i < 6; i += 1) {
      given.later(DAY)
      await given.fresh()
    }
    expect(given.service.asked.filter((each) => each.path === "/v1/archive")).toHaveLength(1)
    given.later(DAY)
    await given.fresh()
    expect(given.service.asked.filter((each) => each.path === "/v1/archive")).toHaveLength(2)
  })
})

describe("as days go by", () => {
  it("a day that was forecast becomes one that is over, and earlier days stay", async () => {
    await given.ask()
    given.later(3 * DAY)
    const daily = await given.fresh()
    expect(on(daily?.observed, TODAY + 2)).toEqual(plainWeather(TODAY + 2))
    expect(on(daily?.observed, TODAY - 1100)).toEqual(plainWeather(TODAY - 1100))
    expect(on(daily?.forecast, TODAY + 3)).toEqual(plainWeather(TODAY + 3))
    expect(on(daily?.forecast, TODAY + 2)).toBeUndefined()
  })

  it("only the last week is asked for again; after a long silence as much as is missing", async () => {
    await given.ask()
    given.later(DAY)
    await given.fresh()
    given.later(40 * DAY)
    const daily = await given.fresh()
    const past = given.service.asked
      .filter((each) => each.path === "/v1/forecast")
      .map((each) => Number(each.query.get("past_days")))
    expect(past[0]).toBe(92)
    expect(past[1]).toBe(7)
    expect(past[2]).toBeGreaterThanOrEqual(40)
    expect(daily?.observed?.tmin_c.every((value) => !Number.isNaN(value))).toBe(true)
  })

  it("figures that the service puts right are put right here", async () => {
    await given.ask()
    given.service.weather = (day) => ({
      ...plainWeather(day),
      rain_mm: day === TODAY - 2 ? 17 : plainWeather(day).rain_mm,
    })
    given.later(DAY)
    expect(on((await given.fresh())?.observed, TODAY - 2)?.rain_mm).toBe(17)
  })
})

describe("null (O5)", () => {
  it.each(["temperature_2m_min", "temperature_2m_max", "precipitation_sum"])(
    "%s: is a gap in that value alone, never zero",
    async (name) => {
      given.service.bend = (body) => {
        body.daily[name] = body.daily[name].map((value: number, i: number) => (i % 2 === 0 ? null : value))
      }
      const daily = await given.ask()
      const column = { temperature_2m_min: "tmin_c", temperature_2m_max: "tmax_c", precipitation_sum: "rain_mm" }[
        name
      ] as "tmin_c"
      const values = [...(daily?.observed?.[column] ?? []), ...(daily?.forecast?.[column] ?? [])]
      expect(values.filter((value) => Number.isNaN(value)).length).toBeGreaterThan(500)
      expect(values.length).toBeGreaterThan(1100)
    },
  )

  it("in a whole column, or in everything, is no weather and no error", async () => {
    given.service.bend = (body) => {
      for (const name of ["temperature_2m_min", "temperature_2m_max", "precipitation_sum"])
        body.daily[name] = body.daily.time.map(() => null)
    }
    const daily = await given.ask()
    expect(on(daily?.forecast, TODAY)).toEqual(NOTHING)
    expect(on(daily?.observed, TODAY - 1)).toEqual(NOTHING)
  })

  it("does not take back a day that was known", async () => {
    await given.ask()
    given.service.bend = (body) => {
      body.daily.temperature_2m_min = body.daily.time.map(() => null)
    }
    given.later(DAY)
    expect(on((await given.fresh())?.observed, TODAY - 2)).toEqual(plainWeather(TODAY - 2))
  })
})

describe("an answer that is wrong as a whole is not taken; what was known goes on", () => {
  it.each<[string, Bend]>([
    [
      "degrees Fahrenheit, said",
      (body) => {
        body.daily_units.temperature_2m_min = "°F"
      },
    ],
    [
      "inches, said",
      (body) => {
        body.daily_units.precipitation_sum = "inch"
      },
    ],
    [
      "no units",
      (body) => {
        delete body.daily_units
      },
    ],
    [
      "a column too short",
      (body) => {
        body.daily.temperature_2m_max.pop()
      },
    ],
    [
      "a column left out",
      (body) => {
        delete body.daily.precipitation_sum
      },
    ],
    [
      "words for numbers",
      (body) => {
        body.daily.temperature_2m_max[0] = "warm"
      },
    ],
    [
      "days that do not exist",
      (body) => {
        body.daily.time[3] = "2026-02-30"
      },
    ],
    [
      "a day twice",
      (body) => {
        body.daily.time[3] = body.daily.time[2]
      },
    ],
    [
      "another place",
      (body) => {
        body.latitude = -40.04
      },
    ],
    [
      "the other side of the earth",
      (body) => {
        body.longitude = 103.7
      },
    ],
    [
      "another zone's days",
      (body) => {
        body.utc_offset_seconds = 0
      },
    ],
    [
      "no days",
      (body) => {
        delete body.daily
      },
    ],
    [
      "a list of nothing",
      (body) => {
        for (const key of Object.keys(body)) delete body[key]
      },
    ],
  ])("%s", async (_, bend) => {
    await given.ask()
    const before = await given.ask()
    given.service.bend = bend
    given.later(7 * HOUR)
    expect(await given.fresh()).toBe(before)
    expect(given.source.trouble()).toMatch(/^open-meteo: /)
    given.service.bend = null
    given.later(HOUR)
    await given.fresh()
    expect(given.source.trouble()).toBeNull()
  })

  it("no JSON, a page, an empty answer, one that never ends", async () => {
    await given.ask()
    const before = await given.ask()
    for (const text of ["<html>", "", "null", "[]", "[".repeat(5_000_000)]) {
      given.later(7 * HOUR)
      given.service.next({ is: "text", text })
      expect(await given.fresh()).toBe(before)
      expect(given.source.trouble()).toMatch(/^open-meteo: /)
    }
  })
})

describe("the paid host and a server of one's own", () => {
  it("are asked at their address, with the key where one is given", async () => {
    const asked: URL[] = []
    const ask = async (apiUrl: string | null) => {
      asked.length = 0
      const other = await aService("open-meteo", {
        apiUrl,
        fetch: async (address) => {
          asked.push(new URL(address))
          const { search } = new URL(address)
          return fetch(`${given.service.url}${new URL(address).pathname.replace("/meteo", "")}${search}`)
        },
      })
      await other.source.daily(YORK, START)
      await other.service.close()
      return asked.map((each) => `${each.host}${each.pathname} ${each.searchParams.get("apikey")}`)
    }
    expect(await ask(null)).toEqual([
      "api.open-meteo.com/v1/forecast null",
      "archive-api.open-meteo.com/v1/archive null",
    ])
    expect(await ask("https://customer-api.open-meteo.com/?apikey=K")).toEqual([
      "customer-api.open-meteo.com/v1/forecast K",
      "customer-archive-api.open-meteo.com/v1/archive K",
    ])
    expect(await ask("https://weather.example.org/meteo/")).toEqual([
      "weather.example.org/meteo/v1/forecast null",
      "weather.example.org/meteo/v1/archive null",
    ])
  })
})
