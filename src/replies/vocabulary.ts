import { z } from "zod"
import { type Fact, factsOf } from "./facts.ts"
import { cropNames, firstWordsOf, type Name, type NameSource, speciesNames } from "./names.ts"
import { type Phrase, PhraseBook } from "./phrases.ts"
import { SlipIndex } from "./slips.ts"
import { type WordsData, wordList, wordsSchema } from "./words-data.ts"

/** Words of everyday language that are never taken for a slip of another word. */
const ordinarySchema = z.strictObject({ about: z.string(), licence: z.string(), words: wordList })

/** The vocabulary of a language with this handbook's species and crops: prepared once, never changed. */
export type Words = {
  data: WordsData
  book: PhraseBook
  expand(word: string): readonly string[] | undefined
  /** Names by their first word. */
  species: ReadonlyMap<string, readonly Name[]>
  crops: ReadonlyMap<string, readonly Name[]>
  /** Every word that some phrase or name knows. */
  known: ReadonlySet<string>
  ordinary: ReadonlySet<string>
  light: ReadonlySet<string>
  units: ReadonlyMap<string, Unit>
  facts: ReadonlyMap<string, Fact>
  /** Of each species the first words of its names, for spelling. */
  firstWords: ReadonlyMap<string, readonly string[]>
  slips: SlipIndex
  /** How much likelier (negative) or unlikelier than another a word is to be meant by a slip. */
  likelier: ReadonlyMap<string, number>
}

/** What a unit measures and how many of the base unit (cm, g, percent) it is. */
export type Unit = { of: UnitKind; factor: number }
export type UnitKind = "length" | "weight" | "share" | "other"

/** What of the handbook the vocabulary needs. */
export type WordSource = NameSource & { table(name: string): unknown }

/** Prepares the vocabulary of a language from the handbook; a few hundredths of a second, so do it once. */
export function prepareWords(handbook: WordSource, language = "en"): Words {
  const data = wordsSchema.parse(handbook.table(`words-${language}`))
  const ordinary = ordinarySchema.parse(handbook.table(`ordinary-words-${language}`))
  const book = new PhraseBook(data.sets)
  for (const phrase of phrasesOf(data)) book.add(phrase)
  const species = speciesNames(handbook.species, data)
  const crops = cropNames(handbook.crops, data)
  const light = new Set(data.light)
  const known = new Set([...book.words, ...light, ...plainWords(data)])
  for (const names of [...species.values(), ...crops.values()])
    for (const name of names) for (const word of name.words) known.add(word)
  // A slip of another spelling ("lsito") is put right first and then read as what it stands for.
  for (const word of Object.keys(data.spellings)) if (/^[a-z]{4,}$/.test(word)) known.add(word)
  const slips = new SlipIndex(data.keyboard)
  for (const word of known) slips.add(word)
  return {
    data,
    book,
    expand: (word) => (Object.hasOwn(data.spellings, word) ? data.spellings[word] : undefined),
    species,
    crops,
    known,
    ordinary: new Set([...ordinary.words, ...data.people, ...data.forces]),
    light,
    units: new Map(
      data.units.flatMap((unit) => unit.words.map((word) => [word, { of: unit.of, factor: unit.factor }])),
    ),
    slips,
    facts: factsOf(data),
    firstWords: firstWordsOf(species),
    likelier: likelierWords(data, light),
  }
}

/** What replies are made of is likelier meant than a small word; what was done is likelier than what is to be done. */
function likelierWords(data: WordsData, light: ReadonlySet<string>): Map<string, number> {
  const weights = new Map<string, number>()
  for (const word of light) weights.set(word, SMALL_WORD)
  const single = (list: readonly string[], weight: number): void => {
    for (const say of list)
      if (!say.includes(" ")) for (const word of say.split("|")) weights.set(word.replace("?", ""), weight)
  }
  for (const list of [
    ...Object.values(data.days.said),
    ...Object.values(data.ways),
    data.days.weekdays.flat(),
    Object.keys(data.days.spans),
    Object.keys(data.numbers),
    Object.keys(data.ordinals),
  ])
    single(list, REPLY_WORD)
  for (const list of Object.values(data.stages_base)) single(list, 0)
  for (const list of [...Object.values(data.stages), ...Object.values(data.commands), ...Object.values(data.stop)])
    single(list, REPLY_WORD)
  for (const forms of Object.values(data.acts)) single(forms.did, REPLY_WORD)
  return weights
}

const SMALL_WORD = 0.2
const REPLY_WORD = -0.15

/** Every phrase of the data with its sense, such as `act:cut:did` or `stage:bloom`. */
function* phrasesOf(data: WordsData): Iterable<{ say: string; sense: string }> {
  for (const [act, said] of Object.entries(data.acts))
    for (const [form, list] of Object.entries(said)) yield* senses(list, `act:${act}:${form}`)
  for (const group of ["stages", "tops", "commands", "stop", "tell", "ways"] as const)
    for (const [name, list] of Object.entries(data[group])) yield* senses(list, `${group}:${name}`)
  for (const [name, list] of Object.entries(data.days.said)) yield* senses(list, `day:${name}`)
  for (const [name, list] of Object.entries(data.stages_base)) {
    yield* senses(list, `stages:${name}`)
    yield* senses(list, "base")
  }
  yield* senses(data.moments, "light")
  yield* senses(data.crop_in, "crop-in")
  yield* senses(data.courtesy, "courtesy")
  yield* senses(data.traps, "trap")
  yield* senses(data.bed_not, "bed-not")
  for (const [name, list] of Object.entries(data.pictures)) yield* senses(list, `picture:${name}`)
  yield* senses(data.pictures.no ?? [], "ways:not")
  yield* senses(data.pictures.courtesy ?? [], "courtesy")
}

function* senses(list: readonly string[], sense: string): Iterable<Phrase> {
  for (const say of list) yield { say, sense }
}

/** Words that stand in no phrase but in a list of their own. */
function plainWords(data: WordsData): string[] {
  return [
    ...Object.keys(data.numbers),
    ...Object.keys(data.ordinals),
    ...data.units.flatMap((unit) => unit.words),
    ...data.degrees.any,
    ...data.degrees.c,
    ...data.degrees.f,
    ...data.square,
    ...Object.values(data.measures).flat(),
    ...data.days.weekdays.flat(),
    ...data.days.months.flat(),
    ...Object.keys(data.days.spans),
    ...Object.keys(data.days.month_part),
    ...data.days.ago,
    ...data.days.time_of_day,
    ...data.bed_nouns,
    ...data.crop_nouns,
    ...Object.keys(data.amount_words),
    ...Object.values(data.kinds).flat(),
  ].filter((word) => /^[a-z]/.test(word))
}
