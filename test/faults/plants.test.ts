import { readFileSync } from "node:fs"
import { describe, expect, it } from "vitest"
import { BUGS } from "./bugs.ts"
import { STEP_NAMES } from "./steps.ts"

/** The judge is tried on these in faults.slow.ts; here only that each still finds its place, so that a change of the source tells at once. */
describe("the planted bugs", () => {
  it("are twelve or more", () => expect(Object.keys(BUGS).length).toBeGreaterThanOrEqual(12))

  it.each(Object.entries(BUGS))("%s stands in the source exactly once", (_, { plants }) => {
    for (const { file, from } of plants) {
      const source = readFileSync(new URL(`../../src/${file}`, import.meta.url), "utf8")
      expect(source.split(from).length - 1, `${file}: ${from}`).toBe(1)
    }
  })
})

it("the steps at which the program is killed are thirty-five or more", () => {
  expect(STEP_NAMES.length).toBeGreaterThanOrEqual(35)
})
