import type { Handbook } from "../handbook/handbook.ts"
import { addDays, type Day } from "../values/day.ts"
import { named as namedPlant, readSaidDay, wordsOfMix } from "./first-answers.ts"
import type { DateOrder, Units } from "./garden.ts"
import { listOf, type Read, readName, type Wrong } from "./read-words.ts"
import { readSize } from "./size.ts"

/*
 * Answers of somebody who joins by text: as people write them on a phone, with the whole answer in one line.
 */

/** A name: `Sam`, `I'm Sam`, `my name is Sam.` */
export function readFirstName(text: string): Read<string> {
  const name = text
    .trim()
    .replace(/^(?:hi|hello|hey)[,!. ]+/i, "")
    .replace(/^(?:i am|i'm|im|i’m|my name is|my name's|this is|it is|it's|name is|call me)\s+/i, "")
    .replace(/[.!,]+$/, "")
    .trim()
  if (!/\p{L}/u.test(name) || /\d{3}|@|https?:/.test(name)) return { wrong: "not-a-name", expected: "a first name" }
  return readName(name)
}

/** A bed as it was told; `rest`: words after it, which may be what is sown there. */
export type SaidBed = { name: string; size: string | null; rest: string | null }

/** The name that a bed has where only its size was told. */
const NO_NAME = "Bed 1"
const FILLERS = /^(?:it|is|its|it's|and|about|called|named)$/i

/**
 * A bed, its size, and what is sown there where that is told with it: `South bed, 4 x 8 ft`, `4x8 ft south bed`, `South bed`,
 * `north, 4x8, winter rye sown 3 Oct`. Two sides without a unit are feet or metres, as the garden's units say.
 */
export function readBed(text: string, units: Units, readsAsSowing: (words: string) => boolean): Read<SaidBed> {
  const words = text
    .trim()
    .replace(/[.!]+$/, "")
    .replace(/\s*\n+\s*/g, ", ")
    .split(/\s+|(?<=[,;:])/)
    .filter((word) => word !== "")
  const bare = words.map((word) => word.replace(/[,;:]+$/, ""))
  // The longest stretch of words that is a size.
  for (let length = Math.min(8, words.length); length > 0; length -= 1) {
    for (let from = 0; from + length <= words.length; from += 1) {
      const size = sizeIn(bare.slice(from, from + length).join(" "), units)
      if (size === null) continue
      const [before, after] = [words.slice(0, from).join(" "), words.slice(from + length).join(" ")]
      const isEnd = /[,;:]$/.test(words[from + length - 1] ?? "")
      const { name, rest } = partsAround(before, after, isEnd, readsAsSowing)
      return named({ name, size, rest })
    }
  }
  const [first = "", ...more] = text.split(/[,;\n]\s*/)
  const rest = more.join(", ")
  const isSown = rest !== "" && readsAsSowing(rest)
  return named({ name: isSown ? first : text, size: null, rest: isSown ? rest : null })
}

/** Which of the words around a size are the bed's name, and which tell of something else. */
function partsAround(
  before: string,
  after: string,
  isEnd: boolean,
  readsAsSowing: (words: string) => boolean,
): { name: string; rest: string | null } {
  if (after === "") return { name: before, rest: null }
  if (before !== "" && (isEnd || readsAsSowing(after))) return { name: before, rest: after }
  const [first = "", ...more] = after.split(/[,;]\s*/)
  return { name: `${before} ${first}`, rest: more.join(", ") || null }
}

function named({ name, size, rest }: SaidBed): Read<SaidBed> {
  const words = name
    .replace(/[.!,;:]+$/, "")
    .split(/\s+/)
    .filter((word) => word !== "" && (size === null || !FILLERS.test(word)))
  const read = readName(words.join(" ").replace(/[,;:]+$/, "") || (size === null ? "" : NO_NAME))
  return "value" in read ? { value: { name: capital(read.value), size, rest } } : read
}

/** Sides that a bed may have where they were told without a unit; longer ones may be inches or centimetres: then it is asked. */
const LONGEST_BARE = { us: 40, metric: 15 } as const
const BARE = /^(\d+(?:\.\d+)?)\s*(?:x|×|\*|by)\s*(\d+(?:\.\d+)?)$/i

/** A size as a garden file has it; null where the words are none. */
function sizeIn(words: string, units: Units): string | null {
  if ("m2" in readSize(words)) return words
  const [, a, b] = BARE.exec(words) ?? []
  if (a === undefined || b === undefined || Math.max(Number(a), Number(b)) > LONGEST_BARE[units]) return null
  const size = `${a} x ${b} ${units === "us" ? "ft" : "m"}`
  return "m2" in readSize(size) ? size : null
}

function capital(name: string): string {
  return name.slice(0, 1).toUpperCase() + name.slice(1)
}

export type SaidSowing = { on: Day; isSown: boolean; species: { id: string; share: number | null }[] }

/** A day without its year is rather past: autumn covers are told of in spring, and plans for the weeks ahead. */
const SOWN_AGO_DAYS = 120

const NOTHING = /^\W*(?:none|nothing|no|nope|not yet|nothing yet|empty|bare|later|skip)\b[^,]*$/i

/** A sowing: `rye 60, vetch 40, 20 Sep`, `oats and peas on May 3`; null: there is none yet. */
export function readSowing(text: string, handbook: Handbook, today: Day, order: DateOrder): Read<SaidSowing | null> {
  if (NOTHING.test(text)) return { value: null }
  const words = text
    .trim()
    .replace(/^(?:i|we|it's|it is|there is)?\s*(?:have\s+)?(?:sowed|sown|sow|planted|seeded)\s+/i, "")
    .replace(/[.!]+$/, "")
    .split(/\s+/)
  for (let from = 1; from < words.length; from += 1) {
    const said = words
      .slice(from)
      .join(" ")
      .replace(/^(?:(?:was|were)\s+)?(?:sown|sowed|planted)?\s*(?:on|the|since)?\s+/i, "")
    const day = readSaidDay(said.trim(), today, order, addDays(today, -SOWN_AGO_DAYS))
    if (!("value" in day)) continue
    const mix = readMix(
      words
        .slice(0, from)
        .join(" ")
        .replace(/[,;:]?\s*(?:sown|sowed|on|the|since)?[,;:]?$/i, ""),
      handbook,
    )
    return "value" in mix ? { value: { on: day.value, isSown: day.value <= today, species: mix.value } } : mix
  }
  const mix = readMix(words.join(" "), handbook)
  return "value" in mix ? { wrong: "no-day", expected: "the day it was sown too, such as 20 Sep" } : mix
}

/** So much of a word that is not known is said back: people write whole stories. */
const LONGEST_ECHO = 30

function readMix(text: string, handbook: Handbook): Read<SaidSowing["species"]> {
  const species: SaidSowing["species"] = []
  for (const { word, share } of wordsOfMix(text)) {
    // A share without a name behind it.
    if (word === "") continue
    const found = namedPlant(word, handbook.species, "cover")
    if ("wrong" in found)
      return {
        ...found,
        expected: `covers by their names, and do not know ${JSON.stringify(word.slice(0, LONGEST_ECHO))}`,
      }
    const [only, second] = found.ids
    if (only === undefined || second !== undefined) return several(word, found.ids, handbook)
    if (!species.some((each) => each.id === only)) species.push({ id: only, share })
  }
  if (species.length === 0) return { wrong: "no-cover", expected: "a cover, such as rye" }
  const shares = species.map(({ share }) => share)
  const isWhole = Math.abs(shares.reduce<number>((sum, share) => sum + (share ?? 0), 0) - 100) <= 2
  // Shares that do not add up are left out rather than guessed: equal parts are the plain reading of a list.
  return { value: isWhole && !shares.includes(null) ? species : species.map(({ id }) => ({ id, share: null })) }
}

function several(word: string, ids: readonly string[], handbook: Handbook): Wrong {
  const names = ids.map((id) => handbook.species.get(id)?.names[0] ?? id)
  return { wrong: "several", expected: `to know which ${word.slice(0, LONGEST_ECHO)}: ${listOf(names.slice(0, 3))}` }
}
