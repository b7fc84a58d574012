import type { Item } from "./item.ts"
import type { Part } from "./parts.ts"
import type { Word } from "./words.ts"

/** The tiling of the words with the greatest weight, from the end of the text to its start. */
export function tile(words: readonly Word[], parts: readonly Part[][]): Item[] {
  const count = words.length
  const best = new Array<number>(count + 1).fill(0)
  const chosen = new Array<number>(count).fill(0)
  for (let i = count - 1; i >= 0; i -= 1) {
    let top = Number.NEGATIVE_INFINITY
    for (const part of parts[i] ?? []) {
      const weight = part.weight + (best[part.to] as number)
      if (weight > top) {
        top = weight
        chosen[i] = part.to
      }
    }
    if (top === Number.NEGATIVE_INFINITY) chosen[i] = i + 1
    best[i] = Math.max(top, best[i + 1] as number)
  }
  const items: Item[] = []
  for (let i = 0; i < count; i = chosen[i] as number) {
    const to = chosen[i] as number
    items.push(merged(words, i, to, parts[i]?.filter((part) => part.to === to) ?? []))
  }
  return items
}

const PLAIN = new Set(["content", "name", "figure", "person"])

function merged(words: readonly Word[], from: number, to: number, parts: readonly Part[]): Item {
  const told = parts.some(
    (part) => part.bed ?? part.species ?? part.crops ?? part.day ?? part.amount ?? part.numbers ?? part.time,
  )
  const all = parts.flatMap((part) => part.senses)
  const read = all.filter((sense) => !PLAIN.has(sense))
  // A word that has a meaning here is no unknown word.
  const senses = new Set(read.length > 0 || told ? read : all)
  const item: Item = { from, to, words: words.slice(from, to), senses }
  for (const part of parts) {
    for (const key of ["bed", "species", "crops", "day", "amount", "numbers", "marked", "time", "mark"] as const) {
      if (part[key] !== undefined) Object.assign(item, { [key]: part[key] })
    }
  }
  return item
}
