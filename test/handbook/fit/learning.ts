/**
 * Tells whether a place's own past seasons make the next one's days surer, and how much they should weigh against the book:
 *
 *   node test/handbook/fit/learning.ts FOLDER
 *
 * Every place is left out of the fit in turn. The days of a sort are then foretold there from sowing and weather alone, and
 * again with what its earlier seasons at that place taught (`pooled` of the season room). Writes nothing.
 */
import { pathToFileURL } from "node:url"
import { TENTH } from "../../../src/agronomy/spread.ts"
import { openHandbook } from "../../../src/handbook/open.ts"
import { estimateStages } from "../../../src/season/estimate.ts"
import { learnedKey, type OwnRun, pooled } from "../../../src/season/learned.ts"
import { seasonOf } from "../../../src/season/sowing-season.ts"
import { addDays, dayFromNumber, daysBetween } from "../../../src/values/day.ts"
import { rangeWidth } from "../../../src/values/range.ts"
import { foldsOf } from "./cross-validate.ts"
import { readRows, weatherOf } from "./rows.ts"

const [folderName] = process.argv.slice(2)
if (!folderName) {
  console.error("usage: node test/handbook/fit/learning.ts FOLDER")
  process.exit(2)
}
const folder = pathToFileURL(`${folderName}/`)
const handbook = openHandbook(new URL("../../../shared/", import.meta.url))
const rows = readRows(folder)
const weather = weatherOf(folder, handbook)
const folds = foldsOf(rows, weather)

for (const measured of [1, 0]) {
  const runs = rows.flatMap((row): OwnRun[] => {
    const species = handbook.species.get(row.species)
    const development = folds.get(row.site)?.get(row.species)
    const days = row.flower ?? row.heading
    if (!species || !development || days === null) return []
    const known = weather(row)
    const last = known.observed!.first + known.observed!.tmin_c.length - 1
    const stages = estimateStages({
      species,
      development,
      sown: row.sown,
      on: measured === 1 ? dayFromNumber(last) : row.sown,
      weather: measured === 1 ? known : { ...known, observed: null },
      bed: "plot",
      observed: [],
    })
    const range = row.flower === null ? stages.heading : stages.firstFlower
    if (!range) return []
    const on = addDays(row.sown, days)
    return [
      {
        sowing: row.id,
        key: `${learnedKey(row.species, seasonOf(row.sown, row.lat))} ${row.site} ${row.cultivar}`,
        on,
        days: daysBetween(range.likely, on),
        spread_days: rangeWidth(range) / (2 * TENTH),
        measured,
      },
    ]
  })
  tell(runs, measured === 1 ? "weather measured" : "normals for weather")
}

/** Mean errors by how many earlier seasons of the place were known, without and with them. */
function tell(runs: readonly OwnRun[], what: string): void {
  const errors = new Map<number, { book: number; learned: number }[]>()
  for (const own of Map.groupBy(runs, (run) => run.key).values())
    for (const run of own) {
      const lean = pooled(
        own.filter((other) => other.on.slice(0, 4) < run.on.slice(0, 4)),
        "it",
      )
      if (!lean) continue
      const list = errors.get(lean.years.length) ?? []
      errors.set(lean.years.length, list)
      list.push({ book: Math.abs(run.days), learned: Math.abs(run.days - lean.shift_days) })
    }
  console.log(`${what}: earlier seasons, rows, mean error by the book, with what they taught (days)`)
  for (const [years, list] of [...errors].sort((a, b) => a[0] - b[0])) {
    const mean = (of: (one: (typeof list)[number]) => number) =>
      (list.reduce((sum, one) => sum + of(one), 0) / list.length).toFixed(1)
    console.log(
      `  ${years}  ${String(list.length).padStart(4)}  ${mean((one) => one.book)}  ${mean((one) => one.learned)}`,
    )
  }
}
