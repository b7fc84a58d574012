/** A weather service on loopback, a store of notes, a clock that a test moves, and a source between them. */
import type { DailyWeather } from "../../src/agronomy/weather-series.ts"
import { type Day, dayNumber, day as dayOf } from "../../src/values/day.ts"
import { addMs, type Instant, instant } from "../../src/values/instant.ts"
import { zone } from "../../src/values/zone.ts"
import { type OpenWeather, openWeather, type WeatherOptions } from "../../src/weather/open.ts"
import type { Normals } from "../../src/weather/sane.ts"
import { openWeatherService, plainWeather } from "../stand-ins/weather.ts"

/** A spring morning in Pennsylvania. */
export const START = instant("2026-05-13T10:00:00-04:00")
export const TODAY = dayNumber(dayOf("2026-05-13"))
export const YORK = { lat: 40.04, lon: -76.31, elev_m: 116, zone: zone("America/New_York") }
export const HOUR = 3_600_000
export const DAY = 24 * HOUR

/** Monthly means of the stand-in's weather. */
export const NORMALS: Normals = (() => {
  const months = (pick: (day: number) => number) =>
    Array.from({ length: 12 }, (_, m) => {
      const first = dayNumber(`2025-${String(m + 1).padStart(2, "0")}-01` as Day)
      return Array.from({ length: 28 }, (_, i) => pick(first + i)).reduce((a, b) => a + b, 0) / 28
    })
  return { tmin_c: months((day) => plainWeather(day).tmin_c), tmax_c: months((day) => plainWeather(day).tmax_c) }
})()

export async function aService(kind: "open-meteo" | "nws", over: Partial<WeatherOptions> = {}) {
  const clock = { now: START as Instant }
  const service = await openWeatherService({ now: () => clock.now })
  const notes = new Map<string, string>()
  const options: WeatherOptions = {
    kind,
    apiUrl: service.url,
    recall: async (name) => notes.get(name) ?? null,
    remember: async (name, value) => void notes.set(name, value),
    normals: () => NORMALS,
    read: async () => "",
    timeoutMs: 300,
    ...over,
  }
  const open = async () => (await openWeather(options)) as OpenWeather
  const source = await open()
  const ask = (place: Parameters<OpenWeather["daily"]>[0] = YORK) => source.daily(place, clock.now)
  return {
    service,
    source,
    notes,
    clock,
    ask,
    /** Asks, lets what is being asked for come, and asks again: what the next minute sees. */
    async fresh() {
      await ask()
      await source.idle()
      return ask()
    },
    later: (ms: number) => {
      clock.now = addMs(clock.now, ms)
    },
    /** The same data after a restart. */
    restart: open,
    /** How many questions went to the service. */
    count: () => service.asked.length,
  }
}

/** A value of a series on a day; undefined where the series does not reach. */
export function on(series: DailyWeather | null | undefined, day: number) {
  const i = series ? day - series.first : -1
  return series && i >= 0 && i < series.tmin_c.length
    ? { tmin_c: series.tmin_c[i], tmax_c: series.tmax_c[i], rain_mm: series.rain_mm[i] }
    : undefined
}

export const NOTHING = { tmin_c: Number.NaN, tmax_c: Number.NaN, rain_mm: Number.NaN }
