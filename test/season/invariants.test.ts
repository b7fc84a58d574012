import { describe, test } from "vitest"
import { holdAll, undoRestores } from "./invariants.ts"

describe("under 100 random gardens and logs", () => {
  test("windows are ordered, nothing is asked too late or too early, beds stand alone, sentences are plain", () => {
    holdAll({ numRuns: 100, seed: 42 })
  }, 300_000)
  test("an undo restores the plan byte for byte", () => {
    undoRestores({ numRuns: 100, seed: 42 })
  }, 300_000)
})
