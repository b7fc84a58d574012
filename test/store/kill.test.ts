import { expect, it } from "vitest"
import { temporaryFolders } from "./folders.ts"
import { killAgainAndAgain } from "./kills.ts"

const folder = temporaryFolders()

it("loses and doubles nothing that it acknowledged in 5 kills at any moment", async () => {
  const verdict = await killAgainAndAgain(folder(), 5, 1)
  expect(verdict).toMatchObject({ missing: [], doubled: [] })
  expect(verdict.acknowledged).toBeGreaterThan(20)
})
