import type { Word } from "./words.ts"

/** A longer quotation inside a text is someone else's words, most often ours: nothing in it is read. */
const QUOTED_WORDS = 3

export function quotationsIn(words: readonly Word[]): boolean[] {
  const foreign = new Array<boolean>(words.length).fill(false)
  let open = -1
  words.forEach((word, at) => {
    if (word.kind !== "mark" || word.word !== '"' || (word.glued && words[at - 1]?.kind === "number" && open < 0))
      return
    if (open < 0) {
      open = at
      return
    }
    const said = words.slice(open + 1, at).filter((each) => each.kind !== "mark").length
    const others = words.some((each, i) => each.kind !== "mark" && (i < open || i > at))
    if (said >= QUOTED_WORDS && others) foreign.fill(true, open + 1, at)
    open = -1
  })
  return foreign
}

/** For every word: does it stand between an opening quotation mark and its closing one? An inch mark opens nothing. */
export function quotesIn(words: readonly Word[]): boolean[] {
  let open = false
  return words.map((word, at) => {
    const inside = open
    if (word.kind === "mark" && word.word === '"')
      open = open ? false : !(word.glued && words[at - 1]?.kind === "number")
    return inside
  })
}
