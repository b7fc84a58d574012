import { z } from "zod"
import type { Attribution } from "../bot/needs.ts"
import { dayNumber } from "../values/day.ts"
import { asInstant, DAY_MS, type Instant, instantText } from "../values/instant.ts"
import { asZone, localDay, type Zone, zone } from "../values/zone.ts"
import type { DayRow } from "./days.ts"
import { type Answer, type Ask, getJson, WeatherTrouble } from "./get-json.ts"
import { dailyTotals, dayOfMiddle, readSpell, type Spell } from "./nws-intervals.ts"
import type { KeptPlace, PlaceAsked, WeatherService } from "./service.ts"

export const NWS_URL = "https://api.weather.gov"
const ATTRIBUTION: Attribution = {
  words: "Forecast by the US National Weather Service.",
  links: [{ words: "US National Weather Service", to: "https://www.weather.gov/" }],
}

/** The square that a place lies in changes rarely, but it does. */
const GRID_AGE_MS = 30 * DAY_MS
/** A forecast that was made so long ago comes from a store on the way, not from the office (weather-gov/api#71). */
const OLDEST_MS = DAY_MS

const layer = z.object({
  uom: z.string().optional(),
  values: z.array(z.object({ validTime: z.string(), value: z.number().nullable() })),
})
type Layer = z.infer<typeof layer>

const point = z.object({
  properties: z.object({
    forecastGridData: z
      .string()
      .refine((text) => URL.canParse(text) && new URL(text).pathname.startsWith("/gridpoints/")),
    timeZone: z.string(),
  }),
})
const grid = z.object({
  properties: z.object({
    updateTime: z.string(),
    maxTemperature: layer.optional(),
    minTemperature: layer.optional(),
    quantitativePrecipitation: layer.optional(),
  }),
})
type Grid = z.infer<typeof grid>["properties"]

/**
 * The US National Weather Service: the numbers of the square that a place lies in, seven days ahead. It knows no past, so
 * what it last said of a day stays as a forecast of that day; everything before is for normals.
 */
export function nws(ask: Ask, apiUrl: string | null): WeatherService {
  const base = (apiUrl ?? NWS_URL).replace(/\/+$/, "")
  return {
    name: "nws",
    attribution: ATTRIBUTION,
    async ask(place, kept, now) {
      let where = knownSquare(kept, now) ?? (await findSquare(ask, base, place, now))
      let got = await getJson(where.grid, ask)
      if (got.status === 404 && where.asked !== instantText(now)) {
        // Squares move when an office is cut anew: it is looked up afresh, once.
        where = await findSquare(ask, base, place, now)
        got = await getJson(where.grid, ask)
      }
      if (got.status !== 200) throw troubleOf(got)
      const read = grid.safeParse(got.body)
      if (!read.success) throw new WeatherTrouble("its answer has not the form it should have", "service")
      const made = asInstant(read.data.properties.updateTime)
      if (made === null || now - made > OLDEST_MS)
        throw new WeatherTrouble("its forecast is more than a day old", "place")
      const days = place.zone ?? where.zone
      return {
        today: dayNumber(localDay(now, days)),
        rows: rowsIn(read.data.properties, days),
        past: "forecast",
        notes: { grid: where.grid, zone: where.zone, gridAsked: where.asked },
      }
    },
  }
}

type Square = { grid: string; zone: Zone; asked: string }

/** The square as it was found before, unless that is long ago. */
function knownSquare(kept: KeptPlace | null, now: Instant): Square | null {
  const { grid: address, zone: name, gridAsked } = kept?.notes ?? {}
  const asked = asInstant(gridAsked ?? "")
  const known = asZone(name ?? "")
  if (!address || !known || asked === null || now < asked || now - asked > GRID_AGE_MS) return null
  return { grid: address, zone: known, asked: instantText(asked) }
}

async function findSquare(ask: Ask, base: string, place: PlaceAsked, now: Instant): Promise<Square> {
  const got = await getJson(`${base}/points/${place.lat},${place.lon}`, ask)
  if (got.status === 404) throw new WeatherTrouble("it has no forecast for this place; it covers the USA only", "place")
  if (got.status !== 200) throw troubleOf(got)
  const read = point.safeParse(got.body)
  if (!read.success) throw new WeatherTrouble("its answer has not the form it should have", "service")
  const { forecastGridData, timeZone } = read.data.properties
  // Its own word is taken for the square, not for the host to ask.
  return {
    grid: base + new URL(forecastGridData).pathname,
    zone: asZone(timeZone) ?? zone("UTC"),
    asked: instantText(now),
  }
}

function troubleOf({ status }: Answer): WeatherTrouble {
  if (status === 403)
    return new WeatherTrouble("it wants to know who asks (403): name a contact, such as MAIL_FROM", "service")
  // One office's outage is no other's.
  if (status === 503) return new WeatherTrouble("the office of that place has no forecast just now (503)", "place")
  if (status === 429 || status >= 500) return new WeatherTrouble(`it has trouble of its own (${status})`, "service")
  return new WeatherTrouble(`it does not take the question (${status})`, "place")
}

function rowsIn(properties: Grid, days: Zone): DayRow[] {
  const highs = spellsOf(properties.maxTemperature, "degC")
  const lows = spellsOf(properties.minTemperature, "degC")
  const rain = dailyTotals(spellsOf(properties.quantitativePrecipitation, "mm"), days)
  const rows = new Map<number, DayRow>()
  const rowOf = (day: number) => {
    const row = rows.get(day) ?? { day, tmin_c: Number.NaN, tmax_c: Number.NaN, rain_mm: Number.NaN }
    rows.set(day, row)
    return row
  }
  for (const spell of highs) {
    const row = rowOf(dayOfMiddle(spell, days))
    // Two spells in one day: the warmer is the day's.
    if (spell.value !== null) row.tmax_c = Number.isNaN(row.tmax_c) ? spell.value : Math.max(row.tmax_c, spell.value)
  }
  for (const spell of lows) {
    const row = rowOf(dayOfMiddle(spell, days))
    if (spell.value !== null) row.tmin_c = Number.isNaN(row.tmin_c) ? spell.value : Math.min(row.tmin_c, spell.value)
  }
  for (const [day, total] of rain) rowOf(day).rain_mm = total
  return [...rows.values()].sort((a, b) => a.day - b.day)
}

/** The spells of a layer. Its unit is read, never assumed: a layer in another one is refused. An absent layer has none. */
function spellsOf(given: Layer | undefined, unit: "degC" | "mm"): Spell[] {
  if (!given || given.values.length === 0) return []
  const name = given.uom?.replace(/^.*:/, "")
  if (name !== unit)
    throw new WeatherTrouble(
      `its answer was not believed: a layer in ${String(name).slice(0, 20)}, not ${unit}`,
      "place",
    )
  return given.values.flatMap(({ validTime, value }) => {
    const spell = readSpell(validTime)
    return spell ? [{ ...spell, value }] : []
  })
}
