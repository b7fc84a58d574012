/**
 * Fits how species develop to observed sowings and writes `shared/development/ID.json`:
 *
 *   node test/handbook/fit/fit.ts FOLDER [DAY]
 *
 * FOLDER holds `observations.csv`, `weather/` and the rye tables; DAY (default: today) is recorded as the day of the fit. The
 * rows stay where they are: only fitted numbers are written, with how well they did on rows that were left out.
 */
import { mkdirSync, writeFileSync } from "node:fs"
import { pathToFileURL } from "node:url"
import type { Development } from "../../../src/handbook/development.ts"
import { openHandbook } from "../../../src/handbook/open.ts"
import { foldsOf, scoreLine } from "./cross-validate.ts"
import { developmentOf } from "./development-of.ts"
import { FAMILIES, type Family } from "./families.ts"
import { LINES } from "./lines.ts"
import { type FamilyFit, fitFamily, pullsOf, standsOf } from "./model.ts"
import { type Row, readRows, weatherOf } from "./rows.ts"
import { ryeFrom } from "./rye.ts"

const DATA = "observed sowings of field trials (APSIM, DSSAT, AgMIP-IV, BRIWECS), development set"

/** Winter types do not flower without cold (Weir et al. 1984 and common practice; the days are a judgement, used wide). */
const COLD_NEEDED = {
  low: 15,
  likely: 25,
  high: 40,
  unit: "d",
  source: ["WEIR1984-MEM"],
  grade: "memory",
  note: "days of full cold below which a winter type is not expected to flower",
} as const satisfies Development["needsCold"]

/** Winter rape wants six to eight weeks of cold (common practice, no source); canola of mild winters is sown in spring types. */
const COLD_OF_RAPE = {
  low: 30,
  likely: 45,
  high: 60,
  unit: "d",
  source: ["PRACTICE"],
  grade: "none",
  note: "days of full cold below which winter rape is not expected to flower",
} as const satisfies Development["needsCold"]

const [folderName, on = new Date().toISOString().slice(0, 10)] = process.argv.slice(2)
if (!folderName) {
  console.error("usage: node test/handbook/fit/fit.ts FOLDER [DAY]")
  process.exit(2)
}
const folder = pathToFileURL(`${folderName}/`)
const shared = new URL("../../../shared/", import.meta.url)
const out = new URL("development/", shared)
const handbook = openHandbook(shared)
const rows = readRows(folder)
const weather = weatherOf(folder, handbook)
const folds = foldsOf(rows, weather)
mkdirSync(out, { recursive: true })

for (const family of FAMILIES) {
  const stands = standsOf(family, rows, weather)
  const fitted = fitFamily(family, stands, pullsOf(family, stands))
  for (const id of Object.keys(family.species)) {
    if (!handbook.species.has(id)) continue
    const development = withFit(family, fitted, id)
    write(development)
    if (id === "winter-wheat") for (const kin of ryeFrom(development, folder, handbook, on)) write(kin)
  }
}

/** The development of a species with how the fit did where a place (or its season) was left out. */
function withFit(family: Family, fitted: FamilyFit, id: string): Development {
  const own = rows.filter((row) => row.species === id)
  const rape = id === "rapeseed"
  const needsCold = rape ? COLD_OF_RAPE : id.startsWith("winter") ? COLD_NEEDED : null
  const development = developmentOf(
    fitted,
    id,
    {
      how: "fitted",
      grade: "read+judgement",
      source: ["OBSERVED", ...family.sources],
      says: "from trials whose days were written down",
      fit: {
        data: DATA,
        on,
        rows: own.length,
        places: new Set(own.map((row) => row.site)).size,
        mae_days: leftOutError(id, own),
        leftOut: "a place at a time, a season at a time where a place has many",
      },
    },
    needsCold,
  )
  return rape ? { ...development, springTypes: true } : development
}

/** Mean error, days, over the lines of this species with all weather known. */
function leftOutError(id: string, own: readonly Row[]): number {
  const scores = LINES.filter((line) => line.species === id).flatMap(
    (line) => scoreLine(line, "all", own, folds, handbook, weather) ?? [],
  )
  const n = scores.reduce((sum, score) => sum + score.n, 0)
  return Number((scores.reduce((sum, score) => sum + score.mae * score.n, 0) / n).toFixed(1))
}

function write(development: Development): void {
  writeFileSync(new URL(`${development.id}.json`, out), `${JSON.stringify(development, null, 1)}\n`)
  const { fit } = development.clocks[0]!.basis
  console.log(
    `${development.id}: ${fit ? `${fit.rows} rows, ${fit.places} places, ${fit.mae_days} days off where left out` : "from its kin"}`,
  )
}
