import type { Handbook } from "../handbook/handbook.ts"
import { addDays, type Day } from "../values/day.ts"
import { named, readSaidDay, wordsOfMix } from "./first-answers.ts"
import type { DateOrder } from "./garden.ts"
import { type Read, readName, type Wrong } from "./read-words.ts"
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

export type SaidBed = { name: string; size: string | null }

/** A bed and its size: `South bed, 4 x 8 ft`, `4x8 ft south bed`, `South bed`; without its name it is `Bed 1`. */
export function readBed(text: string): Read<SaidBed> {
  const words = text
    .trim()
    .replace(/[.!]+$/, "")
    .split(/[\s,;:]+/)
    .filter((word) => word !== "")
  // The longest stretch of words that is a size.
  for (let length = Math.min(8, words.length); length > 0; length -= 1) {
    for (let from = 0; from + length <= words.length; from += 1) {
      const size = words.slice(from, from + length).join(" ")
      if (!("m2" in readSize(size))) continue
      const rest = [...words.slice(0, from), ...words.slice(from + length)].filter(
        (word) => !/^(?:it|is|its|it's|and|about|called)$/i.test(word),
      )
      const name = readName(rest.length > 0 ? rest.join(" ") : "Bed 1")
      return "value" in name ? { value: { name: capital(name.value), size } } : name
    }
  }
  const name = readName(text.replace(/[.!,]+$/, ""))
  return "value" in name ? { value: { name: capital(name.value), size: null } } : name
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
  return "value" in mix ? { wrong: "no-day", expected: "and the day it was sown, such as 20 Sep" } : mix
}

function readMix(text: string, handbook: Handbook): Read<SaidSowing["species"]> {
  const species: SaidSowing["species"] = []
  for (const { word, share } of wordsOfMix(text)) {
    const found = named(word, handbook.species, "cover")
    if ("wrong" in found) return { ...found, expected: `covers by their names; ${JSON.stringify(word)} is not known` }
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
  return { wrong: "several", expected: `which ${word}: ${names.slice(0, 3).join(" or ")}` }
}
