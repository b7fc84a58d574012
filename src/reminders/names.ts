import type { Bed, Garden } from "../garden/garden.ts"
import type { Handbook } from "../handbook/handbook.ts"

/** Crops that are spoken of in the singular although the handbook knows a plural. */
const MASS_WORDS = new Set([
  "kale",
  "lettuce",
  "corn",
  "broccoli",
  "cabbage",
  "garlic",
  "basil",
  "chard",
  "cauliflower",
])

/** Foods that are spoken of in the plural also as covers: "the peas", "the beans". */
const COUNTED = /(pea|bean)$/

/** The name of a bed as the gardener wrote it; its id where the garden has lost it. */
export function bedName(garden: Garden, id: string): string {
  return bedOf(garden, id)?.name ?? id
}

/** The bed with this id. */
export function bedOf(garden: Garden, id: string): Bed | undefined {
  return garden.beds.find((bed) => bed.id === id)
}

/**
 * How a text calls a species: the everyday word (`vetch`, `rye`, `peas`) where the handbook lists it and no other
 * species of `beside` is called the same, else its full name.
 */
export function speciesName(handbook: Handbook, id: string, beside: readonly string[] = []): string {
  const word = everydayWord(handbook, id)
  const clash = beside.some((other) => other !== id && everydayWord(handbook, other) === word)
  return clash ? fullName(handbook, id) : word
}

/** Several species in words: `rye`, `rye and vetch`, `oats, peas and vetch`. */
export function speciesNames(handbook: Handbook, ids: readonly string[], beside: readonly string[] = ids): string {
  return listOf(
    ids.map((id) => speciesName(handbook, id, beside)),
    "and",
  )
}

/** How a text calls a food crop: `tomatoes`, `garlic`. */
export function cropName(handbook: Handbook, id: string): string {
  const names = handbook.crops.get(id)?.names ?? [id.replaceAll("-", " ")]
  const first = names[0] as string
  if (MASS_WORDS.has(first)) return first
  return (
    names.find((name) => name === `${first}s` || name === `${first}es` || name === `${first.slice(0, -1)}ies`) ?? first
  )
}

/** Words joined as a sentence joins them: `a`, `a or b`, `a, b or c`. */
export function listOf(words: readonly string[], last: "and" | "or"): string {
  if (words.length <= 1) return words[0] ?? ""
  return `${words.slice(0, -1).join(", ")} ${last} ${words.at(-1)}`
}

/** With a capital first letter, as a sentence begins. */
export function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1)
}

function fullName(handbook: Handbook, id: string): string {
  return handbook.species.get(id)?.names[0] ?? id.replaceAll("-", " ")
}

function everydayWord(handbook: Handbook, id: string): string {
  const names = handbook.species.get(id)?.names.map((name) => name.toLowerCase()) ?? []
  const full = fullName(handbook, id)
  const last = full.split(" ").at(-1) as string
  if (COUNTED.test(last)) return [`${last}s`, `${full}s`].find((name) => names.includes(name)) ?? `${full}s`
  return names.includes(last) ? last : full
}
