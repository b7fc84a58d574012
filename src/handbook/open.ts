import { existsSync, readdirSync, readFileSync } from "node:fs"
import { pathToFileURL } from "node:url"
import type { z } from "zod"
import { type Problem, WrongInput } from "../values/problem.ts"
import { joinSchema, lazyClimates } from "./climates.ts"
import { cropSchema } from "./crop.ts"
import { developmentSchema } from "./development.ts"
import type { Handbook, Source } from "./handbook.ts"
import { sourcesSchema } from "./source.ts"
import { speciesSchema } from "./species.ts"

/**
 * Reads the reference data of `folder` (the project's `shared/`) once: species, crops, development and sources at once;
 * climates and tables at the first question about them.
 * Throws `WrongInput` with every problem of every file, each naming its file and field.
 */
export function openHandbook(folder: URL | string): Handbook {
  const shared = folderUrl(folder)
  const problems: Problem[] = []
  const species = readFolder(new URL("species/", shared), speciesSchema, problems)
  const crops = readFolder(new URL("crops/", shared), cropSchema, problems)
  const development = readFolder(new URL("development/", shared), developmentSchema, problems)
  const read = readFile(new URL("sources.json", shared), sourcesSchema, problems) ?? {}
  if (problems.length > 0) throw new WrongInput(problems)
  const sources = new Map(Object.entries(read).map(([key, source]) => [key, { key, ...source } as Source]))
  const tables = new Map<string, unknown>()
  return {
    species,
    crops,
    development,
    sources,
    climates: lazyClimates(() => climateTexts(new URL("climates/", shared))),
    table: (name) => {
      if (!tables.has(name)) tables.set(name, readTable(new URL(`tables/${name}.json`, shared)))
      return tables.get(name)
    },
  }
}

function folderUrl(folder: URL | string): URL {
  const url = typeof folder === "string" ? pathToFileURL(folder) : folder
  return url.href.endsWith("/") ? url : new URL(`${url.href}/`)
}

/** Every JSON file of a folder, by id; the id must be the file's name. A folder that does not exist is empty. */
function readFolder<Entry extends { id: string }>(folder: URL, schema: z.ZodType<Entry>, problems: Problem[]) {
  const entries = new Map<string, Entry>()
  if (!existsSync(folder)) return entries
  for (const name of readdirSync(folder).sort()) {
    if (!name.endsWith(".json")) continue
    const entry = readFile(new URL(name, folder), schema, problems)
    if (!entry) continue
    const id = name.slice(0, -".json".length)
    if (entry.id !== id) problems.push(problem(new URL(name, folder), "id", entry.id, `${id}, as the file is called`))
    entries.set(id, entry)
  }
  return entries
}

/** One JSON file through its schema; undefined, with the problems added, where it does not fit. */
function readFile<Value>(file: URL, schema: z.ZodType<Value>, problems: Problem[]): Value | undefined {
  const value = readJson(file, problems)
  if (value === undefined) return undefined
  const result = schema.safeParse(value)
  if (result.success) return result.data
  for (const issue of result.error.issues) {
    const field = issue.path.map(String).join(".")
    problems.push(problem(file, field, found(value, issue.path), issue.message))
  }
  return undefined
}

function readJson(file: URL, problems: Problem[]): unknown {
  try {
    return JSON.parse(readFileSync(file, "utf8"))
  } catch (error) {
    const what = error instanceof SyntaxError ? error.message : "no file that can be read"
    problems.push(problem(file, "", what, "a JSON file"))
    return undefined
  }
}

function readTable(file: URL): unknown {
  const problems: Problem[] = []
  const table = readJson(file, problems)
  if (problems.length > 0) throw new WrongInput(problems)
  return table
}

function climateTexts(folder: URL) {
  const problems: Problem[] = []
  const join = readFile(new URL("join.json", folder), joinSchema, problems)
  if (!join) throw new WrongInput(problems)
  const text = (name: string) => readFileSync(new URL(name, folder), "utf8")
  return {
    stations: [
      { source: "NOAA-NORMALS", text: text("us.txt") },
      { source: "DWD-CLIMAT", text: text("world.txt") },
    ],
    spread: text("spread.txt"),
    join,
  }
}

function problem(file: URL, field: string, found: string, expected: string): Problem {
  const name = decodeURIComponent(file.pathname.split("/").slice(-2).join("/"))
  return { code: "wrong-data", place: { file: name, line: 1, column: 1 }, field, found, expected }
}

function found(value: unknown, path: readonly PropertyKey[]): string {
  let at: unknown = value
  for (const step of path) at = at === null || typeof at !== "object" ? undefined : Reflect.get(at, step)
  return at === undefined ? "nothing" : JSON.stringify(at).slice(0, 80)
}
