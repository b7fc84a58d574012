import { expect, test } from "vitest"
import { allEntries, complaints, copyOf, type Entry, figuresOf } from "./entries.ts"

/** low <= likely <= high in every figure. */
function rule(entry: Entry): string[] {
  return figuresOf(entry)
    .filter(({ figure: { low, likely, high } }) => !(low <= (likely ?? low) && (likely ?? low) <= high))
    .map(({ path, figure: { low, likely, high } }) => `${path} runs ${low}, ${likely}, ${high}`)
}

test("every range runs from low over likely to high", () => {
  expect(complaints(allEntries, rule)).toEqual([])
})

test("a range the wrong way round is caught, in others too", () => {
  const species = copyOf("winter-rye")
  species.seeding.depth_cm = { ...species.seeding.depth_cm, low: 9 }
  species.seeding.broadcast_g_per_m2.others![0]!.low = 99
  expect(rule(species)).toHaveLength(2)
})
