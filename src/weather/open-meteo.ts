import { z } from "zod"
import type { Attribution } from "../bot/needs.ts"
import { asDay, dayFromNumber, dayNumber } from "../values/day.ts"
import { addMs, asInstant, DAY_MS, type Instant, instantText } from "../values/instant.ts"
import { asZone, localDay, offsetMinutes, zone } from "../values/zone.ts"
import type { DayRow } from "./days.ts"
import { type Ask, getJson, WeatherTrouble } from "./get-json.ts"
import type { KeptPlace, PlaceAsked, WeatherService } from "./service.ts"

export const OPEN_METEO_URL = "https://api.open-meteo.com"
const ARCHIVE_URL = "https://archive-api.open-meteo.com"

/**
 * To be named, with the link, wherever its figures are shown.
 * Source: "Data License" in the README of the repository open-meteo/open-meteo, commit ba13de1c (CC BY 4.0).
 */
const ATTRIBUTION: Attribution = {
  words: "Weather data by Open-Meteo.com, CC BY 4.0, doubtful values left out.",
  links: [
    { words: "Open-Meteo.com", to: "https://open-meteo.com/" },
    { words: "CC BY 4.0", to: "https://creativecommons.org/licenses/by/4.0/" },
  ],
}

/** The forecast's own past reaches so far back, and its future so far ahead (its interface description). */
const MOST_PAST_DAYS = 92
const FORECAST_DAYS = 16
/** Days of the past that are asked for anew each time, since models correct themselves (own choice). */
const PAST_DAYS = 7
/** How far back a new place is asked about: three winters (own choice). */
const HISTORY_DAYS = 1_100
/** The archive's gaps may stay gaps: it is asked about them once a week. */
const ARCHIVE_EVERY_MS = 7 * DAY_MS

const COLUMNS = ["temperature_2m_min", "temperature_2m_max", "precipitation_sum"] as const
const UNITS = { temperature_2m_min: "°C", temperature_2m_max: "°C", precipitation_sum: "mm" } as const

const column = z.array(z.number().nullable())
const answer = z.object({
  latitude: z.number(),
  longitude: z.number(),
  timezone: z.string(),
  utc_offset_seconds: z.number(),
  daily_units: z.object({
    temperature_2m_min: z.string(),
    temperature_2m_max: z.string(),
    precipitation_sum: z.string(),
  }),
  daily: z.object({
    time: z.array(z.string()),
    temperature_2m_min: column,
    temperature_2m_max: column,
    precipitation_sum: column,
  }),
})
type PlaceAnswer = z.infer<typeof answer>
const refusal = z.object({ error: z.literal(true), reason: z.string() })

/**
 * Open-Meteo: one question brings the days that are over and those to come; a place that is new is asked about in the
 * archive too. `apiUrl` names a stand-in, a server of one's own, or the paid host with its `apikey` in the query.
 */
export function openMeteo(ask: Ask, apiUrl: string | null): WeatherService {
  return {
    name: "open-meteo",
    attribution: ATTRIBUTION,
    async ask(place, kept, now) {
      const past = pastDays(kept, place, now)
      const asked = new URLSearchParams({ past_days: String(past), forecast_days: String(FORECAST_DAYS) })
      const got = await query(ask, addressOf(apiUrl, "forecast"), place, asked, now)
      const today = dayNumber(localDay(now, asZone(got.timezone) ?? zone("UTC")))
      const archived = await history(ask, apiUrl, place, kept, today, now)
      return {
        today,
        // Where both know a day the forecast's own past goes before: it is the newer model, and makes no step to the days to come.
        rows: [...archived.rows.filter((row) => row.day < today - past), ...rowsIn(got)],
        past: "measured",
        notes: archived.notes,
        ...(archived.missing === undefined ? {} : { missing: archived.missing }),
      }
    },
  }
}

/** As far back as there is a gap that the forecast's past can fill. */
function pastDays(kept: KeptPlace | null, place: PlaceAsked, now: Instant): number {
  const series = kept?.observed
  if (!series) return MOST_PAST_DAYS
  const today = dayNumber(localDay(now, place.zone ?? zone("UTC")))
  for (let back = MOST_PAST_DAYS; back > PAST_DAYS; back -= 1)
    if (Number.isNaN(series.tmin_c[today - back - series.first] ?? Number.NaN)) return back
  return PAST_DAYS
}

type Archived = { rows: DayRow[]; notes: Record<string, string>; missing?: string }

/** The years before: asked for where days are missing. That they are not to be had is no reason to go without the rest. */
async function history(
  ask: Ask,
  apiUrl: string | null,
  place: PlaceAsked,
  kept: KeptPlace | null,
  today: number,
  now: Instant,
): Promise<Archived> {
  const notes = { ...kept?.notes }
  const gaps = gapsIn(kept, today - HISTORY_DAYS, today - MOST_PAST_DAYS - 1)
  const last = asInstant(notes.archiveAsked ?? "")
  if (!gaps || (last !== null && last <= now && now - last < ARCHIVE_EVERY_MS)) return { rows: [], notes }
  const asked = new URLSearchParams({ start_date: dayFromNumber(gaps.from), end_date: dayFromNumber(gaps.to) })
  try {
    const got = await query(ask, addressOf(apiUrl, "archive"), place, asked, now)
    return { rows: rowsIn(got), notes: { ...notes, archiveAsked: instantText(now) } }
  } catch (error) {
    if (!(error instanceof WeatherTrouble)) throw error
    // Tomorrow rather than next week.
    const soon = instantText(addMs(now, DAY_MS - ARCHIVE_EVERY_MS))
    return {
      rows: [],
      notes: { ...notes, archiveAsked: soon },
      missing: `no weather of earlier years: ${error.message}`,
    }
  }
}

function gapsIn(kept: KeptPlace | null, from: number, to: number): { from: number; to: number } | null {
  const series = kept?.observed
  const missing = (day: number) => !series || Number.isNaN(series.tmin_c[day - series.first] ?? Number.NaN)
  let [first, last] = [from, to]
  while (first <= to && !missing(first)) first += 1
  while (last >= first && !missing(last)) last -= 1
  return first > to ? null : { from: first, to: last }
}

async function query(
  ask: Ask,
  address: URL,
  place: PlaceAsked,
  more: URLSearchParams,
  now: Instant,
): Promise<PlaceAnswer> {
  const { searchParams } = address
  searchParams.set("latitude", String(place.lat))
  searchParams.set("longitude", String(place.lon))
  if (place.elev_m !== null) searchParams.set("elevation", String(place.elev_m))
  // Days are cut at midnight of this zone; without it at that of Greenwich.
  searchParams.set("timezone", place.zone ?? "auto")
  searchParams.set("daily", COLUMNS.join(","))
  for (const [name, value] of more) searchParams.set(name, value)
  const { status, body } = await getJson(address.href, ask)
  if (status !== 200) throw troubleOf(status, body)
  // One place is an object; a list of one is the same place.
  const read = answer.safeParse(Array.isArray(body) ? body[0] : body)
  if (!read.success) throw new WeatherTrouble("its answer has not the form it should have", "service")
  refuse(read.data, place, now)
  return read.data
}

function troubleOf(status: number, body: unknown): WeatherTrouble {
  const said = refusal.safeParse(body)
  if (status === 429) return new WeatherTrouble("it asks us to come back later (429)", "service")
  if (status >= 500) return new WeatherTrouble(`it has trouble of its own (${status})`, "service")
  const why = said.success ? `: ${said.data.reason.slice(0, 120)}` : ""
  return new WeatherTrouble(`it does not take the question (${status}${why})`, status === 400 ? "place" : "service")
}

/** What would put every figure of an answer in the wrong place: units, lengths, zone, another spot of the earth. */
function refuse(got: PlaceAnswer, place: PlaceAsked, now: Instant): void {
  const no = (why: string) => new WeatherTrouble(`its answer was not believed: ${why}`, "place")
  for (const name of COLUMNS)
    if (got.daily_units[name] !== UNITS[name])
      throw no(`${name} is in ${got.daily_units[name].slice(0, 20)}, not ${UNITS[name]}`)
  for (const name of COLUMNS)
    if (got.daily[name].length !== got.daily.time.length) throw no(`${name} has not a value for each day`)
  if (Math.abs(got.latitude - place.lat) > 1 || Math.abs(((got.longitude - place.lon + 540) % 360) - 180) > 1)
    throw no("it is for another place")
  if (place.zone && Math.abs(got.utc_offset_seconds / 60 - offsetMinutes(now, place.zone)) > 61)
    throw no("its days are those of another zone")
}

function rowsIn({ daily }: PlaceAnswer): DayRow[] {
  return daily.time.map((text, i) => {
    const day = asDay(text)
    if (day === null) throw new WeatherTrouble("its answer was not believed: a day that does not exist", "place")
    const value = (values: readonly (number | null)[]) => values[i] ?? Number.NaN
    return {
      day: dayNumber(day),
      tmin_c: value(daily.temperature_2m_min),
      tmax_c: value(daily.temperature_2m_max),
      rain_mm: value(daily.precipitation_sum),
    }
  })
}

/** Forecast and archive live on two hosts of the service, and on one of a stand-in or a server of one's own. */
function addressOf(apiUrl: string | null, what: "forecast" | "archive"): URL {
  const base = new URL(apiUrl ?? (what === "forecast" ? OPEN_METEO_URL : ARCHIVE_URL))
  if (what === "archive" && /^(customer-)?api\.open-meteo\.com$/.test(base.hostname))
    base.hostname = base.hostname.replace("api.", "archive-api.")
  const address = new URL(`${base.origin}${base.pathname.replace(/\/+$/, "")}/v1/${what}`)
  const key = base.searchParams.get("apikey")
  if (key !== null) address.searchParams.set("apikey", key)
  return address
}
