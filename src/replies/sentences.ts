import type { Item } from "./item.ts"
import { isOne } from "./says.ts"

/** Items between two marks that end a sentence, and whether it ends in a question mark. */
export type Sentence = { items: Item[]; asked: boolean }

const ENDS = new Set([".", "!", "?", ";", "\n"])

export function sentencesOf(items: readonly Item[]): Sentence[] {
  const found: Sentence[] = []
  let current: Item[] = []
  const close = (asked: boolean): void => {
    if (current.length > 0) found.push({ items: current, asked })
    current = []
  }
  const listed = isListMark(items, 1)
  items.forEach((item, index) => {
    if (listed && isListMark(items, index + 1)) close(false)
    if (listed && isListMark(items, index)) return
    if (item.mark !== undefined && ENDS.has(item.mark) && !isAbbreviation(items, index)) {
      const last = found.at(-1)
      if (current.length === 0 && item.mark === "?" && last) last.asked = true
      // "done 1, ok?": the mark belongs to the last word alone.
      const tag = item.mark === "?" && current.length > 1 && isTag(current.at(-1) as Item)
      if (tag) current.pop()
      close(item.mark === "?" && !tag)
    } else if (item.senses.has("picture:question")) close(true)
    else current.push(item)
  })
  close(false)
  return found
}

/** The point of "1. done 2. not yet": right behind a number, with words behind it. */
function isListMark(items: readonly Item[], index: number): boolean {
  const before = items[index - 1]
  if (items[index]?.mark !== "." || !items[index]?.words[0]?.glued || !before?.numbers || before.bed) return false
  const after = items[index + 1]
  return after !== undefined && after.mark === undefined && !before.amount && !before.day
}

function isTag(item: Item): boolean {
  return item.senses.has("courtesy") && isOne(item, "tag")
}

/** The point behind a unit ("20 in. tall") ends no sentence. */
function isAbbreviation(items: readonly Item[], index: number): boolean {
  const before = items[index - 1]
  const after = items[index + 1]
  if (items[index]?.mark !== "." || !before || !after || after.mark !== undefined) return false
  const last = before.words.at(-1)
  if (last?.kind !== "word" || !(items[index] as Item).words[0]?.glued) return false
  return Boolean(before.amount) && last.word.length <= 3
}
