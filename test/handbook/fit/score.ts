/**
 * Tells how well fits foretell what they have not seen, line by line of the published baselines:
 *
 *   node test/handbook/fit/score.ts FOLDER [FAMILY]
 *
 * Each place (or season of a place of many) is left out of the fit in turn and foretold: with all weather known, standing 30
 * and 14 days before, and on the day of the last leaf, told of it, with and without the weather after it. Beside the errors
 * (days): those of the simple methods tried alike, how many of the days lie in their range, its width, and the width that days
 * from sowing would need to hold as many.
 * Writes nothing.
 */
import { pathToFileURL } from "node:url"
import { openHandbook } from "../../../src/handbook/open.ts"
import { foldsOf, type Mode, plainWidth, scoreLine } from "./cross-validate.ts"
import { FAMILIES } from "./families.ts"
import { LINES, type Line } from "./lines.ts"
import { plainErrors } from "./plain-methods.ts"
import { readRows, weatherOf } from "./rows.ts"

const [folderName, family] = process.argv.slice(2)
if (!folderName) {
  console.error("usage: node test/handbook/fit/score.ts FOLDER [FAMILY]")
  process.exit(2)
}
const SHOWN: readonly Mode[] = ["all", 30, 14, "leaf", "leaf, weather known"]
const folder = pathToFileURL(`${folderName}/`)
const handbook = openHandbook(new URL("../../../shared/", import.meta.url))
const rows = readRows(folder)
const weather = weatherOf(folder, handbook)
const families = FAMILIES.filter((one) => family === undefined || one.name === family)
const ids = new Set(families.flatMap((one) => Object.keys(one.species)))
const folds = foldsOf(rows, weather, families)

for (const line of LINES) {
  if (!ids.has(line.species)) continue
  for (const mode of SHOWN) {
    const score = scoreLine(line, mode, rows, folds, handbook, weather)
    if (!score) continue
    const { n, mae, rmse, bias, cover, width, none } = score
    const plain = mode === "all" ? `, days from sowing ${plainWidth(line, rows, cover).toFixed(0)} wide` : ""
    console.log(
      `${line.name}; ${mode}: ${n} rows, off ${mae.toFixed(2)} (rmse ${rmse.toFixed(2)}, bias ${bias.toFixed(2)})` +
        `${line.baseline === null || mode !== "all" ? "" : `, published ${line.baseline}`}${besides(line, mode)}` +
        `, ${Math.round(cover * 100)} % inside ${width.toFixed(1)} days${plain}${none > 0 ? `, ${none} not foretold` : ""}`,
    )
  }
}

/** The errors of the simple methods in a mode that they, too, can stand in. */
function besides(line: Line, mode: Mode): string {
  if (mode !== "all" && typeof mode !== "number") return ""
  const errors = plainErrors(line, mode === "all" ? null : mode, rows, weather)
  if (!errors) return ""
  return ` [${Object.entries(errors)
    .map(([method, error]) => `${method} ${error.toFixed(1)}`)
    .join("; ")}]`
}
