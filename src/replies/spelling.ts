import { singular } from "./names.ts"
import { lettersOff } from "./slips.ts"
import type { Words } from "./vocabulary.ts"
import type { Word } from "./words.ts"

/** The words of this garden beside the vocabulary: names of beds, and which of the handbook's names it grows. */
export type GardenWords = { beds: ReadonlySet<string>; grown: ReadonlySet<string> }

/** A slip of a garden's own word is likelier than one of another word; of a plant that is not grown here unlikelier. */
const OWN_BONUS = 0.5
const GROWN_BONUS = 0.2
const NOT_GROWN = 0.3
/** A typed ending that the known word has too. */
const ENDING_BONUS = 0.35

/**
 * Puts right what a thumb, a spell checker or dictation made of the words this garden and the vocabulary know. Everyday
 * words stay as they are; so does what could be too many things.
 */
export function repair(words: readonly Word[], vocabulary: Words, garden: GardenWords): Word[] {
  const joined = leadWords(join(joinLetters(words, vocabulary), vocabulary, garden), vocabulary, garden)
  return joined.flatMap((word) => {
    if (word.kind !== "word" || isKnown(word.word, vocabulary, garden)) return [word]
    return repairOne(word, vocabulary, garden)
  })
}

function isKnown(word: string, vocabulary: Words, garden: GardenWords): boolean {
  return (
    garden.beds.has(word) ||
    garden.beds.has(singular(word)) ||
    vocabulary.known.has(word) ||
    vocabulary.ordinary.has(word)
  )
}

function repairOne(word: Word, vocabulary: Words, garden: GardenWords): Word[] {
  const typed = word.word
  if (typed.length < 3 || typed.length > 24) return [word]
  const drawn = drawnOut(typed).find((each) => isKnown(each, vocabulary, garden))
  if (drawn !== undefined) return mended(word, drawn, vocabulary)
  const best = nearest(typed, vocabulary, garden)
  if (best && best.weighed <= SURE_COST) return mended(word, best.word, vocabulary)
  const split = splitInTwo(typed, vocabulary, garden)
  if (split)
    return split.map((part, index) => ({
      ...word,
      word: part,
      repaired: true as const,
      glued: index > 0 || word.glued,
    }))
  return best ? mended(word, best.word, vocabulary) : [word]
}

/** The word put right, or the words that it stands for. */
function mended(word: Word, right: string, vocabulary: Words): Word[] {
  const stands = vocabulary.expand(right) ?? [right]
  return stands.map((each, index) => ({ ...word, word: each, repaired: true as const, glued: index > 0 || word.glued }))
}

const LIKELY_COST = 0.6
/** Below this a slip is likelier than a missing space. */
const SURE_COST = 0.8

/** "sooo" -> "so"; "doneee" -> "done"; "yesss" -> "yes" */
function drawnOut(typed: string): string[] {
  if (!/(.)\1\1/.test(typed)) return []
  return [typed.replace(/(.)\1{2,}/g, "$1$1"), typed.replace(/(.)\1{2,}/g, "$1"), typed.replace(/(.)\1+/g, "$1")]
}

/** The one known word that the typed one is nearest to; null where none is near enough. */
function nearest(
  typed: string,
  vocabulary: Words,
  garden: GardenWords,
): { word: string; cost: number; weighed: number } | null {
  let best: { word: string; cost: number; weighed: number } | null = null
  const offer = (word: string, cost: number, weighed: number): void => {
    if (!withinReach(typed, word, cost)) return
    // "Dan" is a name and no "can": of a short word the first letter is the surest.
    if (word.length <= 3 && typed[0] !== word[0] && vocabulary.light.has(word)) return
    if (!best || weighed < best.weighed || (weighed === best.weighed && word < best.word))
      best = { word, cost, weighed }
  }
  for (const word of garden.beds) {
    if (word.length < 3 || Math.abs(word.length - typed.length) > 3) continue
    const cost = vocabulary.slips.cost(typed, word)
    offer(word, cost, cost - OWN_BONUS)
  }
  for (const { word, cost } of vocabulary.slips.near(typed)) {
    const plant = vocabulary.species.has(word)
    const growth = !plant ? 0 : garden.grown.has(word) ? -GROWN_BONUS : NOT_GROWN
    const ending = typed.endsWith("d") && word.endsWith("ed") ? -ENDING_BONUS : 0
    offer(word, cost, cost + growth + ending + (vocabulary.likelier.get(word) ?? 0))
  }
  return best
}

/** Up to one letter in four; in words of three letters only a likely slip, and the length must hold. */
function withinReach(typed: string, word: string, cost: number): boolean {
  if (word.length <= 3)
    return cost <= LIKELY_COST && (typed.length === word.length || typed.replaceAll(/(.)\1/g, "$1") === word)
  return cost <= lettersOff(word.length) && typed[0] !== undefined
}

/** "notup", "southbed": two known words without their space. */
function splitInTwo(typed: string, vocabulary: Words, garden: GardenWords): [string, string] | null {
  let best: [string, string] | null = null
  for (let i = 2; i <= typed.length - 2; i += 1) {
    const [left, right] = [typed.slice(0, i), typed.slice(i)]
    const ours = (word: string): boolean =>
      vocabulary.book.words.has(word) || garden.beds.has(word) || vocabulary.species.has(word)
    if (Math.max(left.length, right.length) < 3 || !ours(left) || !ours(right)) continue
    if (!best || Math.min(left.length, right.length) > Math.min(best[0].length, best[1].length)) best = [left, right]
  }
  return best
}

/** "dome 3", "dome with 3": an everyday word where only an answer makes sense is a slip of it. */
function leadWords(words: readonly Word[], vocabulary: Words, garden: GardenWords): Word[] {
  const { answers, openings, between } = vocabulary.data.small
  const start = words.findIndex((word) => word.kind === "word" && !openings.includes(word.word))
  if (start > 0) return [...words.slice(0, start), ...leadWords(words.slice(start), vocabulary, garden)]
  const [first, ...rest] = words
  if (first?.kind !== "word" || vocabulary.known.has(first.word) || garden.beds.has(first.word)) return [...words]
  const [wayOut] = vocabulary.data.small["way-out"] as [string]
  // The way out is always open: a text of one word that is a slip of "stop" is that.
  if (rest.every((word) => word.kind === "mark") && vocabulary.slips.cost(first.word, wayOut) <= LIKELY_COST)
    return [{ ...first, word: wayOut }, ...rest]
  const answered = rest.find((word) => !between.includes(word.word))
  if (answered?.kind !== "number" || !Number.isInteger(answered.value) || rest.length > 5) return [...words]
  const slip = answers.find((word) => {
    const cost = vocabulary.slips.cost(first.word, word)
    return first.word.length === word.length
      ? cost <= LIKELY_COST
      : first.word[0] === word[0] && first.word.length < word.length && cost < 1
  })
  return slip === undefined ? [...words] : [{ ...first, word: slip }, ...rest]
}

const FEWEST_LETTERS = 3

/** "S T O P", "s.t.o.p": letters one by one that make a known word. */
function joinLetters(words: readonly Word[], vocabulary: Words): readonly Word[] {
  const isLetter = (word: Word | undefined): boolean => word?.kind === "word" && word.word.length === 1
  const joined: Word[] = []
  for (let i = 0; i < words.length; i += 1) {
    const first = words[i] as Word
    const letters = isLetter(first) ? [first] : []
    let to = i + 1
    while (letters.length > 0) {
      const next = isLetter(words[to]) ? to : words[to]?.kind === "mark" && isLetter(words[to + 1]) ? to + 1 : null
      if (next === null) break
      letters.push(words[next] as Word)
      to = next + 1
    }
    const whole = letters.map((letter) => letter.word).join("")
    if (letters.length >= FEWEST_LETTERS && vocabulary.book.words.has(whole)) {
      joined.push({ ...first, word: whole, to: (letters.at(-1) as Word).to })
      i = to - 1
    } else joined.push(first)
  }
  return joined
}

/** "sno oze", "to morrow": one known word with a space in it. */
function join(words: readonly Word[], vocabulary: Words, garden: GardenWords): Word[] {
  const joined: Word[] = []
  for (const word of words) {
    const before = joined.at(-1)
    const whole = before?.kind === "word" && word.kind === "word" ? before.word + word.word : ""
    const least = vocabulary.data.small["plain-stop"].includes(whole) ? 3 : 4
    const known = whole.length > least && (vocabulary.book.words.has(whole) || garden.beds.has(whole))
    const broken =
      known && before && !(isKnown(before.word, vocabulary, garden) && isKnown(word.word, vocabulary, garden))
    if (before && broken) joined[joined.length - 1] = { ...before, word: whole, to: word.to }
    else joined.push(word)
  }
  return joined
}
