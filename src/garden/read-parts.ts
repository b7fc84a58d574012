import type { Place, Problem } from "../values/problem.ts"
import { type Keys, partAt, shorten, type Tree, type Words } from "./read-tree.ts"

/** Errors refuse the file; warnings are shown and the file is taken. */
export type Found = { problems: Problem[]; warnings: Problem[] }

/** The maps of a list that stands under a key. */
export function listAt(tree: Tree, key: string): Keys[] {
  const list = partAt(tree, [key])
  return list?.is === "list" ? list.items.filter((item) => item.is === "keys") : []
}

/** The word that stands under a key, or null. */
export function wordAt(tree: Tree, ...path: string[]): Words | null {
  const part = partAt(tree, path)
  return part?.is === "words" ? part : null
}

/** The words of a list that stands under a key. */
export function wordsIn(tree: Tree, key: string): Words[] {
  const list = partAt(tree, [key])
  return list?.is === "list" ? list.items.filter((item) => item.is === "words") : []
}

/** How an item is named: by the first of these keys that it has, else by its line. */
export function nameOf(item: Keys, ...keys: string[]): string {
  for (const key of keys) {
    const word = wordAt(item, key)
    if (word) return shorten(word.text)
  }
  return `line ${item.at.line}`
}

/** Does a key stand there with a value? */
export function has(tree: Tree, key: string): boolean {
  return (partAt(tree, [key])?.is ?? "nothing") !== "nothing"
}

/** What a problem says beside its kind and place. */
export type Said = { found: string; expected: string; nearest?: string | undefined }

/** Adds a problem; what was found is shown cut to size. */
export function add(list: Problem[], code: string, place: Place, field: string, said: Said) {
  const nearest = said.nearest === undefined ? {} : { nearest: said.nearest }
  list.push({ code, place, field, found: shorten(said.found), expected: said.expected, ...nearest })
}
