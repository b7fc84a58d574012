import { expect, test } from "vitest"
import type { Species } from "../../../src/handbook/species.ts"
import { allSpecies, complaints, copyOf } from "./entries.ts"

/** The coldest survived is no warmer than the warmest loss, and both lie where plants are killed by cold at all. */
function rule(species: Species): string[] {
  const { low, high } = species.winterKill_c
  const plausible = low <= high && low >= -45 && high <= 1
  return plausible ? [] : [`is killed between ${low} and ${high} C`]
}

test("winter kill lies in order and within reason", () => {
  expect(complaints(allSpecies, rule)).toEqual([])
})

test("summer annuals die by a few degrees of frost, winter annual grasses do not", () => {
  for (const { id, life, kind, winterKill_c } of allSpecies) {
    if (life === "summer-annual") expect(winterKill_c.high, id).toBeGreaterThan(-5)
    if (life === "winter-annual" && kind === "grass") expect(winterKill_c.high, id).toBeLessThan(-10)
  }
})

test("a temperature in Fahrenheit is caught", () => {
  const species = copyOf("oats")
  species.winterKill_c = { ...species.winterKill_c, low: 6, high: 17 }
  expect(rule(species)).toEqual(["is killed between 6 and 17 C"])
})
