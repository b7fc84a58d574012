import { afterEach, beforeEach, describe, expect, it } from "vitest"
import { plainWeather } from "../stand-ins/weather.ts"
import { aService, DAY, HOUR, on, START, TODAY, YORK } from "./weather-given.ts"

type Given = Awaited<ReturnType<typeof aService>>
let given: Given
beforeEach(async () => {
  given = await aService("open-meteo")
})
afterEach(async () => {
  given.source.close()
  await given.service.close()
})
const MINUTE = 60_000

describe("what is known", () => {
  it("is the very same object until something changed, and nobody is asked for it", async () => {
    const first = await given.ask()
    const count = given.count()
    for (let i = 0; i < 300; i += 1) {
      given.later(MINUTE)
      expect(await given.ask()).toBe(first)
    }
    expect(given.count()).toBe(count)
  })

  it("stays the same object where a new answer says the same", async () => {
    const first = await given.fresh()
    given.later(7 * HOUR)
    expect(await given.fresh()).toBe(first)
    expect(given.count()).toBe(3)
  })

  it("is another object as soon as one value is another", async () => {
    const first = await given.fresh()
    given.service.weather = (day) => ({
      ...plainWeather(day),
      rain_mm: day === TODAY + 1 ? 30 : plainWeather(day).rain_mm,
    })
    given.later(7 * HOUR)
    const second = await given.fresh()
    expect(second).not.toBe(first)
    expect(on(second?.forecast, TODAY + 1)?.rain_mm).toBe(30)
  })

  it("outlives a restart without a question, values and gaps alike", async () => {
    given.service.bend = (body) => {
      body.daily.temperature_2m_min[1] = null
    }
    const before = await given.ask()
    const count = given.count()
    const after = await (await given.restart()).daily(YORK, given.clock.now)
    expect(after).toEqual(before)
    expect(given.count()).toBe(count)
  })

  it("is asked for anew where what was kept cannot be read any more", async () => {
    await given.ask()
    for (const broken of [
      "",
      "{}",
      "null",
      '{"version":2}',
      '{"version":1,"received":"yesterday"}',
      "x".repeat(10_000),
    ]) {
      for (const name of given.notes.keys()) given.notes.set(name, broken)
      const daily = await (await given.restart()).daily(YORK, given.clock.now)
      expect(on(daily?.forecast, TODAY)).toEqual(plainWeather(TODAY))
    }
  })

  it("does without a store that fails", async () => {
    const broken = async () => {
      throw new Error("the disk is full")
    }
    const other = await aService("open-meteo", { recall: broken, remember: broken })
    expect(on((await other.ask())?.forecast, TODAY)).toEqual(plainWeather(TODAY))
    await other.service.close()
  })

  it("is shared by gardens of one town, and by nobody else", async () => {
    await given.ask()
    const count = given.count()
    await given.ask({ ...YORK, lat: 40.0412, lon: -76.3089, elev_m: 118 })
    expect(given.count()).toBe(count)
    await given.ask({ ...YORK, lat: 40.06 })
    expect(given.count()).toBe(count + 2)
  })

  it("asked for by many at once is asked for once", async () => {
    await Promise.all(Array.from({ length: 20 }, () => given.ask()))
    expect(given.count()).toBe(2)
  })
})

describe("a refresh", () => {
  it("happens every six hours, behind the caller's back: a slow service delays nobody", async () => {
    const first = await given.ask()
    given.later(6 * HOUR - 1)
    await given.fresh()
    expect(given.count()).toBe(2)
    given.later(1)
    given.service.next({ is: "hang" })
    expect(await given.ask()).toBe(first)
    await given.source.idle()
    expect(given.count()).toBe(3)
  })
})

describe("a service that fails (O1, O2)", () => {
  it.each([
    ["500", { is: "status", status: 500 }],
    ["429", { is: "status", status: 429 }],
    ["a connection that breaks", { is: "drop" }],
    ["no answer", { is: "hang" }],
    ["a page sent on to another host", { is: "moved", to: "http://127.0.0.1:1/v1/forecast" }],
  ] as const)("%s: what was known goes on, one try in half an hour, and health says so", async (_, fault) => {
    const first = await given.ask()
    given.later(7 * HOUR)
    const before = given.count()
    given.service.next(...Array.from({ length: 20 }, () => fault))
    for (let i = 0; i < 120; i += 1) {
      given.later(MINUTE)
      expect(await given.fresh()).toBe(first)
    }
    expect(given.count() - before).toBe(4)
    expect(given.source.trouble()).toMatch(/^open-meteo: it /)
  })

  it("known nothing yet: nothing is known, nobody waits twice, other places are left alone too", async () => {
    given.service.next(...Array.from({ length: 20 }, () => ({ is: "status" as const, status: 503 })))
    expect(await given.ask()).toBeNull()
    expect(await given.ask()).toBeNull()
    expect(await given.ask({ ...YORK, lat: 41 })).toBeNull()
    expect(given.count()).toBe(1)
    expect(given.source.trouble()).toMatch(/503/)
  })

  it("about one place alone is no trouble for another", async () => {
    given.service.next({ is: "status", status: 400, body: { error: true, reason: "Latitude must be in range" } })
    expect(await given.ask({ ...YORK, lat: 41 })).toBeNull()
    expect(given.source.trouble()).toMatch(/Latitude must be in range/)
    expect(on((await given.ask())?.forecast, TODAY)).toEqual(plainWeather(TODAY))
  })

  it("comes back by itself", async () => {
    given.service.next({ is: "status", status: 500 })
    expect(await given.ask()).toBeNull()
    given.later(30 * MINUTE)
    expect(on((await given.ask())?.forecast, TODAY)).toEqual(plainWeather(TODAY))
    expect(given.source.trouble()).toBeNull()
  })

  it("is not stormed by a thousand gardens: one question after the other", async () => {
    let [open, most] = [0, 0]
    const other = await aService("open-meteo", {
      fetch: async (address, init) => {
        open += 1
        most = Math.max(most, open)
        try {
          return await fetch(`${given.service.url}${new URL(address).pathname}${new URL(address).search}`, init)
        } finally {
          open -= 1
        }
      },
    })
    await Promise.all(Array.from({ length: 30 }, (_, i) => other.source.daily({ ...YORK, lat: 40 + i / 10 }, START)))
    expect(most).toBe(1)
    await other.service.close()
  })

  it("is let go of at the end: what is being asked ends at once", async () => {
    const patient = await aService("open-meteo", { timeoutMs: 60_000 })
    await patient.ask()
    patient.later(7 * HOUR)
    patient.service.next({ is: "hang" })
    await patient.ask()
    patient.source.close()
    await patient.source.idle()
    await patient.service.close()
  })
})

describe("an old forecast (O7)", () => {
  it("counts for 48 hours and says its age; then it is dropped, and the days that are over stay", async () => {
    await given.ask()
    given.service.next(...Array.from({ length: 500 }, () => ({ is: "status" as const, status: 500 })))
    given.later(47 * HOUR)
    const old = await given.fresh()
    expect(old?.asOf).toBe(START)
    expect(on(old?.forecast, TODAY + 3)).toEqual(plainWeather(TODAY + 3))
    given.later(2 * HOUR)
    const older = await given.fresh()
    expect(older?.forecast).toBeNull()
    expect(on(older?.observed, TODAY - 1)).toEqual(plainWeather(TODAY - 1))
    expect(await given.fresh()).toBe(older)
  })

  it("after a restart too", async () => {
    await given.ask()
    given.service.next(...Array.from({ length: 500 }, () => ({ is: "status" as const, status: 500 })))
    given.later(49 * HOUR)
    expect((await (await given.restart()).daily(YORK, given.clock.now))?.forecast).toBeNull()
  })

  it("a clock that is set back days asks anew", async () => {
    await given.ask()
    given.later(-5 * DAY)
    const daily = await given.fresh()
    expect(on(daily?.forecast, TODAY - 5)).toEqual(plainWeather(TODAY - 5))
  })
})

describe("none and files", () => {
  it("none is none; a file is read at once and gives the same object everywhere", async () => {
    const { openWeather } = await import("../../src/weather/open.ts")
    const common = { recall: async () => null, remember: async () => {} }
    expect(await openWeather({ kind: "none", read: async () => "", ...common })).toBeNull()
    const text = "date,tmin_c,tmax_c,rain_mm\n2026-05-01,5,15,0\n"
    const file = await openWeather({
      kind: "weather.csv",
      read: async (path) => (path === "weather.csv" ? text : ""),
      ...common,
    })
    const daily = await file?.daily(YORK, START)
    expect(on(daily?.observed, TODAY - 12)).toEqual({ tmin_c: 5, tmax_c: 15, rain_mm: 0 })
    expect(await file?.daily({ lat: 0, lon: 0, elev_m: null }, START)).toBe(daily)
    await expect(openWeather({ kind: "bad.csv", read: async () => "nothing", ...common })).rejects.toThrow(/header/)
  })
})
