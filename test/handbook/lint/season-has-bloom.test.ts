import { expect, test } from "vitest"
import type { Species } from "../../../src/handbook/species.ts"
import { season } from "../../../src/handbook/species.ts"
import { allSpecies, complaints, copyOf } from "./entries.ts"

/** For every season in which a species may be sown it says when it flowers, or that it does not. */
function rule(species: Species): string[] {
  return season.options
    .filter((sown) => ["good", "ok"].includes(species.sowing.seasons[sown].fit))
    .filter(
      (sown) => !species.flowering.some((one) => one.stage === "first-flower" && [sown, "any"].includes(one.sown)),
    )
    .map((sown) => `may be sown in ${sown} but says nothing about its flower then`)
}

test("every season that suits a species has its first flower", () => {
  expect(complaints(allSpecies, rule)).toEqual([])
})

test("a season without its flower is caught", () => {
  const species = copyOf("phacelia")
  species.flowering = species.flowering.filter(({ sown }) => sown !== "autumn")
  expect(rule(species)).toEqual(["may be sown in autumn but says nothing about its flower then"])
})
