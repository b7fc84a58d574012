import { expect, test } from "vitest"
import { middle } from "../../../src/handbook/figure.ts"
import type { Species } from "../../../src/handbook/species.ts"
import { allSpecies, complaints, copyOf } from "./entries.ts"

/** Heading comes no later than the first flower of the same sowing season and habit, and where one comes so does the other. */
function rule(species: Species): string[] {
  const headings = species.flowering.filter(({ stage }) => stage === "heading")
  return headings.flatMap((heading) => {
    const flower = species.flowering.find(
      ({ stage, sown, type }) => stage === "first-flower" && sown === heading.sown && type === heading.type,
    )
    if (!flower) return [`sown in ${heading.sown} it heads but has no first flower`]
    if (flower.comes !== heading.comes) return [`sown in ${heading.sown} one stage comes and the other does not`]
    const [a, b] = [heading.days, flower.days]
    if (!a || !b) return []
    const inOrder = a.low <= b.low && middle(a) < middle(b) && a.high <= b.high
    return inOrder ? [] : [`sown in ${heading.sown} it flowers before it heads`]
  })
}

test("grasses head before they flower, whenever they are sown", () => {
  expect(complaints(allSpecies, rule)).toEqual([])
})

test("a flower before its head is caught", () => {
  const species = copyOf("winter-wheat")
  for (const one of species.flowering) if (one.stage === "heading" && one.days) one.days.low = 260
  expect(rule(species)).toEqual(
    ["sown in late-summer it flowers before it heads", "sown in autumn it flowers before it heads"].sort(),
  )
})
