import { expect, test } from "vitest"
import type { Species } from "../../../src/handbook/species.ts"
import { allSpecies, complaints, copyOf } from "./entries.ts"

/** A stage that does not come has no days and says why; one that comes has days, a sum or a calendar. */
function rule(species: Species): string[] {
  return species.flowering.flatMap((one) => {
    const reckoned = one.days ?? one.degreeDays ?? one.calendar
    if (one.comes) return reckoned ? [] : [`${one.stage} sown in ${one.sown} comes, but nothing says when`]
    if (reckoned) return [`${one.stage} sown in ${one.sown} does not come, but has days`]
    return one.note ? [] : [`${one.stage} sown in ${one.sown} does not come, but nothing says why`]
  })
}

test("a stage either comes with a time or does not come with a reason", () => {
  expect(complaints(allSpecies, rule)).toEqual([])
})

test("days of a stage that does not come are caught", () => {
  const species = copyOf("winter-rye")
  for (const one of species.flowering) one.comes = false
  expect(rule(species)).toContain("heading sown in autumn does not come, but has days")
})
