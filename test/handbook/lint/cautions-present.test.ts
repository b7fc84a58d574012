import { expect, test } from "vitest"
import type { Caution, Species } from "../../../src/handbook/species.ts"
import { allSpecies, complaints, copyOf } from "./entries.ts"

/** Species known to poison or hurt, and whom. General knowledge, from memory; kept here so that a caution cannot be lost. */
const dangerous: Record<string, Caution["about"][]> = {
  "hairy-vetch": ["stock"],
  "common-vetch": ["stock"],
  lupin: ["stock", "people"],
  "sunn-hemp": ["stock", "weed"],
  "sorghum-sudangrass": ["stock"],
  buckwheat: ["stock"],
  flax: ["stock"],
  "fava-bean": ["people"],
  phacelia: ["people"],
  "winter-rye": ["stock"],
  "annual-ryegrass": ["weed"],
  "japanese-millet": ["weed"],
  "white-mustard": ["weed"],
  "subterranean-clover": ["weed"],
}

/** Inoculated legumes warn of dust, biofumigant brassicas of fumes, and dangerous species of their danger. */
function rule(species: Species): string[] {
  const wanted = [
    ...(species.inoculant ? ["dust" as const] : []),
    ...(species.kind === "brassica" && species.biofumigant ? ["fumes" as const] : []),
    ...(dangerous[species.id] ?? []),
  ]
  return wanted
    .filter((about) => !species.cautions.some((caution) => caution.about === about))
    .map((about) => `lacks its caution about ${about}`)
}

test("every species that can hurt carries its caution", () => {
  expect(complaints(allSpecies, rule)).toEqual([])
  expect(Object.keys(dangerous).filter((id) => !allSpecies.some((species) => species.id === id))).toEqual([])
})

test("a lost caution is caught", () => {
  const cases = [copyOf("hairy-vetch"), copyOf("brown-mustard"), copyOf("fava-bean")]
  for (const species of cases) species.cautions = []
  expect(complaints(cases, rule)).toEqual([
    "hairy-vetch: lacks its caution about dust",
    "hairy-vetch: lacks its caution about stock",
    "brown-mustard: lacks its caution about fumes",
    "fava-bean: lacks its caution about dust",
    "fava-bean: lacks its caution about people",
  ])
})
