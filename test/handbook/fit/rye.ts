import { readFileSync } from "node:fs"
import { prepareWeather } from "../../../src/agronomy/ensemble.ts"
import type { KnownWeather } from "../../../src/agronomy/weather-series.ts"
import { heatResponse, OPEN_GROUND } from "../../../src/agronomy/weather-tape.ts"
import type { Development } from "../../../src/handbook/development.ts"
import { type Figure, middle } from "../../../src/handbook/figure.ts"
import type { Handbook } from "../../../src/handbook/handbook.ts"
import { estimateStages } from "../../../src/season/estimate.ts"
import { addDays, type Day, day, dayNumber, daysBetween } from "../../../src/values/day.ts"
import { median } from "./model.ts"
import { readCsv } from "./rows.ts"

/** Between which days a stage should come in the normal year of a place. */
type Window = { lat: number; lon: number; sown: Day; stage: "heading" | "flower"; from: Day; to: Day; weight: number }

/** Ears stand, then flower, for about so many days each (common practice, no source). */
const EAR_DAYS = 10
const FLOWER_DAYS = 8
/**
 * Shares of wheat's days that rye may need. None below 0.7: the looks are mostly of two springs that were warmer than the
 * normals which stand in for their weather, and would draw rye earlier than any of the calendars has it.
 */
const FACTORS = Array.from({ length: 21 }, (_, i) => 0.7 + i * 0.015)
/** Pollen follows the heads of rye by one to two weeks (Cornell; Dawling 2013): development days, near full speed in May. */
const HEADS_TO_POLLEN_DAYS = 10
/** Published calendars stand for many years, a look for one: each counts as so many looks. */
const CALENDAR_WEIGHS = 3
const CALENDARS: readonly Window[] = [
  // Heads mid to late May in New York, early May in central Virginia; flower 25 May to 17 June in Minnesota (Kantar 2014).
  {
    lat: 42.45,
    lon: -76.45,
    sown: day("2024-09-20"),
    stage: "heading",
    from: day("2025-05-13"),
    to: day("2025-05-28"),
  },
  { lat: 38.0, lon: -78.0, sown: day("2024-10-05"), stage: "heading", from: day("2025-05-01"), to: day("2025-05-10") },
  { lat: 45.0, lon: -93.2, sown: day("2024-09-15"), stage: "flower", from: day("2025-05-25"), to: day("2025-06-17") },
].map((window) => ({ ...window, weight: CALENDAR_WEIGHS }) as Window)

/**
 * Rye and triticale on the clock of winter wheat. Rye needs fewer days: by the share that puts its ears and flowers where the
 * rye table's looks and the published calendars have them, with normals for weather. Triticale stands between the two (common
 * practice, no source).
 */
export function ryeFrom(wheat: Development, folder: URL, handbook: Handbook, on: string): Development[] {
  const looks = looksOf(folder)
  const windows = [...looks.windows, ...CALENDARS]
  const weight = windows.reduce((sum, window) => sum + window.weight, 0)
  const off = (development: Development, some: readonly Window[]) =>
    some.reduce((sum, window) => sum + window.weight * outside(window, development, handbook), 0)
  const scores = FACTORS.map((factor) => ({ factor, off: off(ryeOf(wheat, factor), windows) / weight }))
  const best = scores.reduce((a, b) => (b.off < a.off ? b : a))
  const rye = ryeOf(wheat, best.factor)
  rye.emergence.sum = seedbedSum(rye, folder, handbook)
  const fit = {
    data: "stages of cereal rye on the day of looking, eastern USA (Huddell et al.)",
    on,
    rows: looks.rows,
    places: new Set(looks.windows.map((look) => `${look.lat} ${look.lon}`)).size,
    mae_days: Number((off(rye, looks.windows) / looks.windows.length).toFixed(1)),
    leftOut: "none; days by which the likely day lies outside what was seen, looks of one day taken together",
  }
  rye.clocks[0]!.basis = {
    ...rye.clocks[0]!.basis,
    how: "kin",
    source: [...rye.clocks[0]!.basis.source, "CORNELL-RYE", "DAWLING", "KANTAR2014"],
    says: "on the clock of winter wheat, set by looks at rye in the eastern USA",
    fit,
  }
  const triticale = scaled(wheat, "triticale", (1 + best.factor) / 2)
  triticale.emergence.sum = between(wheat.emergence.sum, rye.emergence.sum)
  const { fit: _wheats, ...basis } = triticale.clocks[0]!.basis
  triticale.clocks[0]!.basis = {
    ...basis,
    how: "kin",
    source: [...basis.source, "PRACTICE"],
    says: "borrowed from winter wheat and winter rye, its parents",
  }
  return [rye, triticale]
}

/** Looks at ears and flowers: Zadoks stages on the day somebody looked, all plots of a place and day together. */
function looksOf(folder: URL): { rows: number; windows: Window[] } {
  const rows = readCsv(readFileSync(new URL("rye-stages-usa.csv", folder), "utf8")).filter(
    (row) => Number(row.zadoks) >= 50 && Number(row.zadoks) < 70,
  )
  const looks = Map.groupBy(rows, (row) => `${row.lat} ${row.lon} ${row.sown} ${row.seen}`)
  const windows = [...looks.values()].map((plots): Window => {
    const { lat, lon, sown, seen } = plots[0]!
    const stage = median(plots.map((row) => Number(row.zadoks))) < 60 ? "heading" : "flower"
    const most = stage === "heading" ? EAR_DAYS : FLOWER_DAYS
    const to = day(seen!)
    return { lat: Number(lat), lon: Number(lon), sown: day(sown!), stage, from: addDays(to, -most), to, weight: 1 }
  })
  return { rows: rows.length, windows }
}

/** Days by which the likely day of a stage lies outside a window. */
function outside({ lat, lon, sown, stage, from, to }: Window, development: Development, handbook: Handbook): number {
  const species = handbook.species.get("winter-rye")!
  const weather = normals(lat, lon, handbook)
  const stages = estimateStages({ species, development, sown, on: sown, weather, bed: "plot", observed: [] })
  const range = stage === "heading" ? stages.heading : stages.firstFlower
  if (!range) return EAR_DAYS * 3
  return Math.max(0, daysBetween(range.likely, from), daysBetween(to, range.likely))
}

function normals(lat: number, lon: number, handbook: Handbook): KnownWeather {
  return { lat, lon, observed: null, forecast: null, climate: handbook.climates.at({ lat, lon }) }
}

/** Degree-days of the seedbed that the German sowings of rye had until they were up, by the normals; spread as wheat's. */
function seedbedSum({ emergence }: Development, folder: URL, handbook: Handbook): Figure {
  const warmth = heatResponse(emergence.base_c, emergence.ceiling_c, OPEN_GROUND)
  const sums = readCsv(readFileSync(new URL("rye-germany.csv", folder), "utf8"))
    .filter((row) => row.emerged !== "")
    .map((row) => {
      const sown = day(row.sown!)
      const outlook = prepareWeather(normals(Number(row.lat), Number(row.lon), handbook), sown)
      const daily = outlook.normal(warmth, dayNumber(sown), daysBetween(sown, day(row.emerged!)))
      return daily.reduce((sum, value) => sum + value, 0)
    })
  const likely = sums.reduce((sum, value) => sum + value, 0) / sums.length
  return widened(
    emergence.sum,
    likely / middle(emergence.sum),
    "sowings of rye in Brandenburg and the Harz, by normals",
  )
}

function between(a: Figure, b: Figure): Figure {
  return widened(a, (1 + middle(b) / middle(a)) / 2, "between winter wheat and winter rye")
}

function widened(sum: Figure, factor: number, note: string): Figure {
  const { low, high } = sum
  return { ...sum, low: short(low * factor), likely: short(middle(sum) * factor), high: short(high * factor), note }
}

/** Rye on the clock of wheat with so many times the days, and its own wait from heads to pollen. */
function ryeOf(wheat: Development, factor: number): Development {
  const rye = scaled(wheat, "winter-rye", factor)
  for (const { grass, members } of rye.clocks) {
    if (grass) grass.flower_days = short(grass.heading_days + HEADS_TO_POLLEN_DAYS)
    const heading = members?.names.indexOf("grass.heading_days") ?? -1
    const flower = members?.names.indexOf("grass.flower_days") ?? -1
    for (const row of members?.rows ?? []) row[flower] = short(row[heading]! + HEADS_TO_POLLEN_DAYS)
  }
  return rye
}

/** The same clock with so many times the days, and a wider spread since it is borrowed. */
function scaled(wheat: Development, id: string, factor: number): Development {
  const copy = structuredClone(wheat)
  copy.id = id
  for (const clock of copy.clocks) {
    clock.rate.days = short(clock.rate.days * factor)
    const at = clock.members?.names.indexOf("days") ?? -1
    for (const row of clock.members?.rows ?? []) row[at] = short(row[at]! * factor)
    clock.stands = { low: short(clock.stands.low / 1.05), likely: 1, high: short(clock.stands.high * 1.05) }
  }
  return copy
}

function short(value: number): number {
  return Number(value.toPrecision(4))
}
