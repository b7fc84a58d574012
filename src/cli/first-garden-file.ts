import {
  accessSync,
  closeSync,
  constants,
  existsSync,
  fsyncSync,
  linkSync,
  mkdirSync,
  openSync,
  statSync,
  unlinkSync,
  writeSync,
} from "node:fs"
import { dirname, join, relative, resolve } from "node:path"
import type { Spot } from "../garden/first-answers.ts"
import type { BedKind, DateOrder, Units } from "../garden/garden.ts"
import type { Day } from "../values/day.ts"
import { CouldNot } from "../values/problem.ts"

/** What was learnt in the conversation of the first start. */
export type FirstGarden = {
  spot: Spot
  zone: string
  units: Units
  dates: DateOrder
  person: { id: string; name: string; phone: string | null; email: string | null }
  beds: FirstBed[]
}

export type FirstBed = { id: string; name: string; kind: BedKind; size: string; sowing: FirstSowing | null }

export type FirstSowing = {
  on: Day
  isSown: boolean
  species: { id: string; share: number | null }[]
  next: { crop: string; wanted: Day | null } | null
}

/** The text of a garden file, with comments on what may be changed. */
export function firstGardenText(garden: FirstGarden, schema: string | null): string {
  const { spot, person } = garden
  const station = `  # A weather station near you (${spot.name}); put your own latitude and longitude here if you know them.`
  const lines = [
    ...(schema ? [`# yaml-language-server: $schema=${schema}`] : []),
    "# The garden file: change it with any editor. It is read again whenever it is saved; a slip is told with its line",
    "# and what would be right, and until it is mended the last good file is used. Days are YYYY-MM-DD.",
    `garden: ${quoted(gardenName(person.name))}`,
    "place:",
    ...(spot.name ? [station] : []),
    withNote(`  latitude: ${spot.lat}`, "south of the equator is negative"),
    withNote(`  longitude: ${spot.lon}`, "west of Greenwich is negative"),
    `  zone: ${garden.zone}`,
    withNote(`  units: ${garden.units}`, "us | metric"),
    withNote(`  dates: ${garden.dates}`, "month-first | day-first: how 5/6 is read and written"),
    withNote(
      "  # frost: { last: 05-04, first: 10-12 }",
      "average last and first frost, MM-DD, if you know them better",
    ),
    "people:",
    `  - id: ${quoted(person.id)}`,
    `    name: ${quoted(person.name)}`,
    person.phone
      ? `    phone: "${person.phone}"`
      : withNote('    # phone: "+12025550123"', "with it, nudges come as texts"),
    person.email
      ? `    email: ${quoted(person.email)}`
      : withNote("    # email: you@example.org", "with it, a weekly mail comes"),
    withNote('    texts: { from: "08:00", to: "19:30", most: 2 }', "hours and number a day"),
    "beds:",
    ...garden.beds.flatMap(bedLines),
  ]
  return `${lines.join("\n")}\n`
}

function withNote(line: string, note: string): string {
  return `${line.padEnd(34)} # ${note}`
}

function bedLines(bed: FirstBed): string[] {
  return [
    `  - id: ${quoted(bed.id)}`,
    `    name: ${quoted(bed.name)}`,
    withNote("    # also: [other, words]", "what else you call it in replies"),
    withNote(`    kind: ${bed.kind}`, "raised | plot | greenhouse"),
    `    size: ${quoted(bed.size)}`,
    ...(bed.sowing ? ["    sowings:", ...sowingLines(bed.sowing)] : ["    sowings: []"]),
  ]
}

function sowingLines({ on, isSown, species, next }: FirstSowing): string[] {
  const shares = `{ ${species.map(({ id, share }) => `${id}: ${share}`).join(", ")} }`
  const isShared = species.every(({ share }) => share !== null)
  return [
    isSown ? `      - sown: ${on}` : withNote(`      - planned: ${on}`, "sown: DAY once it is in the ground"),
    isShared
      ? withNote(`        species: ${shares}`, "shares of seed weight")
      : `        species: [${species.map(({ id }) => id).join(", ")}]`,
    withNote("        then: leave", "leave | carry-off | turn-in | tarp: what becomes of the tops after the cut"),
    ...(next ? [`        next: { crop: ${next.crop}${next.wanted ? `, wanted: ${next.wanted}` : ""} }`] : []),
  ]
}

function gardenName(person: string): string {
  const name = `${person}'s garden`
  return [...name].length <= 40 ? name : "Our garden"
}

/** Words that other readers of YAML take for something else. */
const ODD = /^(?:true|false|yes|no|on|off|y|n|null|~)$/i

/** A scalar that every reader of YAML takes for text; in quotes only where it must be. */
function quoted(text: string): string {
  const isPlain = /^\p{L}[\p{L}\p{N} .,@'_-]*$/u.test(text) || /^\d[\d.,]* [\p{L}\p{N} .,²]*$/u.test(text)
  return isPlain && !ODD.test(text) ? text : JSON.stringify(text)
}

const SCHEMA = "shared/schemas/garden.json"

/** The way from a garden file to its schema in this project; null where the file lies outside of it. */
export function schemaFrom(file: string, project: string): string | null {
  const way = relative(dirname(resolve(file)), join(project, SCHEMA)).replaceAll("\\", "/")
  const isInside = !relative(project, resolve(file)).startsWith("..")
  return isInside && existsSync(join(project, SCHEMA)) ? way : null
}

/**
 * Writes a new garden file so that it is there whole or not at all: aside, flushed, then linked to its name. CouldNot
 * where a file of that name has appeared meanwhile, or the folder cannot be written.
 */
export function writeNewFile(file: string, text: string): void {
  const folder = dirname(file)
  const aside = `${file}.new-${process.pid}`
  try {
    mkdirSync(folder, { recursive: true })
    const handle = openSync(aside, "wx", 0o600)
    try {
      writeSync(handle, text)
      fsyncSync(handle)
    } finally {
      closeSync(handle)
    }
    // A link, unlike a rename, never takes the place of a file that is there.
    linkSync(aside, file)
  } catch (error) {
    throw unwritten(file, error)
  } finally {
    if (existsSync(aside)) unlinkSync(aside)
  }
}

/** Throws, before anything is asked, where the answers could not be written in the end. */
export function refuseUnwritable(file: string): void {
  let folder = dirname(resolve(file))
  while (!existsSync(folder) && dirname(folder) !== folder) folder = dirname(folder)
  try {
    if (!statSync(folder).isDirectory()) throw Object.assign(new Error(), { code: "ENOTDIR" })
    accessSync(folder, constants.W_OK)
  } catch (error) {
    throw unwritten(file, error)
  }
}

function unwritten(file: string, error: unknown): CouldNot {
  const code = error instanceof Error && "code" in error ? String(error.code) : String(error)
  const [why, next] =
    code === "EEXIST"
      ? ["a file of that name is there already", "Look into it, and start again."]
      : [
          `the folder cannot be written (${code})`,
          "Give this user the right to write there, or set RYEBELL_GARDEN to another place.",
        ]
  return new CouldNot(`Could not write ${file}: ${why}. Nothing was changed. ${next}`, { cause: error })
}
