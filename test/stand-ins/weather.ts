/**
 * A stand-in for the two weather services, on loopback. Every request is held against the published description (where it
 * lies beside the checkout), and so is every answer that is meant to be right. The weather itself is a function of the day.
 *
 *   const service = await openWeatherService({ now: clock.now })
 *   service.next({ is: "status", status: 503 })     // the next answer is 503
 *   service.bend = (body) => { ... }                // change answers before they leave
 *   service.asked, service.violations
 */
import { createServer, type IncomingMessage, type ServerResponse } from "node:http"
import type { AddressInfo } from "node:net"
import { addDays, type Day, dayFromNumber, dayNumber, day as dayOf } from "../../src/values/day.ts"
import { addMs, type Instant, instantText } from "../../src/values/instant.ts"
import { instantAt, localDay, offsetMinutes, zone } from "../../src/values/zone.ts"
import { type Description, description, wrongWithAnswer, wrongWithRequest } from "./openapi.ts"

export type DayWeather = { tmin_c: number; tmax_c: number; rain_mm: number }

export type WeatherFault =
  | { is: "status"; status: number; body?: unknown }
  | { is: "hang" }
  | { is: "drop" }
  | { is: "late"; ms: number }
  | { is: "text"; text: string }
  | { is: "moved"; to: string }

/** A body of an answer, about to leave; bend it in place. */
// biome-ignore lint/suspicious/noExplicitAny: a body of any form is bent in ways that no type allows
export type Bend = (body: any, path: string) => void

const NEW_YORK = zone("America/New_York")
const HOUR_MS = 3_600_000

/** A plain year of York, Pennsylvania, made up: warm in July, a little restless, rain every third day. */
export function plainWeather(day: number): DayWeather {
  const turn = Math.cos(((day % 365.25) / 365.25 - 0.05) * 2 * Math.PI)
  const restless = 3 * Math.sin(day * 1.7) + 2 * Math.sin(day * 0.61)
  const middle = 11.5 - 12.5 * turn + restless
  return {
    tmin_c: tenth(middle - 5.5 - Math.sin(day)),
    tmax_c: tenth(middle + 5.5 + Math.cos(day)),
    rain_mm: day % 3 === 0 ? tenth(4 + 3 * Math.sin(day * 0.9)) : 0,
  }
}

export async function openWeatherService(options: { now: () => Instant; weather?: (day: number) => DayWeather }) {
  const { now } = options
  const apis = [description("open-meteo-openapi.json"), description("nws-openapi.json")]
  const faults: WeatherFault[] = []
  const service = {
    url: "",
    weather: options.weather ?? plainWeather,
    /** The archive is so many days behind. */
    archiveLag: 5,
    /** When the office made its forecast; null: just now. */
    madeAt: null as Instant | null,
    bend: null as Bend | null,
    asked: [] as { path: string; query: URLSearchParams; headers: Record<string, string>; wrong: string[] }[],
    get violations(): string[] {
      return service.asked.flatMap((each) => each.wrong)
    },
    /** What befalls the next answers, one after the other. */
    next(...more: WeatherFault[]): void {
      faults.push(...more)
    },
    async close(): Promise<void> {
      server.closeAllConnections()
      await new Promise((resolve) => server.close(resolve))
    },
  }
  const server = createServer((request, response) => {
    serve(request, response).catch((error) => response.writeHead(500).end(String(error)))
  })
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve))
  service.url = `http://127.0.0.1:${(server.address() as AddressInfo).port}`
  return service

  async function serve(request: IncomingMessage, response: ServerResponse): Promise<void> {
    const url = new URL(request.url ?? "/", service.url)
    const headers = Object.fromEntries(Object.entries(request.headers).map(([key, value]) => [key, String(value)]))
    const api = apis[url.pathname.startsWith("/v1/") ? 0 : 1] ?? null
    const asked = { method: "GET", path: url.pathname, query: url.searchParams, headers }
    service.asked.push({ ...asked, wrong: api ? wrongWithRequest(api, asked) : [] })
    const fault = faults.shift()
    switch (fault?.is) {
      case "hang":
        return
      case "drop":
        return void response.destroy()
      case "status":
        return void response
          .writeHead(fault.status, { "content-type": "application/json" })
          .end(JSON.stringify(fault.body ?? {}))
      case "text":
        return void response.writeHead(200).end(fault.text)
      case "moved":
        return void response.writeHead(301, { location: fault.to }).end()
      case "late":
        await new Promise((resolve) => setTimeout(resolve, fault.ms))
    }
    answer(api, url, response)
  }

  function answer(api: Description | null, url: URL, response: ServerResponse): void {
    const [status, body] = bodyOf(url)
    const wrong = api && status === 200 ? wrongWithAnswer(api, "GET", url.pathname, status, body) : []
    if (wrong.length > 0) throw new Error(`the stand-in itself broke the description: ${wrong.join("; ")}`)
    service.bend?.(body, url.pathname)
    response.writeHead(status, { "content-type": "application/json" }).end(JSON.stringify(body))
  }

  function bodyOf(url: URL): [number, unknown] {
    const query = url.searchParams
    if (url.pathname === "/v1/forecast") {
      const past = Number(query.get("past_days") ?? 0)
      const today = localDay(now(), zoneOf(query))
      return [
        200,
        openMeteoBody(query, addDays(today, -past), addDays(today, Number(query.get("forecast_days") ?? 7) - 1), null),
      ]
    }
    if (url.pathname === "/v1/archive") {
      const known = addDays(localDay(now(), zoneOf(query)), -service.archiveLag)
      return [
        200,
        openMeteoBody(query, dayOf(query.get("start_date") as string), dayOf(query.get("end_date") as string), known),
      ]
    }
    if (url.pathname.startsWith("/points/")) return [200, pointBody(url.pathname.slice("/points/".length))]
    if (/^\/gridpoints\/CTP\/140,40$/.test(url.pathname)) return [200, gridBody()]
    return [404, { type: "about:blank", title: "Not Found", status: 404, detail: "", instance: "", correlationId: "" }]
  }

  function openMeteoBody(query: URLSearchParams, from: Day, to: Day, knownTo: Day | null) {
    const days: Day[] = []
    for (let each = from; each <= to; each = addDays(each, 1)) days.push(each)
    const value = (pick: (of: DayWeather) => number) =>
      days.map((each) => (knownTo !== null && each > knownTo ? null : pick(service.weather(dayNumber(each)))))
    return {
      latitude: Number(query.get("latitude")) + 0.005,
      longitude: Number(query.get("longitude")) - 0.005,
      generationtime_ms: 0.1,
      utc_offset_seconds: offsetMinutes(now(), zoneOf(query)) * 60,
      timezone: zoneOf(query),
      timezone_abbreviation: "",
      elevation: Number(query.get("elevation") ?? 100),
      daily_units: { time: "iso8601", temperature_2m_min: "°C", temperature_2m_max: "°C", precipitation_sum: "mm" },
      daily: {
        time: days,
        temperature_2m_min: value((of) => of.tmin_c),
        temperature_2m_max: value((of) => of.tmax_c),
        precipitation_sum: value((of) => of.rain_mm),
      },
    }
  }

  function pointBody(spot: string) {
    const [lat, lon] = spot.split(",").map(Number)
    return {
      id: `https://api.weather.gov/points/${spot}`,
      type: "Feature",
      geometry: { type: "Point", coordinates: [lon, lat] },
      properties: {
        "@id": `https://api.weather.gov/points/${spot}`,
        "@type": "wx:Point",
        cwa: "CTP",
        gridId: "CTP",
        gridX: 140,
        gridY: 40,
        // The real service names itself here, whoever asked.
        forecastGridData: "https://api.weather.gov/gridpoints/CTP/140,40",
        timeZone: NEW_YORK,
      },
    }
  }

  /** Seven days from this morning: highs by day, lows by night, rain in spells of six hours. */
  function gridBody() {
    const first = dayNumber(localDay(now(), NEW_YORK))
    const midnight = (day: number) => instantAt(dayFromNumber(day), 0, NEW_YORK)
    const spell = (from: Instant, hours: number) => `${instantText(from).replace(".000Z", "+00:00")}/PT${hours}H`
    const days = Array.from({ length: 7 }, (_, i) => first + i)
    return {
      id: "https://api.weather.gov/gridpoints/CTP/140,40",
      type: "Feature",
      geometry: null,
      properties: {
        "@type": "wx:Gridpoint",
        updateTime: instantText(service.madeAt ?? now()).replace(".000Z", "+00:00"),
        validTimes: `${instantText(midnight(first)).replace(".000Z", "+00:00")}/P7D`,
        gridId: "CTP",
        gridX: 140,
        gridY: 40,
        maxTemperature: {
          uom: "wmoUnit:degC",
          values: days.map((each) => ({
            validTime: spell(addMs(midnight(each), 7 * HOUR_MS), 13),
            value: service.weather(each).tmax_c,
          })),
        },
        minTemperature: {
          uom: "wmoUnit:degC",
          // The night begins on the evening before.
          values: days.map((each) => ({
            validTime: spell(addMs(midnight(each), -5 * HOUR_MS), 14),
            value: service.weather(each).tmin_c,
          })),
        },
        quantitativePrecipitation: {
          uom: "wmoUnit:mm",
          values: days.flatMap((each) =>
            [0, 6, 12, 18].map((hour) => ({
              validTime: spell(addMs(midnight(each), hour * HOUR_MS), 6),
              value: service.weather(each).rain_mm / 4,
            })),
          ),
        },
      },
    }
  }
}

export type WeatherService = Awaited<ReturnType<typeof openWeatherService>>

function zoneOf(query: URLSearchParams) {
  const name = query.get("timezone") ?? "GMT"
  return zone(name === "auto" ? NEW_YORK : name)
}

function tenth(value: number): number {
  return Math.round(value * 10) / 10
}
