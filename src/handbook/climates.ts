import { z } from "zod"
import type { Climate } from "./climate.ts"
import { figure, middle } from "./figure.ts"
import type { Climates, Spot } from "./handbook.ts"

/** How stations are joined to the climate of a spot, as `shared/climates/join.json` holds it. */
export const joinSchema = z.strictObject({
  /** Fall of temperature with height. */
  lapse_c_per_km: figure,
  /** What a kilometre of difference in height counts for beside kilometres on the map. */
  heightAsDistance_km_per_km: figure,
  /** A station this near is taken alone. */
  alone_km: figure,
  /** At most so many stations. */
  stations: figure,
  /** A further station counts only where it is at most so many times as far as the nearest. */
  timesAsFar: figure,
})
export type Join = z.infer<typeof joinSchema>

/** Texts of `shared/climates/`: each station file with the key of its source, and the table of spreads. */
export type ClimateTexts = { stations: readonly { source: string; text: string }[]; spread: string; join: Join }

type Station = { id: string; lat: number; lon: number; elev_m: number; source: string; line: string }

const earthRadius_km = 6371
const radians = Math.PI / 180

/** Great-circle distance in km on a sphere. */
export function distance_km(a: Spot, b: Spot): number {
  const half = (degrees: number) => Math.sin((degrees * radians) / 2) ** 2
  const chord = half(b.lat - a.lat) + Math.cos(a.lat * radians) * Math.cos(b.lat * radians) * half(b.lon - a.lon)
  return 2 * earthRadius_km * Math.asin(Math.min(1, Math.sqrt(chord)))
}

/**
 * The climates of the bundled stations. `texts` is called at the first question, and a station's months are read when
 * that station is asked for, so that a command without a question about climate pays nothing.
 */
export function lazyClimates(texts: () => ClimateTexts): Climates {
  let opened: Opened | undefined
  const open = () => {
    opened ??= readTexts(texts())
    return opened
  }
  return {
    byId: (id) => {
      const { stations, spread } = open()
      const station = stations.get(id)
      return station && climateOf(station, spread)
    },
    ids: () => open().stations.keys(),
    at: (spot) => climateAt(spot, open()),
  }
}

type Opened = { stations: Map<string, Station>; spread: readonly string[]; join: Join }

function readTexts(texts: ClimateTexts): Opened {
  const stations = new Map<string, Station>()
  for (const { source, text } of texts.stations) {
    for (const line of linesOf(text)) {
      const [id = "", , , lat, lon, elev] = line.split("\t", 6)
      stations.set(id, { id, lat: Number(lat), lon: Number(lon), elev_m: Number(elev), source, line })
    }
  }
  return { stations, spread: linesOf(texts.spread), join: texts.join }
}

function linesOf(text: string): string[] {
  return text.split("\n").filter((line) => line !== "" && !line.startsWith("#"))
}

const tenths = (list: string | undefined) => (list ?? "").split(" ").map((value) => Number(value) / 10)

function climateOf(station: Station, spread: readonly string[]): Climate {
  const [, name = "", where = "", , , , row, tmin, tmax, rain] = station.line.split("\t")
  const [sdDay, sdYear] = (spread[Number(row)] ?? "").split("\t")
  return {
    id: station.id,
    name,
    where,
    lat: station.lat,
    lon: station.lon,
    elev_m: station.elev_m,
    tmin_c: tenths(tmin),
    tmax_c: tenths(tmax),
    rain_mm: (rain ?? "").split(" ").map((value) => (value === "-" ? null : Number(value))),
    sdDay_c: tenths(sdDay),
    sdYear_c: tenths(sdYear),
    source: station.source,
  }
}

type Near = { climate: Climate; away_km: number; weight: number }

function climateAt(spot: Spot, opened: Opened): Climate {
  const near = nearStations(spot, opened)
  const first = near[0]
  if (!first) throw new Error("No climate stations are bundled.")
  const total = near.reduce((sum, { weight }) => sum + weight, 0)
  const mean = (value: (climate: Climate) => number) =>
    near.reduce((sum, { climate, weight }) => sum + value(climate) * weight, 0) / total
  const elev_m = spot.elev_m ?? mean((climate) => climate.elev_m)
  const perMetre = middle(opened.join.lapse_c_per_km) / 1000
  const forHeight = (climate: Climate) => (spot.elev_m === undefined ? 0 : (climate.elev_m - elev_m) * perMetre)
  const months = (value: (climate: Climate, month: number) => number) =>
    Array.from({ length: 12 }, (_, month) => Math.round(mean((climate) => value(climate, month)) * 100) / 100)
  return {
    id: `near-${first.climate.id}`,
    name: first.climate.name,
    where: first.climate.where,
    lat: spot.lat,
    lon: spot.lon,
    elev_m: Math.round(elev_m),
    tmin_c: months((climate, month) => climate.tmin_c[month]! + forHeight(climate)),
    tmax_c: months((climate, month) => climate.tmax_c[month]! + forHeight(climate)),
    rain_mm: rainOf(near),
    sdDay_c: months((climate, month) => climate.sdDay_c[month]!),
    sdYear_c: months((climate, month) => climate.sdYear_c[month]!),
    source: first.climate.source,
    made: madeFrom(near, mean(forHeight)),
  }
}

function nearStations(spot: Spot, { stations, spread, join }: Opened): Near[] {
  const heightCounts = middle(join.heightAsDistance_km_per_km)
  const ranked = [...stations.values()]
    .map((station) => {
      const away_km = distance_km(spot, station)
      const height_km = spot.elev_m === undefined ? 0 : (spot.elev_m - station.elev_m) / 1000
      return { station, away_km, far: Math.hypot(away_km, height_km * heightCounts) }
    })
    .sort((a, b) => a.far - b.far)
    .slice(0, middle(join.stations))
  const nearest = ranked[0]
  if (!nearest) return []
  const alone = ranked.find(({ away_km }) => away_km <= middle(join.alone_km))
  const kept = alone ? [alone] : ranked.filter(({ far }) => far <= nearest.far * middle(join.timesAsFar))
  return kept.map(({ station, away_km, far }) => ({
    climate: climateOf(station, spread),
    away_km,
    weight: 1 / Math.max(far, 0.1) ** 2,
  }))
}

/** Rain from the stations that know it; a month that none knows stays unknown. */
function rainOf(near: readonly Near[]): (number | null)[] {
  return Array.from({ length: 12 }, (_, month) => {
    const known = near.filter(({ climate }) => climate.rain_mm[month] !== null)
    const total = known.reduce((sum, { weight }) => sum + weight, 0)
    const sum = known.reduce((all, { climate, weight }) => all + climate.rain_mm[month]! * weight, 0)
    return known.length === 0 ? null : Math.round(sum / total)
  })
}

function madeFrom(near: readonly Near[], warmer_c: number): string {
  const stations = near.map(({ climate, away_km }) => `${climate.name}, ${climate.where}, ${Math.round(away_km)} km`)
  const height =
    Math.abs(warmer_c) < 0.1
      ? ""
      : `; ${Math.abs(warmer_c).toFixed(1)} C ${warmer_c < 0 ? "cooler" : "warmer"} for height`
  return stations.join("; ") + height
}
