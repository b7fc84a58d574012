import type { Words } from "./vocabulary.ts"
import type { Word } from "./words.ts"

/** Most words of a mark's name: "question mark". */
const LONGEST = 2

/** Marks that were dictated as words ("done seven comma snooze nine period") as the marks they stand for. */
export function spokenMarks(words: readonly Word[], vocabulary: Words): Word[] {
  const { spoken_marks: marks, small } = vocabulary.data
  const found: Word[] = []
  for (let i = 0; i < words.length; i += 1) {
    const word = words[i] as Word
    const before = words[i - 1]
    const length = markedLength(words, i, marks)
    // "the dry period" is a stretch of time; and a mark needs something before it.
    if (length === 0 || !before || small["no-mark"].includes(before.word)) found.push(word)
    else {
      const last = words[i + length - 1] as Word
      const said = words.slice(i, i + length).map((each) => each.word)
      found.push({ kind: "mark", word: marks[said.join(" ")] as string, from: word.from, to: last.to, glued: true })
      i += length - 1
    }
  }
  return found
}

/** How many words from `at` on make a mark; 0 where they make none. */
function markedLength(words: readonly Word[], at: number, marks: Readonly<Record<string, string>>): number {
  for (let length = LONGEST; length > 0; length -= 1) {
    const said = words.slice(at, at + length)
    if (said.length < length || said.some((word) => word.kind !== "word")) continue
    if (Object.hasOwn(marks, said.map((word) => word.word).join(" "))) return length
  }
  return 0
}
