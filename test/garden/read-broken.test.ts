import { readdirSync, readFileSync } from "node:fs"
import { describe, expect, it } from "vitest"
import { readGarden } from "../../src/garden/read.ts"
import { openHandbook } from "../../src/handbook/open.ts"
import { type Problem, showProblem } from "../../src/values/problem.ts"

const handbook = openHandbook(new URL("../../shared/", import.meta.url))
const folder = new URL("../fixtures/gardens/broken/", import.meta.url)
const files = readdirSync(folder).filter((name) => !name.endsWith(".expected.json"))

type Expected = { code: string; line: number; column: number; nearest?: string }

function inShort({ code, place, nearest }: Problem): Expected {
  return { code, line: place?.line ?? 0, column: place?.column ?? 0, ...(nearest ? { nearest } : {}) }
}

describe("a broken garden file", () => {
  it("stands in the fixtures at least 25 times", () => {
    expect(files.length).toBeGreaterThanOrEqual(25)
  })

  it.each(files)("%s gives all of its problems at once, each with its place and nearest word", (name) => {
    const expected = JSON.parse(readFileSync(new URL(name.replace(/\.[a-z]+$/, ".expected.json"), folder), "utf8"))
    const read = readGarden(readFileSync(new URL(name, folder), "utf8"), name, handbook)
    expect(("problems" in read ? read.problems : []).map(inShort)).toEqual(expected.problems)
    expect(read.warnings.map(inShort)).toEqual(expected.warnings)
    expect(expected.problems.length + expected.warnings.length).toBeGreaterThan(0)
  })

  it.each(files)(
    "%s is told in one line a problem, without control characters, naming what was found and expected",
    (name) => {
      const read = readGarden(readFileSync(new URL(name, folder), "utf8"), name, handbook)
      for (const problem of [...("problems" in read ? read.problems : []), ...read.warnings]) {
        const shown = showProblem(problem)
        expect(shown).toMatch(new RegExp(`^${name.replaceAll(".", "\\.")}:\\d+:\\d+: .*found .+, expected .+\\.`))
        expect(shown).not.toMatch(/\p{Cc}/u)
      }
    },
  )
})
