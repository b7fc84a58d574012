import type { ReplyBed } from "./context.ts"
import type { Tag } from "./facts.ts"
import type { BedMention } from "./item.ts"
import { type Name, nameWords, singular } from "./names.ts"
import { isTagged } from "./says.ts"
import type { Words } from "./vocabulary.ts"
import type { Word } from "./words.ts"

type BedName = { words: readonly string[]; bed: string; part: "name" | "core" | "piece"; owned: boolean }

/** The names of this garden's beds, made ready for one text. */
export type BedNames = {
  byFirst: ReadonlyMap<string, readonly BedName[]>
  /** Every word of a name, for spelling. */
  words: ReadonlySet<string>
  /** First letters of names such as "Bed 3", with the numbers: "b3". */
  lettered: ReadonlyMap<string, string>
  /** Beds named with a number, by the word before it in the singular and the number: "terrace 2". */
  numbered: ReadonlyMap<string, string>
  /** Those words. */
  nouns: ReadonlySet<string>
  count: number
}

export function bedNames(beds: readonly ReplyBed[], vocabulary: Words): BedNames {
  const byFirst = new Map<string, BedName[]>()
  const words = new Set<string>()
  const lettered = new Map<string, string>()
  const numbered = new Map<string, string>()
  const nouns = new Set<string>()
  const add = (name: BedName): void => {
    const first = singular(name.words[0] as string)
    const list = byFirst.get(first) ?? []
    if (!list.some((each) => each.bed === name.bed && each.words.join(" ") === name.words.join(" "))) list.push(name)
    byFirst.set(first, list)
  }
  for (const { id, name, also } of beds) {
    for (const said of [name, ...(also ?? []), ...(isOwned(name) ? [] : [id])].flatMap(spellings)) {
      const all = said
      if (all.length === 0) continue
      const full = isTold(all[0], "article", vocabulary) && all.length > 1 ? all.slice(1) : all
      const owned = isOwned(name)
      add({ words: full, bed: id, part: "name", owned })
      for (const word of full) if (!/^\d/.test(word)) words.add(word)
      const core = full.filter((word) => !isTold(word, "bed-noun", vocabulary))
      const isNumber = core.every((word) => /^\d/.test(word) || vocabulary.facts.get(word)?.number !== undefined)
      if (core.length > 0 && core.length < full.length && !isNumber) add({ words: core, bed: id, part: "core", owned })
      const number = full.length === 2 ? numberIn(full[1] as string, vocabulary) : null
      if (number !== null && !/^\d/.test(full[0] as string)) {
        numbered.set(`${singular(full[0] as string)} ${number}`, id)
        nouns.add(singular(full[0] as string))
      }
      if (isNumber && full.length === 2 && core.length === 1) lettered.set(`${(full[0] as string)[0]} ${core[0]}`, id)
      if (core.length > 1)
        for (const piece of pieces(core, vocabulary)) add({ words: [piece], bed: id, part: "piece", owned })
    }
  }
  for (const noun of nouns) {
    const ids = [...numbered].filter(([name]) => name.startsWith(`${noun} `)).map(([, id]) => id)
    const [only, other] = new Set(ids)
    // "tunnel" where there is one: "Tunnel 1".
    if (only !== undefined && other === undefined && !isTold(noun, "plain-bed-noun", vocabulary))
      add({ words: [noun], bed: only, part: "core", owned: false })
  }
  return { byFirst, words, lettered, numbered, nouns, count: beds.length }
}

function numberIn(word: string, vocabulary: Words): number | null {
  return /^\d+$/.test(word) ? Number(word) : (vocabulary.facts.get(word)?.number ?? null)
}

function isTold(word: string | undefined, tag: Tag, vocabulary: Words): boolean {
  return vocabulary.facts.get(word ?? "")?.tags.has(tag) === true
}

/** "Maria's plot": the id may be the person alone, who is not the bed. */
function isOwned(name: string): boolean {
  return /['’]s\b/i.test(name)
}

/** The words of a name as a text may have them: "Maria's plot" also without its apostrophe. */
function spellings(name: string): string[][] {
  const owned = name.split(/['’]s\b/i)
  if (owned.length === 1) return [nameWords(name)]
  const apart = owned.flatMap((part, index) => (index === 0 ? nameWords(part) : ["'s", ...nameWords(part)]))
  return [apart, nameWords(name)]
}

/** Single words of a longer name that may stand for it. */
function pieces(core: readonly string[], vocabulary: Words): string[] {
  // "under the plums" says where a bed is; its plums are no name.
  if (vocabulary.light.has(core[0] as string)) return []
  // Whose bed it is, is a person's name.
  if (core.includes("'s")) return []
  return core.filter((word) => word.length >= 3 && !/^\d/.test(word) && !vocabulary.light.has(word))
}

/** The longest mention of a bed that starts at word `start`. */
export function bedAt(
  names: BedNames,
  words: readonly Word[],
  start: number,
  vocabulary: Words,
): { to: number; mention: BedMention } | null {
  const first = words[start]
  if (!first || first.kind === "mark" || first.kind === "picture") return null
  const known = knownAt(names, words, start, vocabulary)
  if (known) return known
  return letteredAt(names, words, start)
}

function knownAt(names: BedNames, words: readonly Word[], start: number, vocabulary: Words) {
  const first = words[start] as Word
  const candidates = names.byFirst.get(singular(first.word)) ?? []
  let best: { to: number; part: BedName["part"]; beds: string[]; noun: boolean } | null = null
  for (const name of candidates) {
    const end = endOf(name.words, words, start, vocabulary)
    if (end === null || isPlural(name, words, start)) continue
    const noun = name.part !== "name" || name.words.length === 1
    const to = noun && isNoun(words[end], vocabulary) ? end + 1 : end
    const rank = { name: 2, core: 2, piece: 1 }[name.part]
    const bestRank = best ? { name: 2, core: 2, piece: 1 }[best.part] : 0
    if (!best || to > best.to || (to === best.to && rank > bestRank))
      best = { to, part: name.part, beds: [name.bed], noun: to > end }
    else if (to === best.to && rank === bestRank && !best.beds.includes(name.bed)) best.beds.push(name.bed)
  }
  if (!best) return null
  const single = best.to - start === 1
  return { to: best.to, mention: { beds: best.beds, doubtful: single && isDoubtful(first.word, vocabulary) } }
}

/** "plums" are fruit, and not the Plum strip; but "both wests". */
function isPlural(name: BedName, words: readonly Word[], start: number): boolean {
  const word = words[start]?.word ?? ""
  // "joe" is a person, "joes" may be his plot.
  if (name.owned && name.words.length === 1 && word !== name.words[0]) return true
  if (name.words.length > 1 || word === name.words[0] || words[start]?.kind !== "word" || word === `${name.words[0]}'s`)
    return false
  const before = words[start - 1]
  // "by the gooseberries" is where the Gooseberry row is.
  if (isTagged(before, "article") && isTagged(words[start - 2], "plural-place")) return false
  return singular(word) === name.words[0] && !isTagged(before, "plural-lead")
}

/** Where the words of a name end, if they stand at `start`; a number may be spelt or sound alike behind a bed word. */
function endOf(name: readonly string[], words: readonly Word[], start: number, vocabulary: Words): number | null {
  let skipped = 0
  for (let i = 0; i < name.length; i += 1) {
    // "the left of the path" is "Left of path" too.
    if (i > 0 && name[i] !== words[start + i + skipped]?.word && isTagged(words[start + i + skipped], "article"))
      skipped += 1
    // "under plums" is "Under the plums" too.
    if (
      i > 0 &&
      i < name.length - 1 &&
      isTold(name[i], "article", vocabulary) &&
      words[start + i + skipped]?.word !== name[i]
    ) {
      skipped -= 1
      continue
    }
    const word = words[start + i + skipped]
    const wanted = name[i] as string
    if (!word || word.kind === "mark" || word.kind === "picture") return null
    if (/^\d/.test(wanted)) {
      // "room for one more" speaks of no room.
      const sounds = i > 0 && !isTagged(words[start + i + skipped + 1], "no-sound")
      if (numberOf(word, sounds, vocabulary) !== Number(wanted)) return null
    } else if (vocabulary.facts.get(wanted)?.number !== undefined && word.kind === "number") {
      if (word.value !== vocabulary.facts.get(wanted)?.number) return null
    } else if (word.word !== wanted && singular(word.word) !== singular(wanted)) return null
  }
  return start + name.length + skipped
}

function numberOf(word: Word, soundsCount: boolean, vocabulary: Words): number | undefined {
  if (word.kind === "number") return word.ordinal ? undefined : word.value
  const fact = vocabulary.facts.get(word.word)
  return fact?.number ?? (soundsCount ? fact?.soundsNumber : undefined)
}

function isNoun(word: Word | undefined, vocabulary: Words): boolean {
  return word?.kind === "word" && vocabulary.facts.get(word.word)?.tags.has("bed-noun") === true
}

/** "b3" for "Bed 3" */
function letteredAt(names: BedNames, words: readonly Word[], start: number) {
  const [letter, number] = words.slice(start, start + 2)
  if (letter?.kind !== "word" || letter.word.length !== 1 || number?.kind !== "number" || !number.glued) return null
  const bed = names.lettered.get(`${letter.word} ${number.value}`)
  return bed ? { to: start + 2, mention: { beds: [bed], doubtful: false } } : null
}

/** Is a word that may name a bed more often something else? Then its place in the sentence decides. */
function isDoubtful(word: string, vocabulary: Words): boolean {
  const fact = vocabulary.facts.get(word)
  return (
    fact?.tags.has("risky-bed") === true ||
    vocabulary.light.has(word) ||
    isName(vocabulary.species.get(word)) ||
    isName(vocabulary.crops.get(word)) ||
    fact?.weekday !== undefined ||
    fact?.month !== undefined
  )
}

/** Is the word a name by itself, and not only the first of one ("bell beans")? */
function isName(names: readonly Name[] | undefined): boolean {
  return names?.some((name) => name.words.length === 1) === true
}

/**
 * A bed that this garden does not have: a bed word with a number or a naming word that fits none ("the west bed",
 * "bed 5"). `nouns`: the words that beds are numbered with here.
 */
export function unknownBedAt(
  words: readonly Word[],
  start: number,
  vocabulary: Words,
  nouns: ReadonlySet<string>,
  isPlain: (index: number) => boolean,
): { to: number } | null {
  const isNoun = (word: string): boolean => vocabulary.facts.get(word)?.tags.has("plain-bed-noun") === true
  const isNumbered = (word: string): boolean => isNoun(word) || nouns.has(singular(word))
  const first = words[start]
  const second = words[start + 1]
  if (!first || !second || first.kind !== "word") return null
  if (isNumbered(first.word) && second.kind === "number" && Number.isInteger(second.value)) return { to: start + 2 }
  if (isNumbered(first.word) && second.kind === "word" && vocabulary.facts.get(second.word)?.number !== undefined)
    return { to: start + 2 }
  if (second.kind !== "word" || !isNoun(second.word)) return null
  if (vocabulary.facts.get(first.word)?.tags.has("bed-adjective") || !isPlain(start)) return null
  return { to: start + 2 }
}
