import { existsSync, mkdirSync, readdirSync, readFileSync, statSync, writeFileSync } from "node:fs"
import { join } from "node:path"
import { z } from "zod"
import type { Entry } from "../garden/entry.ts"
import { readGarden } from "../garden/read.ts"
import { logLine, readLogLines } from "../garden/read-log.ts"
import type { Handbook } from "../handbook/handbook.ts"
import { CouldNot, type Problem, WrongInput } from "../values/problem.ts"

/** Which garden each came by; a folder without it has gardens that came by none. */
const LIST = "gardens.json"
const listSchema = z.array(z.strictObject({ id: z.string(), host: z.string().nullable() }))

/** Gardens as a folder holds them: the text of each garden file, and each garden's whole log. */
export type GardenFolder = {
  gardens: { id: string; host: string | null; text: string }[]
  logs: { garden: string; entries: readonly Entry[] }[]
}

/** Writes gardens into a folder: `ID.yaml`, `ID.log.jsonl`, `gardens.json`. CouldNot where anything of that name is there already. */
export function writeFolder(folder: string, { gardens, logs }: GardenFolder): string[] {
  const files: [string, string][] = [
    [
      LIST,
      `${JSON.stringify(
        gardens.map(({ id, host }) => ({ id, host })),
        null,
        2,
      )}\n`,
    ],
    ...gardens.map(({ id, text }): [string, string] => [`${id}.yaml`, text]),
    ...logs.map(({ garden, entries }): [string, string] => [
      `${garden}.log.jsonl`,
      entries.map((entry) => `${logLine(entry)}\n`).join(""),
    ]),
  ]
  mkdirSync(folder, { recursive: true })
  const there = files.map(([name]) => join(folder, name)).find((file) => existsSync(file))
  if (there) throw new CouldNot(`${there} is there already and was left alone. Name an empty folder.`)
  for (const [name, content] of files) writeFileSync(join(folder, name), content, { flag: "wx" })
  return files.map(([name]) => join(folder, name))
}

/**
 * Reads a folder of garden files, and of logs where there are any. Every problem of every file is told at once; nothing is
 * taken of a folder with problems. CouldNot where the folder holds neither.
 */
export function readFolder(folder: string, handbook: Handbook): GardenFolder {
  if (!existsSync(folder) || !statSync(folder).isDirectory()) throw new CouldNot(`There is no folder ${folder}.`)
  const problems: Problem[] = []
  const names = readdirSync(folder).sort()
  const hosts = hostsIn(folder)
  const gardens: GardenFolder["gardens"] = []
  for (const name of names.filter((each) => /^[^.#~].*\.ya?ml$/i.test(each))) {
    const file = join(folder, name)
    const text = readFileSync(file, "utf8")
    const read = readGarden(text, file, handbook)
    if ("problems" in read) problems.push(...read.problems)
    else gardens.push({ id: read.garden.id, host: hosts.get(read.garden.id) ?? null, text })
  }
  const logs: GardenFolder["logs"] = []
  for (const name of names.filter((each) => each.endsWith(".log.jsonl"))) {
    const file = join(folder, name)
    const garden = name.slice(0, -".log.jsonl".length)
    const { entries } = readLogLines(readFileSync(file, "utf8"), file)
    problems.push(...entries.flatMap((entry, i) => logProblem(entry, i, garden, file)))
    logs.push({ garden, entries })
  }
  if (problems.length > 0) throw new WrongInput(problems)
  if (gardens.length === 0 && logs.length === 0)
    throw new CouldNot(
      `There is nothing to take in: no garden file (NAME.yaml) and no log (NAME.log.jsonl) in ${folder}.`,
    )
  return { gardens, logs }
}

function hostsIn(folder: string): Map<string, string | null> {
  const file = join(folder, LIST)
  if (!existsSync(file)) return new Map()
  let list: unknown
  try {
    list = JSON.parse(readFileSync(file, "utf8"))
  } catch {
    list = null
  }
  const read = listSchema.safeParse(list)
  if (read.success) return new Map(read.data.map(({ id, host }) => [id, host]))
  const place = { file, line: 1, column: 1 }
  const expected = "a list of { id, host }, as an export writes it"
  throw new WrongInput([{ code: "list", place, field: "", found: "something else", expected }])
}

/** A log is taken in whole: its numbers begin with 1 and have no holes, and all of it is one garden's. */
function logProblem(entry: Entry, i: number, garden: string, file: string): Problem[] {
  const place = { file, line: i + 1, column: 1 }
  if (entry.garden !== garden)
    return [
      {
        code: "other-garden",
        place,
        field: "garden",
        found: entry.garden,
        expected: `${garden}, as the file's name says`,
      },
    ]
  if (entry.seq !== i + 1)
    return [
      {
        code: "order",
        place,
        field: "seq",
        found: String(entry.seq),
        expected: `${i + 1}: a whole log, from 1 without holes`,
      },
    ]
  return []
}
