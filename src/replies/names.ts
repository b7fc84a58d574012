import type { Crop } from "../handbook/crop.ts"
import type { Species } from "../handbook/species.ts"
import type { WordsData } from "./words-data.ts"

/** A name of one or several words and what it may stand for. */
export type Name = { words: readonly string[]; ids: readonly string[] }

/** What of the handbook its names are read from. */
export type NameSource = {
  species: ReadonlyMap<string, Pick<Species, "id" | "names">>
  crops: ReadonlyMap<string, Pick<Crop, "id" | "names">>
}

export function speciesNames(species: NameSource["species"], data: WordsData): Map<string, Name[]> {
  const found = new Map<string, { words: string[]; ids: Set<string> }>()
  for (const { id, names } of species.values()) {
    for (const name of names) addName(found, name, id)
    // "clover", "vetch", "rye": the last word of the name that a species goes by.
    addName(found, (names[0] ?? id).split(/[\s-]+/).at(-1) ?? id, id)
    addName(found, id.replaceAll("-", " "), id)
  }
  for (const [name, ids] of Object.entries(data.species.any))
    for (const id of ids) if (species.has(id)) addName(found, name, id)
  return byFirstWord(found)
}

export function cropNames(crops: NameSource["crops"], data: WordsData): Map<string, Name[]> {
  const found = new Map<string, { words: string[]; ids: Set<string> }>()
  for (const { id, names } of crops.values()) {
    for (const name of [...names, id.replaceAll("-", " ")]) addName(found, name, id)
  }
  for (const [name, id] of Object.entries(data.crops)) if (crops.has(id)) addName(found, name, id)
  // "toms" are tomatoes, and Tom is somebody.
  for (const person of data.people) found.delete(person)
  return byFirstWord(found)
}

/** Adds a name in its singular and plural forms. */
function addName(found: Map<string, { words: string[]; ids: Set<string> }>, name: string, id: string): void {
  const said = nameWords(name)
  const last = said.at(-1)
  if (last === undefined) return
  for (const form of new Set([last, singular(last), plural(singular(last))])) {
    const forms = [...said.slice(0, -1), form]
    const key = forms.join(" ")
    const entry = found.get(key) ?? { words: forms, ids: new Set<string>() }
    entry.ids.add(id)
    found.set(key, entry)
  }
}

export function firstWordsOf(species: ReadonlyMap<string, readonly Name[]>): Map<string, string[]> {
  const firstWords = new Map<string, string[]>()
  for (const [first, names] of species)
    for (const id of new Set(names.flatMap((name) => name.ids)))
      firstWords.set(id, [...(firstWords.get(id) ?? []), first])
  return firstWords
}

function byFirstWord(found: Map<string, { words: string[]; ids: Set<string> }>): Map<string, Name[]> {
  const names = new Map<string, Name[]>()
  for (const { words, ids } of found.values()) {
    const first = words[0] as string
    names.set(first, [...(names.get(first) ?? []), { words, ids: [...ids] }])
  }
  return names
}

/** The folded words of a name, as a text is cut: lower case, no accents, divided at spaces and hyphens. */
export function nameWords(name: string): string[] {
  return name
    .normalize("NFKD")
    .toLowerCase()
    .replaceAll(/\p{M}|['’]/gu, "")
    .split(/[^\p{L}\p{N}]+/u)
    .flatMap((part) => part.match(/\d+|\D+/g) ?? [])
}

/** "peas" -> "pea", "radishes" -> "radish", "berries" -> "berry"; "oats" -> "oat"; "grass" stays. */
export function singular(word: string): string {
  if (word.length > 4 && word.endsWith("ies")) return `${word.slice(0, -3)}y`
  if (word.length > 4 && /(?:sh|ch|x|o|ss)es$/.test(word)) return word.slice(0, -2)
  if (word.length > 3 && word.endsWith("s") && !word.endsWith("ss") && !word.endsWith("us")) return word.slice(0, -1)
  return word
}

function plural(word: string): string {
  if (/(?:sh|ch|x|o|ss|s)$/.test(word)) return `${word}es`
  if (/[^aeiou]y$/.test(word)) return `${word.slice(0, -1)}ies`
  return `${word}s`
}
