import { test } from "vitest"
import { holdAll } from "./invariants.ts"

test("100 random gardens and logs: windows ordered, nothing asked too late or too early, beds alone, undo exact", () => {
  holdAll({ numRuns: 100, seed: 42 })
}, 300_000)
