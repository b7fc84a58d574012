import { existsSync, readFileSync } from "node:fs"
import { describe, expect, it } from "vitest"
import { FAILURES } from "./failures.ts"

const here = new URL("./", import.meta.url)
/** The list itself, which lies beside the checkout where there is one. */
const list = new URL("../../shared/reference/failures.md", import.meta.url)
const COUNTS = { T: 21, D: 22, P: 30, M: 14, S: 18, C: 13, X: 20, O: 15 }

/** Where a name is given to a test or to a group of them. */
function names(source: string, name: string): boolean {
  return [`"${name}"`, `\`${name}\``].some((quoted) => source.includes(quoted))
}

describe("the ways in which such programs fail", () => {
  it("are a hundred and fifty-three, each with its tests or the reason why it has none", () => {
    const ids = Object.entries(COUNTS).flatMap(([group, most]) =>
      Array.from({ length: most }, (_, i) => `${group}${i + 1}`),
    )
    expect(ids).toHaveLength(153)
    expect(Object.keys(FAILURES)).toEqual(ids)
    for (const [id, answer] of Object.entries(FAILURES))
      if ("none" in answer) expect(answer.none.length, id).toBeGreaterThan(40)
      else expect(answer.length, id).toBeGreaterThan(0)
  })

  it.runIf(existsSync(list))("are those of the list, no more and no fewer", () => {
    const ids = [...readFileSync(list, "utf8").matchAll(/^\| ([TDPMSCXO]\d+) \|/gm)].map((found) => found[1])
    expect(Object.keys(FAILURES)).toEqual(ids)
  })

  it("name tests that stand in the files they name", () => {
    const missing = Object.entries(FAILURES).flatMap(([id, answer]) => {
      if ("none" in answer) return []
      return answer.flatMap((each) => {
        const at = each.indexOf(" > ")
        const file = new URL(each.slice(0, at), here)
        const found = at > 0 && existsSync(file) && names(readFileSync(file, "utf8"), each.slice(at + 3))
        return found ? [] : [`${id}: ${each}`]
      })
    })
    expect(missing).toEqual([])
  })
})
