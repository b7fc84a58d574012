import { readFileSync } from "node:fs"
import { describe, expect, it } from "vitest"
import { gardenFileJsonSchema } from "../../src/garden/garden-file-schema.ts"
import { readGarden } from "../../src/garden/read.ts"
import { nearestKey } from "../../src/garden/read-issues.ts"
import { readTree, type Tree } from "../../src/garden/read-tree.ts"
import { openHandbook } from "../../src/handbook/open.ts"
import { slips } from "../../src/values/nearest.ts"

const handbook = openHandbook(new URL("../../shared/", import.meta.url))
const whole = readFileSync(new URL("../fixtures/gardens/all-keys.yaml", import.meta.url), "utf8")

type JsonSchema = { properties?: Record<string, JsonSchema>; items?: JsonSchema; anyOf?: JsonSchema[] }

/** The keys of each kind of map in the file, from its JSON Schema. */
function keySets(schema: JsonSchema): string[][] {
  const below = [
    ...Object.values(schema.properties ?? {}),
    ...(schema.items ? [schema.items] : []),
    ...(schema.anyOf ?? []),
  ]
  return [...(schema.properties ? [Object.keys(schema.properties)] : []), ...below.flatMap(keySets)]
}
const sets = keySets(gardenFileJsonSchema(handbook) as JsonSchema)

/** Every key of the file that stands at a place, save the species, which are no keys of ours. */
function keysOf(tree: Tree, inSpecies = false): { key: string; line: number; column: number }[] {
  if (tree.is === "list") return tree.items.flatMap((item) => keysOf(item))
  if (tree.is !== "keys") return []
  return [...tree.entries].flatMap(([key, { at, value }]) => [
    ...(inSpecies ? [] : [{ key, line: at.line, column: at.column }]),
    ...keysOf(value, key === "species"),
  ])
}

const LETTERS = [..."abcdefghijklmnopqrstuvwxyz"]

/** Every word that is one slip away: a letter left out, doubled or added, another in its place, two swapped. */
function slipsOf(key: string, letters: readonly string[]): string[] {
  const found = new Set<string>()
  for (let i = 0; i <= key.length; i += 1) {
    const [before, after] = [key.slice(0, i), key.slice(i)]
    if (after !== "") found.add(before + after.slice(1))
    if (after.length > 1) found.add(before + after[1]! + after[0]! + after.slice(2))
    for (const letter of letters) {
      found.add(before + letter + after)
      if (after !== "") found.add(before + letter + after.slice(1))
    }
  }
  found.delete(key)
  found.delete("")
  return [...found]
}

describe("a slip in a key (failure C1)", () => {
  it("is tried on every key that the file may hold", () => {
    const tried = new Set(keysOf(readTree(whole, "x.yaml").tree!).map(({ key }) => key))
    expect([...new Set(sets.flat())].filter((key) => !tried.has(key))).toEqual([])
    expect("garden" in readGarden(whole, "x.yaml", handbook)).toBe(true)
  })

  it("names the key itself as nearest, for each key and each single slip", () => {
    const astray: string[] = []
    let tried = 0
    for (const keys of sets) {
      for (const key of keys) {
        const others = keys.filter((other) => other !== key)
        for (const slip of slipsOf(key, LETTERS)) {
          if (keys.includes(slip)) continue
          tried += 1
          expect(slips(slip, key)).toBe(1)
          if (nearestKey(slip, keys, [...others, slip]) !== key) astray.push(`${slip} for ${key}`)
        }
      }
    }
    expect(astray).toEqual([])
    expect(tried).toBeGreaterThan(10_000)
  })

  it("is told with its line and column in the whole file, for each key", () => {
    const lines = whole.split("\n")
    const firstMonthOnly = keysOf(readTree(whole, "x.yaml").tree!).filter(({ line }) => line <= 11 || line > 22)
    for (const { key, line, column } of firstMonthOnly) {
      for (const slip of slipsOf(key, ["z"]).filter((word) => /^[\w$]+$/.test(word))) {
        const text = lines[line - 1]!
        const slipped = text.slice(0, column - 1) + slip + text.slice(column - 1 + key.length)
        const read = readGarden(
          [...lines.slice(0, line - 1), slipped, ...lines.slice(line)].join("\n"),
          "x.yaml",
          handbook,
        )
        const unknown = "problems" in read ? read.problems.filter((problem) => problem.code === "unknown-key") : []
        expect(unknown).toEqual([
          expect.objectContaining({ place: { file: "x.yaml", line, column }, found: `the key ${slip}`, nearest: key }),
        ])
      }
    }
  })

  it("that puts a key in a wrong place says where it belongs", () => {
    const read = readGarden("garden: A\nplace: { latitude: 1 }\nlongitude: 2\nsize: 3 m2\n", "x.yaml", handbook)
    const unknown = "problems" in read ? read.problems.filter((problem) => problem.code === "unknown-key") : []
    expect(unknown.map((problem) => problem.expected)).toEqual([
      expect.stringContaining("longitude belongs under place"),
      expect.stringContaining("size belongs under beds"),
    ])
  })
})
