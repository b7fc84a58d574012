import { expect, test } from "vitest"
import type { Species } from "../../../src/handbook/species.ts"
import { allSpecies, complaints, copyOf } from "./entries.ts"

/** Legumes name their inoculant group and their nitrogen; nothing else has either. Kind and family agree. */
function rule(species: Species): string[] {
  const legume = species.kind === "legume"
  const families = { legume: "Fabaceae", grass: "Poaceae", brassica: "Brassicaceae", broadleaf: "" }
  const family = families[species.kind]
  return [
    ...(legume === (species.inoculant !== undefined) ? [] : ["inoculant and kind disagree"]),
    ...(legume === (species.nitrogen_g_per_m2 !== undefined) ? [] : ["nitrogen and kind disagree"]),
    ...(family !== "" && species.family !== family ? [`a ${species.kind} of the family ${species.family}`] : []),
  ]
}

test("legumes, and only they, have an inoculant and fix nitrogen", () => {
  expect(complaints(allSpecies, rule)).toEqual([])
})

test("a legume without inoculant is caught", () => {
  const species = copyOf("cowpea")
  delete species.inoculant
  species.family = "Poaceae"
  expect(rule(species)).toEqual(["inoculant and kind disagree", "a legume of the family Poaceae"])
})
