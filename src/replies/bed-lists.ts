import type { BedNames } from "./beds.ts"
import type { OpenReminder } from "./context.ts"
import type { BedMention } from "./item.ts"
import { singular } from "./names.ts"
import { isTagged } from "./says.ts"
import type { Words } from "./vocabulary.ts"
import type { Word } from "./words.ts"

/** A bed of a list, up to word `to`. */
export type Listed = { to: number; bed: BedMention }

/** More beds than this make no range of beds. */
const MOST_IN_RANGE = 40

/**
 * Numbers that go on a list of beds and are no reminders: "beds 1, 3 and 4", "bed 1 and 2", "terraces 2-4"; by the place
 * of their first word. Behind one bed only "and" goes on, behind several a comma does too.
 */
export function bedLists(
  names: BedNames,
  words: readonly Word[],
  vocabulary: Words,
  open: readonly OpenReminder[],
): ReadonlyMap<number, Listed> {
  const lists = new Map<number, Listed>()
  if (names.numbered.size === 0) return lists
  for (let i = 0; i + 1 < words.length; i += 1) {
    const word = words[i] as Word
    const noun = singular(word.word)
    if (word.kind !== "word" || !names.nouns.has(noun) || numberAt(words[i + 1], vocabulary) === null) continue
    const several = word.word !== noun
    let at = i + 1
    const first = rangeAt(words, at, vocabulary)
    if (first) {
      lists.set(i, { to: first.to, bed: mention(names, noun, first.numbers) })
      at = first.to
    } else at += 1
    const doubted = several ? null : doubtedAt(words, at, names, noun, vocabulary, open)
    if (doubted) lists.set(at + 1, doubted)
    for (let next = joinedAt(words, at, several, vocabulary); next !== null; ) {
      const range = rangeAt(words, next, vocabulary)
      const numbers = range?.numbers ?? [numberAt(words[next], vocabulary) as number]
      at = range?.to ?? next + 1
      lists.set(next, { to: at, bed: mention(names, noun, numbers) })
      next = joinedAt(words, at, several, vocabulary)
    }
  }
  return lists
}

/** "bed 1, 3": another bed or the number of a reminder; which of the two must be asked. */
function doubtedAt(
  words: readonly Word[],
  at: number,
  names: BedNames,
  noun: string,
  vocabulary: Words,
  open: readonly OpenReminder[],
): Listed | null {
  const number = numberAt(words[at + 1], vocabulary)
  if (words[at]?.kind !== "mark" || words[at]?.word !== "," || number === null || words[at + 2]?.kind === "number")
    return null
  const bed = names.numbered.get(`${noun} ${number}`)
  const reminder = open.find((each) => each.n === number)
  if (bed === undefined || !reminder || reminder.bed === bed) return null
  const after = words[at + 2]
  if (after && (vocabulary.units.has(after.word) || spans(after, vocabulary))) return null
  return { to: at + 2, bed: { beds: [bed, reminder.bed], doubtful: false } }
}

function mention(names: BedNames, noun: string, numbers: readonly number[]): BedMention {
  const beds = numbers.flatMap((number) => names.numbered.get(`${noun} ${number}`) ?? [])
  return { beds: beds.length < numbers.length ? [] : beds, doubtful: false, every: true }
}

/** The place of the number that goes on the list behind a comma, "and" or both; null where none does. */
function joinedAt(words: readonly Word[], at: number, several: boolean, vocabulary: Words): number | null {
  let i = at
  const comma = words[i]?.kind === "mark" && words[i]?.word === ","
  if (comma && several) i += 1
  if (isTagged(words[i], "plain-and") || isTagged(words[i], "list-and")) i += 1
  if (i === at || numberAt(words[i], vocabulary) === null) return null
  // "bed 1 and 2 ft tall", "beds 1 and 2 days ago": the figure is of what follows it.
  const after = words[i + 1]
  const counted = after !== undefined && (vocabulary.units.has(after.word) || spans(after, vocabulary))
  return counted && !isTagged(after, "inch-in") ? null : i
}

function spans(word: Word, vocabulary: Words): boolean {
  return vocabulary.facts.get(word.word)?.span !== undefined
}

function numberAt(word: Word | undefined, vocabulary: Words): number | null {
  if (word?.kind === "number") return Number.isInteger(word.value) && !word.ordinal ? (word.value as number) : null
  return word?.kind === "word" ? (vocabulary.facts.get(word.word)?.number ?? null) : null
}

/** "1-3", "1 to 3", "1 through 3" */
function rangeAt(words: readonly Word[], at: number, vocabulary: Words): { to: number; numbers: number[] } | null {
  const [first, last] = [numberAt(words[at], vocabulary), numberAt(words[at + 2], vocabulary)]
  const joined = words[at + 1]
  const ranged =
    (joined?.kind === "mark" && joined.word === "-") || isTagged(joined, "through") || isTagged(joined, "to")
  if (first === null || last === null || !ranged || last <= first || last - first > MOST_IN_RANGE) return null
  return { to: at + 3, numbers: Array.from({ length: last - first + 1 }, (_, n) => first + n) }
}
