import { afterEach, beforeEach, describe, expect, it } from "vitest"
import { knownWeather, viewOf } from "../../src/bot/known.ts"
import type { Daily } from "../../src/bot/view.ts"
import { type Day, dayFromNumber, dayNumber } from "../../src/values/day.ts"
import { aGarden, handbook } from "../given.ts"
import type { Bend } from "../stand-ins/weather.ts"
import { aService, HOUR, TODAY, YORK } from "./weather-given.ts"

const garden = aGarden()
const climate = handbook().climates.at({ lat: YORK.lat, lon: YORK.lon, elev_m: YORK.elev_m })

/**
 * Every day that the plan of the vetch and rye names: development, cut window, rest, what comes next. Not the days of a
 * question: whether one is worth asking hangs on a threshold, so it comes or goes as a whole.
 */
function daysOf(daily: Daily): Map<string, number> {
  const view = viewOf(handbook(), garden, [], knownWeather(handbook(), garden, daily), dayFromNumber(TODAY))
  const days = new Map<string, number>()
  const walk = (value: unknown, path: string) => {
    if (typeof value === "string" && /^\d{4}-\d{2}-\d{2}$/.test(value)) days.set(path, dayNumber(value as Day))
    else if (typeof value === "object" && value !== null)
      for (const [key, each] of Object.entries(value)) if (!QUESTIONS.has(key)) walk(each, `${path}.${key}`)
  }
  walk(view.plan.beds, "plan")
  return days
}

const QUESTIONS = new Set(["watchBoot", "watchBloom"])

/** By how many days the plan moved where it moved most; a day that came or went counts as very much. */
function moved(before: Map<string, number>, after: Map<string, number>): number {
  const names = new Set([...before.keys(), ...after.keys()])
  return Math.max(...[...names].map((name) => Math.abs((before.get(name) ?? -1000) - (after.get(name) ?? -1000))))
}

type Given = Awaited<ReturnType<typeof aService>>
let given: Given
beforeEach(async () => {
  given = await aService("open-meteo", { normals: () => ({ tmin_c: climate.tmin_c, tmax_c: climate.tmax_c }) })
})
afterEach(() => given.service.close())

const MIN = "temperature_2m_min"
const MAX = "temperature_2m_max"
const RAIN = "precipitation_sum"
/** Changes one value of each of these days: some over, some to come. */
const some =
  (change: (daily: Record<string, number[]>, i: number) => void): Bend =>
  (body) => {
    for (const [i, day] of (body.daily.time as Day[]).entries()) {
      const off = dayNumber(day) - TODAY
      if ([-20, -3, 2].includes(off)) change(body.daily, i)
    }
  }
const every =
  (change: (daily: Record<string, number[]>, i: number) => void): Bend =>
  (body) => {
    for (const i of body.daily.time.keys()) change(body.daily, i)
  }
const scale = (factor: number, plus: number) => (daily: Record<string, number[]>, i: number) => {
  for (const name of [MIN, MAX]) (daily[name] as number[])[i] = (daily[name] as number[])[i]! * factor + plus
}
const put = (values: Record<string, number>) => (daily: Record<string, number[]>, i: number) => {
  for (const [name, value] of Object.entries(values)) (daily[name] as number[])[i] = value
}

/** Twelve ways in which a feed goes bad (failure O6), on some of its days. */
const ON_SOME_DAYS: [string, Bend][] = [
  ["-999 for missing", some(put({ [MIN]: -999, [MAX]: -999, [RAIN]: -999 }))],
  ["60 C", some(put({ [MAX]: 60 }))],
  ["99.9 for both", some(put({ [MIN]: 99.9, [MAX]: 99.9 }))],
  ["Fahrenheit", some(scale(1.8, 32))],
  ["Kelvin", some(scale(1, 273.15))],
  ["tenths", some(scale(10, 0))],
  ["zeros for missing", some(put({ [MIN]: 0, [MAX]: 0, [RAIN]: 0 }))],
  [
    "minimum and maximum swapped",
    some((daily, i) => ([daily[MIN]![i], daily[MAX]![i]] = [daily[MAX]![i]!, daily[MIN]![i]!])),
  ],
  ["a lost sign", some((daily, i) => put({ [MIN]: -daily[MIN]![i]! - 12, [MAX]: -daily[MAX]![i]! })(daily, i))],
  ["a spike", some(scale(1, 25))],
  ["rain of ten metres", some(put({ [RAIN]: 10_000 }))],
  ["rain below nothing", some(put({ [RAIN]: -5 }))],
]

describe("a feed that is bad on some days", () => {
  it.each(ON_SOME_DAYS)("%s: the plan moves by a day at most", async (_, bend) => {
    const right = daysOf(await given.ask())
    given.service.bend = bend
    const wrong = await aService("open-meteo", { apiUrl: given.service.url, normals: () => climate })
    const after = daysOf(await wrong.ask())
    await wrong.service.close()
    expect(right.size).toBeGreaterThan(10)
    expect(moved(right, after)).toBeLessThanOrEqual(1)
  })
})

describe("a feed that is bad as a whole", () => {
  const wholly: [string, Bend][] = [
    ["Fahrenheit, unsaid", every(scale(1.8, 32))],
    ["Kelvin, unsaid", every(scale(1, 273.15))],
    ["-999", every(put({ [MIN]: -999, [MAX]: -999 }))],
    ["stuck", every(put({ [MIN]: 7.7, [MAX]: 18.8 }))],
    ["zeros", every(put({ [MIN]: 0, [MAX]: 0, [RAIN]: 0 }))],
    ["days that come twice", (body) => body.daily.time.splice(2, 1, body.daily.time[1])],
  ]

  it.each(wholly)("%s: the plan stays as it was", async (_, bend) => {
    const right = daysOf(await given.ask())
    given.service.bend = bend
    given.later(7 * HOUR)
    const after = daysOf(await given.fresh())
    expect(moved(right, after)).toBe(0)
    expect(given.source.trouble()).toMatch(/not believed/)
  })

  it.each(wholly)("%s, and nothing known before: the plan is that of normals", async (_, bend) => {
    given.service.bend = bend
    expect(moved(daysOf(null), daysOf(await given.ask()))).toBe(0)
  })
})

describe("the weather itself", () => {
  it("does move the plan: a spring four degrees warmer comes days earlier", async () => {
    const right = daysOf(await given.ask())
    const { weather } = given.service
    given.service.weather = (day) => {
      const { tmin_c, tmax_c, rain_mm } = weather(day)
      return { tmin_c: tmin_c + 4, tmax_c: tmax_c + 4, rain_mm }
    }
    const warm = await aService("open-meteo", { apiUrl: given.service.url, normals: () => climate })
    const after = daysOf(await warm.ask())
    await warm.service.close()
    expect(moved(right, after)).toBeGreaterThan(1)
  })
})
