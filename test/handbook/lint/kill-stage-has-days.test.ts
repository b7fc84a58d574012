import { expect, test } from "vitest"
import type { Species } from "../../../src/handbook/species.ts"
import { allSpecies, complaints, copyOf } from "./entries.ts"

/** A kill stage after first flower says how many days after it; heading belongs to grasses alone. */
function rule(species: Species): string[] {
  const { killedFrom, daysAfterFirstFlower } = species.cut
  const later = ["full-bloom", "milk", "pods"].includes(killedFrom)
  return [
    ...(later === (daysAfterFirstFlower !== undefined) ? [] : [`killed from ${killedFrom}: days after first flower`]),
    ...(["heading", "milk"].includes(killedFrom) && species.kind !== "grass" ? [`no grass, but ${killedFrom}`] : []),
  ]
}

test("a kill stage after first flower has its days", () => {
  expect(complaints(allSpecies, rule)).toEqual([])
})

test("a kill stage without its days is caught", () => {
  const species = copyOf("oats")
  delete species.cut.daysAfterFirstFlower
  expect(rule(species)).toEqual(["killed from milk: days after first flower"])
})
