import { readFileSync } from "node:fs"
import type { DailyWeather, KnownWeather } from "../../../src/agronomy/weather-series.ts"
import type { Handbook } from "../../../src/handbook/handbook.ts"
import { asDay, type Day, day, daysBetween } from "../../../src/values/day.ts"
import { readWeatherCsv } from "../../../src/weather/csv.ts"

/** One observed row: a sowing of one sort with the days on which its stages came, counted from sowing. */
export type Row = {
  id: string
  source: string
  species: string
  cultivar: string
  site: string
  lat: number
  /** null: the source withholds it. */
  lon: number | null
  experiment: string
  sown: Day
  emerged: number | null
  flagLeaf: number | null
  heading: number | null
  flower: number | null
}

/** Ids of the project for the species of the observed set; others keep theirs. */
const IDS: Readonly<Record<string, string>> = { canola: "rapeseed", "indian-mustard": "brown-mustard" }

/** Reads a comma-separated text with a header; quotes hold commas. */
export function readCsv(text: string): Record<string, string>[] {
  const lines = text.replace(/\r/g, "").trim().split("\n").map(cells)
  const [header, ...rows] = lines
  return rows.map((row) => Object.fromEntries(header!.map((name, i) => [name, row[i] ?? ""])))
}

function cells(line: string): string[] {
  const found: string[] = []
  let cell = ""
  let quoted = false
  for (const letter of line) {
    if (letter === '"') quoted = !quoted
    else if (letter === "," && !quoted) {
      found.push(cell)
      cell = ""
    } else cell += letter
  }
  return [...found, cell]
}

/** The rows of `observations.csv` in a folder. */
export function readRows(folder: URL): Row[] {
  return readCsv(readFileSync(new URL("observations.csv", folder), "utf8")).map((row) => {
    const sown = day(row.sown!)
    const after = (text: string | undefined) => {
      const found = asDay(text ?? "")
      return found ? daysBetween(sown, found) : null
    }
    return {
      id: row.id!,
      source: row.source!,
      species: IDS[row.species!] ?? row.species!,
      cultivar: row.cultivar!,
      site: row.site!,
      lat: Number(row.lat),
      lon: row.lon === "" ? null : Number(row.lon),
      experiment: row.experiment!,
      sown,
      emerged: after(row.emerged),
      flagLeaf: after(row.flag_leaf),
      heading: after(row.heading),
      flower: after(row.first_flower_or_anthesis),
    }
  })
}

/** Where a withheld longitude is put for the climate alone: the middle of France, where the only such rows come from. */
const WITHHELD_LON = 2.5

/** Weather of the observed places as the program would know it, each file read once. */
export function weatherOf(folder: URL, handbook: Handbook): (row: Row) => KnownWeather {
  const files = new Map<string, DailyWeather>()
  const known = new Map<string, KnownWeather>()
  return (row) => {
    const lon = row.lon ?? WITHHELD_LON
    const key = `${row.site} ${row.lat} ${lon}`
    const before = known.get(key)
    if (before) return before
    const name = `weather/${row.site}.csv`
    const observed = files.get(name) ?? readWeatherCsv(readFileSync(new URL(name, folder), "utf8"), name, () => {})
    files.set(name, observed)
    const made = { lat: row.lat, lon, observed, forecast: null, climate: handbook.climates.at({ lat: row.lat, lon }) }
    known.set(key, made)
    return made
  }
}

/** What is left out at once: a place; at a place of many seasons a season, named by its experiments' year. */
export function placeSeason(row: Row): string {
  return row.site === "nz-lincoln" ? `${row.site} ${row.experiment.slice(-4)}` : row.site
}
