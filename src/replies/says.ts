import type { Tag } from "./facts.ts"
import type { Item } from "./item.ts"
import type { Word } from "./words.ts"

/** Is the word in a list of the vocabulary? */
export function isTagged(word: Word | undefined, tag: Tag): boolean {
  return word?.tags?.has(tag) === true
}

/** Is the item one word, of that list? */
export function isOne(item: Item | undefined, tag: Tag): boolean {
  return item !== undefined && item.to - item.from === 1 && isTagged(item.words[0], tag)
}

export function startsWith(item: Item | undefined, tag: Tag): boolean {
  return isTagged(item?.words[0], tag)
}

export function endsWith(item: Item | undefined, tag: Tag): boolean {
  return isTagged(item?.words.at(-1), tag)
}

export function hasWord(item: Item, tag: Tag): boolean {
  return item.words.some((word) => isTagged(word, tag))
}

export function onlyWords(item: Item, tag: Tag): boolean {
  return item.words.every((word) => isTagged(word, tag))
}

/** The words of an item as they were read. */
export function spelt(item: Item | undefined): string {
  return item?.words.map((word) => word.word).join(" ") ?? ""
}

export function isWay(item: Item, way: string): boolean {
  return item.senses.has(`ways:${way}`)
}

/** Courtesy, a name, a picture, a mark: nothing is said with it. */
export function isPolite(item: Item): boolean {
  return (
    item.mark !== undefined ||
    ["courtesy", "picture", "picture:courtesy", "name"].some((sense) => item.senses.has(sense))
  )
}

/** Something a clause can be about: a bed, a plant, a number, all of them. */
export function isTarget(item: Item): boolean {
  if (item.bed ?? item.species ?? item.crops) return true
  return (item.numbers !== undefined && !item.amount) || ["all", "both", "rest"].some((way) => isWay(item, way))
}
