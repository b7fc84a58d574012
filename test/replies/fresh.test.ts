import { describe, expect, it } from "vitest"
import { understand } from "../../src/replies/understand.ts"
import { dangersOf, isRight } from "./equality.ts"
import { checkShape, contextFor, FRESH, readCases, readGardens } from "./gardens.ts"

const FIXTURES = new URL("../fixtures/replies/", import.meta.url)

describe.each(FRESH)("replies written before the reader was tried: %s", (name) => {
  const gardens = readGardens(new URL(`${name}-contexts.json`, FIXTURES))
  const cases = readCases(new URL(`${name}.jsonl`, FIXTURES))

  it.each(cases.map((one) => [one.text, one] as const))("%s", (_, one) => {
    const garden = gardens[one.context]
    if (!garden) throw new Error(`no garden ${one.context}`)
    const { acts, ask, note } = understand(one.text, contextFor(garden, one.now, one.last))
    checkShape({ acts, ask, note })
    expect(dangersOf(one, { acts, ask, note }, garden)).toEqual([])
    if (!isRight(one, { acts, ask, note }, garden)) expect({ acts, ask, note }).toEqual(one.expect)
  })
})
