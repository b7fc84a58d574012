import { test } from "vitest"
import { holdAll } from "./invariants.ts"

test("10,000 random gardens and logs: windows ordered, nothing asked too late or too early, beds alone, undo exact", () => {
  holdAll({ numRuns: 10_000 })
}, 7_200_000)
