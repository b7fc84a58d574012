import type { Crop } from "../../../src/handbook/crop.ts"
import type { Figure } from "../../../src/handbook/figure.ts"
import type { Species } from "../../../src/handbook/species.ts"
import { handbook } from "../shared.ts"

/** What a rule looks at: one species or crop as it stands in its file. */
export type Entry = Species | Crop

export const allSpecies: readonly Species[] = [...handbook.species.values()]
export const allCrops: readonly Crop[] = [...handbook.crops.values()]
export const allEntries: readonly Entry[] = [...allSpecies, ...allCrops]

/** A copy of a species to plant a fault in. */
export function copyOf(id: string): Species {
  const species = handbook.species.get(id)
  if (!species) throw new Error(`No species ${id}.`)
  return structuredClone(species)
}

type Found = { path: string; figure: Omit<Figure, "others"> }

/** Every figure below a value, `others` too, with its path for the complaint. */
export function figuresOf(value: unknown, path = ""): Found[] {
  if (Array.isArray(value)) return value.flatMap((one, at) => figuresOf(one, `${path}[${at}]`))
  if (value === null || typeof value !== "object") return []
  const below = Object.entries(value).flatMap(([key, one]) => figuresOf(one, path === "" ? key : `${path}.${key}`))
  return isFigure(value) ? [{ path, figure: value }, ...below] : below
}

function isFigure(value: object): value is Figure {
  return "low" in value && "high" in value
}

/** Every list of source keys below a value, with its path. */
export function sourcesOf(value: unknown, path = ""): { path: string; keys: string[] }[] {
  if (Array.isArray(value)) return value.flatMap((one, at) => sourcesOf(one, `${path}[${at}]`))
  if (value === null || typeof value !== "object") return []
  return Object.entries(value).flatMap(([key, one]) => {
    const at = path === "" ? key : `${path}.${key}`
    return key === "source" && Array.isArray(one) ? [{ path: at, keys: one.map(String) }] : sourcesOf(one, at)
  })
}

/** The complaints of a rule about each of many entries, each with the entry's id. */
export function complaints<Each extends { id: string }>(entries: readonly Each[], rule: (entry: Each) => string[]) {
  return entries.flatMap((entry) => rule(entry).map((complaint) => `${entry.id}: ${complaint}`))
}
