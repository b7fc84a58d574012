import { expect, it } from "vitest"
import { flipAndOpen } from "./flips.ts"
import { temporaryFolders } from "./folders.ts"

const temporary = temporaryFolders()

it("finds a damaged byte or holds every word, in 1000 places (S13)", async () => {
  const found = await flipAndOpen(temporary(), 1000, 99)
  console.log(`1000 bits flipped: ${found} times refused as damaged, the other times of no account`)
  expect(found).toBeGreaterThan(400)
})
