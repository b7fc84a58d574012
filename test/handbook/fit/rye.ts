import { readFileSync } from "node:fs"
import type { KnownWeather } from "../../../src/agronomy/weather-series.ts"
import type { Development } from "../../../src/handbook/development.ts"
import type { Handbook } from "../../../src/handbook/handbook.ts"
import { estimateStages } from "../../../src/season/estimate.ts"
import { day, daysBetween } from "../../../src/values/day.ts"
import { readCsv } from "./rows.ts"

/** Zadoks stages on the day somebody looked; only ears and flowers tell when those came. */
type Look = { sown: string; seen: string; lat: number; lon: number; zadoks: number }

/** Ears stand, then flower, for about so many days each (common practice, no source). */
const EAR_DAYS = 10
const FLOWER_DAYS = 8
const FACTORS = Array.from({ length: 31 }, (_, i) => 0.7 + i * 0.015)

/**
 * Rye and triticale on the clock of winter wheat. Rye needs fewer days: by the share that puts its ears and flowers where the
 * rye table's looks have them, with normals for weather. Triticale stands between the two (common practice, no source).
 */
export function ryeFrom(wheat: Development, folder: URL, handbook: Handbook, on: string): Development[] {
  const looks = readLooks(folder)
  const off = (factor: number) =>
    looks.reduce((sum, look) => sum + outside(look, scaled(wheat, "winter-rye", factor), handbook), 0) / looks.length
  const scores = FACTORS.map((factor) => ({ factor, off: off(factor) }))
  const best = scores.reduce((a, b) => (b.off < a.off ? b : a))
  const rye = scaled(wheat, "winter-rye", best.factor)
  const says = "on the clock of winter wheat, set by looks at rye in the eastern USA"
  const fit = {
    data: "stages of cereal rye on the day of looking, eastern USA (Huddell et al.)",
    on,
    rows: looks.length,
    places: new Set(looks.map((look) => `${look.lat} ${look.lon}`)).size,
    mae_days: Number(best.off.toFixed(1)),
    leftOut: "none; days by which the likely day lies outside what was seen",
  }
  rye.clocks[0]!.basis = { ...rye.clocks[0]!.basis, how: "kin", says, fit }
  const triticale = scaled(wheat, "triticale", (1 + best.factor) / 2)
  const { fit: _wheats, ...basis } = triticale.clocks[0]!.basis
  triticale.clocks[0]!.basis = {
    ...basis,
    how: "kin",
    source: [...basis.source, "PRACTICE"],
    says: "borrowed from winter wheat and winter rye, its parents",
  }
  return [rye, triticale]
}

function readLooks(folder: URL): Look[] {
  return readCsv(readFileSync(new URL("rye-stages-usa.csv", folder), "utf8"))
    .map((row) => ({
      sown: row.sown!,
      seen: row.seen!,
      lat: Number(row.lat),
      lon: Number(row.lon),
      zadoks: Number(row.zadoks),
    }))
    .filter((look) => look.zadoks >= 50 && look.zadoks < 70)
}

/** Days by which the likely day of a stage lies outside the days that a look allows. */
function outside(look: Look, development: Development, handbook: Handbook): number {
  const climate = handbook.climates.at({ lat: look.lat, lon: look.lon })
  const weather: KnownWeather = { lat: look.lat, lon: look.lon, observed: null, forecast: null, climate }
  const species = handbook.species.get("winter-rye")!
  const sown = day(look.sown)
  const stages = estimateStages({ species, development, sown, on: sown, weather, bed: "plot", observed: [] })
  const stage = look.zadoks < 60 ? stages.heading : stages.firstFlower
  if (!stage) return EAR_DAYS * 3
  const ago = daysBetween(stage.likely, day(look.seen))
  const most = look.zadoks < 60 ? EAR_DAYS : FLOWER_DAYS
  return ago < 0 ? -ago : Math.max(0, ago - most)
}

/** The same clock with so many times the days, and a wider spread since it is borrowed. */
function scaled(wheat: Development, id: string, factor: number): Development {
  const copy = structuredClone(wheat)
  copy.id = id
  for (const clock of copy.clocks) {
    clock.rate.days = Number((clock.rate.days * factor).toPrecision(4))
    const at = clock.members?.names.indexOf("days") ?? -1
    for (const row of clock.members?.rows ?? []) row[at] = Number((row[at]! * factor).toPrecision(4))
    clock.stands = {
      low: Number((clock.stands.low / 1.05).toPrecision(4)),
      likely: 1,
      high: Number((clock.stands.high * 1.05).toPrecision(4)),
    }
  }
  return copy
}
