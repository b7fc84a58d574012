/** A phrase in the notation of the vocabulary and the sense it carries. */
export type Phrase = { say: string; sense: string }

/** One place of a phrase: the words that may stand there, or a gap (null) of up to `MOST_BETWEEN` words. */
type Place = { words: ReadonlySet<string> | null; optional: boolean; repeats: boolean }
type Compiled = { places: readonly Place[]; sense: string; gap: boolean }

/** Where a phrase was found: words `from` to `to` (exclusive), without those of its gap. */
export type Found = { sense: string; from: number; to: number; gap: { from: number; to: number } | null }

/** Words that a gap may hold, and that a repeated place may take. */
const MOST_BETWEEN = 5
const MOST_REPEATS = 6

/**
 * All phrases of a language, found by their first word. In a phrase `a|b` are alternatives, `a?` may be missing, `@name`
 * is any word of a set, `a*` may stand there several times or not at all, `..` is a gap.
 */
export class PhraseBook {
  readonly words = new Set<string>()
  readonly #sets: Readonly<Record<string, readonly string[]>>
  readonly #byFirst = new Map<string, Compiled[]>()

  constructor(sets: Readonly<Record<string, readonly string[]>>) {
    this.#sets = sets
  }

  add(phrase: Phrase): void {
    const places = phrase.say.split(" ").map((part) => this.#place(part))
    const compiled = { places, sense: phrase.sense, gap: places.some((place) => place.words === null) }
    for (const place of places) {
      for (const word of place.words ?? []) {
        this.words.add(word)
      }
    }
    for (const first of firstWords(places)) {
      const list = this.#byFirst.get(first)
      if (!list) this.#byFirst.set(first, [compiled])
      else if (!list.includes(compiled)) list.push(compiled)
    }
  }

  /** Every phrase that starts at word `start`, each of its lengths once. `passable` says which words a gap may hold. */
  at(words: readonly string[], start: number, passable: (index: number) => boolean): Found[] {
    const candidates = this.#byFirst.get(words[start] as string)
    if (!candidates) return []
    const found = new Map<string, Found>()
    for (const { places, sense, gap } of candidates) {
      const end = matchEnd(places, 0, words, start, passable)
      if (end === null) continue
      const match = { sense, from: start, to: end.to, gap: gap ? end.gap : null }
      found.set(`${sense} ${match.to} ${match.gap?.from ?? ""}`, match)
    }
    return [...found.values()]
  }

  #place(part: string): Place {
    if (part === "..") return { words: null, optional: false, repeats: false }
    const repeats = part.endsWith("*")
    const optional = part.includes("?") || repeats
    const words = new Set<string>()
    for (const choice of part.replaceAll(/[?*]/g, "").split("|")) {
      if (!choice.startsWith("@")) words.add(choice)
      else for (const word of this.#sets[choice.slice(1)] ?? unknownSet(choice)) words.add(word)
    }
    return { words, optional, repeats }
  }
}

function unknownSet(name: string): never {
  throw new RangeError(`the vocabulary has no set ${name}`)
}

function firstWords(places: readonly Place[]): Set<string> {
  const first = new Set<string>()
  for (const place of places) {
    if (place.words === null) throw new RangeError("a phrase cannot start with a gap")
    for (const word of place.words) first.add(word)
    if (!place.optional) break
  }
  return first
}

type End = { to: number; gap: { from: number; to: number } | null }

/** The longest way to lay the places onto the words; null where there is none. At most a few dozen steps. */
function matchEnd(
  places: readonly Place[],
  index: number,
  words: readonly string[],
  at: number,
  passable: (index: number) => boolean,
): End | null {
  const place = places[index]
  if (!place) return { to: at, gap: null }
  if (place.words === null) {
    for (let length = 1; length <= MOST_BETWEEN; length += 1) {
      if (at + length > words.length || !passable(at + length - 1)) return null
      const rest = matchEnd(places, index + 1, words, at + length, passable)
      if (rest) return { to: rest.to, gap: { from: at, to: at + length } }
    }
    return null
  }
  const here = place.words.has(words[at] as string)
  if (here && place.repeats && at < words.length) {
    // Taking every word of a repeated place first keeps the steps few: its words are no others' of the phrase.
    let to = at
    while (to - at < MOST_REPEATS && place.words.has(words[to] as string)) to += 1
    for (let end = to; end >= at; end -= 1) {
      const rest = matchEnd(places, index + 1, words, end, passable)
      if (rest) return rest
    }
    return null
  }
  const taken = here ? matchEnd(places, index + 1, words, at + 1, passable) : null
  const skipped = place.optional ? matchEnd(places, index + 1, words, at, passable) : null
  if (!taken) return skipped
  return skipped && skipped.to > taken.to ? skipped : taken
}
