import { expect, test } from "vitest"
import type { Species } from "../../../src/handbook/species.ts"
import { allSpecies, copyOf } from "./entries.ts"

/** Words that gardeners use for several species; whoever reads them must ask, or take the one that grows in the bed. */
const ambiguous = new Set(["clover", "vetch", "tares", "mustard", "radish", "peas", "millet", "wheat"])

/** A word names one species, save the ambiguous ones; names are lower case, and a species names itself once. */
function rule(species: readonly Species[]): string[] {
  const ids = new Map<string, string[]>()
  for (const { id, names } of species) for (const name of names) ids.set(name, [...(ids.get(name) ?? []), id])
  return [...ids].flatMap(([name, of]) => {
    if (name !== name.toLowerCase().trim()) return [`"${name}" is not in lower case`]
    if (new Set(of).size < of.length) return [`${of[0]} has the name "${name}" twice`]
    return of.length > 1 && !ambiguous.has(name) ? [`"${name}" names ${of.join(" and ")}`] : []
  })
}

test("a word names one species, save the few that gardeners use for several", () => {
  expect(rule(allSpecies)).toEqual([])
})

test("every ambiguous word is in use for several species", () => {
  const once = [...ambiguous].filter((word) => allSpecies.filter(({ names }) => names.includes(word)).length < 2)
  expect(once).toEqual([])
})

test("rye is winter rye and ryegrass is annual ryegrass", () => {
  const named = (word: string) => allSpecies.filter(({ names }) => names.includes(word)).map(({ id }) => id)
  expect(named("rye")).toEqual(["winter-rye"])
  expect(named("ryegrass")).toEqual(["annual-ryegrass"])
})

test("a name given to two species is caught", () => {
  const [oats, flax] = [copyOf("oats"), copyOf("flax")]
  flax.names.push("oats", "Lin", "linseed")
  expect(rule([oats, flax])).toEqual([
    '"oats" names oats and flax',
    'flax has the name "linseed" twice',
    '"Lin" is not in lower case',
  ])
})
