import { describe, expect, it } from "vitest"
import { understand } from "../../src/replies/understand.ts"
import { dangersOf, isRight } from "./equality.ts"
import { contextFor, hasReference, REFERENCE, readCases, readGardens } from "./gardens.ts"

// The development cases lie in a folder of reference data beside the checkout and are no part of this project: without
// that folder these checks are skipped.
describe.skipIf(!hasReference)("the development cases beside this checkout", () => {
  it("are read exactly in 99 of 100 cases, and none dangerously", () => {
    const gardens = readGardens(new URL("replies-contexts.json", REFERENCE))
    const cases = readCases(new URL("replies.jsonl", REFERENCE))
    const wrong: string[] = []
    const dangerous: string[] = []
    for (const one of cases) {
      const garden = gardens[one.context]
      if (!garden) throw new Error(`no garden ${one.context}`)
      const { acts, ask, note } = understand(one.text, contextFor(garden, one.now, one.last))
      if (!isRight(one, { acts, ask, note }, garden)) wrong.push(`${one.id} ${one.text}`)
      if (dangersOf(one, { acts, ask, note }, garden).length > 0) dangerous.push(`${one.id} ${one.text}`)
    }
    expect(dangerous).toEqual([])
    expect(wrong.length, wrong.join("\n")).toBeLessThanOrEqual(cases.length / 100)
  })
})
