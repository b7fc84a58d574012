import { expect, test } from "vitest"
import { allCrops, allSpecies } from "./entries.ts"

/** Enough to choose from: at least 30 covers and 40 crops, with the commonest among them. */
function rule(speciesIds: readonly string[], cropIds: readonly string[]): string[] {
  const missing = ["winter-rye", "hairy-vetch", "oats", "field-pea", "buckwheat", "spring-wheat", "daikon-radish"]
  return [
    ...(speciesIds.length >= 30 ? [] : [`only ${speciesIds.length} species`]),
    ...(cropIds.length >= 40 ? [] : [`only ${cropIds.length} crops`]),
    ...missing.filter((id) => !speciesIds.includes(id)).map((id) => `no ${id}`),
  ]
}
const ids = (entries: readonly { id: string }[]) => entries.map(({ id }) => id)

test("there are enough species and crops", () => {
  expect(rule(ids(allSpecies), ids(allCrops))).toEqual([])
})

test("a lost species is caught", () => {
  expect(
    rule(
      ids(allSpecies)
        .filter((id) => id !== "oats")
        .slice(0, 20),
      [],
    ),
  ).toContain("no oats")
})
