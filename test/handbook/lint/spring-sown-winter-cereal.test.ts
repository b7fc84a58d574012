import { expect, test } from "vitest"
import type { Species } from "../../../src/handbook/species.ts"
import { allSpecies, complaints, copyOf } from "./entries.ts"

/**
 * A cereal that needs winter cold does not head from a spring sowing. Source: Utah State University Extension,
 * Horticulture/Home/2012-01pr ("Using Winter Grain as a Cover Crop in the Home Garden"), and the Missouri table.
 */
function rule(species: Species): string[] {
  if (species.kind !== "grass" || species.vernalization !== "required") return []
  const spring = species.flowering.filter(({ sown }) => sown === "spring")
  if (spring.length === 0) return ["does not say that it stays leafy when sown in spring"]
  return spring.filter(({ comes }) => comes).map(({ stage }) => `${stage} comes from a spring sowing`)
}

test("winter rye, winter wheat and triticale sown in spring do not head", () => {
  expect(complaints(allSpecies, rule)).toEqual([])
  const cereals = allSpecies.filter(({ kind, vernalization }) => kind === "grass" && vernalization === "required")
  expect(cereals.map(({ id }) => id)).toEqual(["triticale", "winter-rye", "winter-wheat"])
})

test("a winter cereal that heads from spring is caught", () => {
  const species = copyOf("triticale")
  for (const one of species.flowering) one.comes = true
  expect(rule(species)).toEqual(["heading comes from a spring sowing", "first-flower comes from a spring sowing"])
})
