import { expect, it } from "vitest"
import { temporaryFolders } from "./folders.ts"
import { killAgainAndAgain } from "./kills.ts"

const folder = temporaryFolders()

it("loses and doubles nothing that it acknowledged in 50 kills at any moment", async () => {
  const verdict = await killAgainAndAgain(folder(), 50, 20260513)
  console.log(
    `50 kills, ${verdict.acknowledged} acknowledgements, ${verdict.missing.length} missing, ${verdict.doubled.length} doubled`,
  )
  expect(verdict).toMatchObject({ missing: [], doubled: [] })
  expect(verdict.acknowledged).toBeGreaterThan(1000)
})
