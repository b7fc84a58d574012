import { describe, expect, it } from "vitest"
import { understand } from "../../src/replies/understand.ts"
import { dangersOf, isRight } from "./equality.ts"
import { checkShape, contextFor, readCases, readGardens } from "./gardens.ts"

// Replies that were written before anyone saw how they would be read, in gardens of their own; all invented, no source.
const FIXTURES = new URL("../fixtures/replies/", import.meta.url)

describe.each(["fresh-1", "fresh-2", "fresh-3", "fresh-4", "fresh-5"])(
  "replies written before the reader was tried: %s",
  (name) => {
    const gardens = readGardens(new URL(`${name}-contexts.json`, FIXTURES))
    const cases = readCases(new URL(`${name}.jsonl`, FIXTURES))

    it.each(cases.map((one) => [one.text, one] as const))("%s", (_, one) => {
      const garden = gardens[one.context]
      if (!garden) throw new Error(`no garden ${one.context}`)
      const { acts, ask, note } = understand(one.text, contextFor(garden, one.now))
      checkShape({ acts, ask, note })
      expect(dangersOf(one, { acts, ask, note }, garden)).toEqual([])
      if (!isRight(one, { acts, ask, note }, garden)) expect({ acts, ask, note }).toEqual(one.expect)
    })
  },
)
