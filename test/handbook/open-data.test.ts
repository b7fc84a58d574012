import { cpSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs"
import { tmpdir } from "node:os"
import { join } from "node:path"
import { afterEach, expect, test } from "vitest"
import { openHandbook } from "../../src/handbook/open.ts"
import { WrongInput } from "../../src/values/problem.ts"
import { handbook, sharedFolder } from "./shared.ts"

const copies: string[] = []
afterEach(() => {
  for (const copy of copies.splice(0)) rmSync(copy, { recursive: true })
})

/** A copy of the reference data, without the climates, to break. */
function copyOfShared(): string {
  const copy = mkdtempSync(join(tmpdir(), "handbook-"))
  copies.push(copy)
  for (const name of ["species", "crops", "sources.json"])
    cpSync(new URL(name, sharedFolder), join(copy, name), { recursive: true })
  return copy
}

function problemsOf(folder: string): string[] {
  try {
    openHandbook(folder)
  } catch (error) {
    if (error instanceof WrongInput) return error.message.split("\n")
    throw error
  }
  return []
}

test("every file of species and crops is known by the id it is called by", () => {
  for (const [folder, entries] of [
    ["species", handbook.species],
    ["crops", handbook.crops],
  ] as const) {
    const files = readdirSync(new URL(`${folder}/`, sharedFolder)).map((name) => name.replace(/\.json$/, ""))
    expect([...entries.keys()]).toEqual(files.sort())
    for (const [id, entry] of entries) expect(entry.id).toBe(id)
  }
})

test("a copy of the data opens, without development and climates", () => {
  const copy = openHandbook(copyOfShared())
  expect(copy.species.size).toBe(handbook.species.size)
  expect(copy.development.size).toBe(0)
})

test("a file under another name than its id is named", () => {
  const copy = copyOfShared()
  cpSync(join(copy, "species/oats.json"), join(copy, "species/haver.json"))
  expect(problemsOf(copy)).toEqual(["species/haver.json:1:1: id: found oats, expected haver, as the file is called."])
})

test("every problem of every file is told at once, with file and field", () => {
  const copy = copyOfShared()
  const broken = JSON.parse(readFileSync(join(copy, "species/flax.json"), "utf8"))
  broken.kind = "shrub"
  broken.seeding.depth_cm.low = "shallow"
  broken.colour = "blue"
  writeFileSync(join(copy, "species/flax.json"), JSON.stringify(broken))
  writeFileSync(join(copy, "crops/tomato.json"), "{")
  const problems = problemsOf(copy)
  expect(problems).toHaveLength(4)
  expect(problems[0]).toMatch(/^species\/flax\.json:1:1: kind: found "shrub", expected .*"broadleaf"/)
  expect(problems[1]).toMatch(/^species\/flax\.json:1:1: seeding\.depth_cm\.low: found "shallow", expected .*number/)
  expect(problems[2]).toMatch(/^species\/flax\.json:1:1: found .*colour/)
  expect(problems[3]).toMatch(/^crops\/tomato\.json:1:1: found .*, expected a JSON file\.$/)
})

test("a folder without data is refused in words", () => {
  const copy = copyOfShared()
  rmSync(join(copy, "sources.json"))
  expect(problemsOf(copy)).toEqual([
    expect.stringMatching(/sources\.json:1:1: found no file that can be read, expected a JSON file\.$/),
  ])
})

test("a table is read when it is asked for, and a missing one is refused in words", () => {
  const copy = copyOfShared()
  expect(() => openHandbook(copy).table("no-such-table")).toThrow(/tables\/no-such-table\.json/)
})
