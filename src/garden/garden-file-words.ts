import { z } from "zod"
import {
  ID_EXPECTED,
  listOf,
  type Read,
  readBetween,
  readChoice,
  readDay,
  readId,
  readName,
  readTime,
} from "./read-words.ts"
import { readZone } from "./read-zone.ts"

/**
 * What is said of a value of the file: `expects` says in words what is right there; `ids` marks words that must be ids of
 * the handbook, which the reader looks up and the JSON Schema lists.
 */
export type About = { title: string; description?: string; expects?: string; ids?: "species" | "crops" | "climates" }

/** A word of the file that a reader makes a value of. What JSON Schema says of it goes in `json`. */
export function word<T>(read: (text: string) => Read<T>, about: About, json: Record<string, unknown> = {}) {
  return z
    .string()
    .transform((text, context): T => {
      const found = read(text)
      if ("value" in found) return found.value
      context.addIssue({ code: "custom", params: found })
      return z.NEVER
    })
    .meta({ ...about, ...json })
}

/** One of a few words. */
export function choice<const Word extends string>(words: readonly Word[], about: About) {
  const expects = about.expects ?? listOf(words)
  const read = (text: string): Read<Word> => {
    const found = readChoice(text, words)
    return "wrong" in found ? { ...found, expected: expects } : found
  }
  return word(read, { ...about, expects }, { enum: words })
}

/** Words that editors may take for numbers. */
export const EITHER_WAY = { type: ["string", "number"] }
/** An id that the gardener gives. */
export const id = (title: string, description: string) =>
  word(readId, { title, description, expects: ID_EXPECTED }, { ...EITHER_WAY, pattern: "^[a-z0-9-]{1,40}$" })
/** A name for people. */
export const name = (title: string, description: string) =>
  word(readName, { title, description, expects: "a name of 1 to 40 characters" }, EITHER_WAY)
/** A day of the calendar. */
export const day = (title: string, description: string) =>
  word(readDay, { title, description, expects: "a day as YYYY-MM-DD" }, { pattern: "^\\d{4}-\\d{2}-\\d{2}$" })
/** A time of the day; `otherwise` is taken where it is omitted. */
export const time = (title: string, otherwise?: string) =>
  word(
    readTime,
    { title, expects: "a time as HH:MM", ...(otherwise ? { description: `Omitted: ${otherwise}.` } : {}) },
    { pattern: "^\\d{1,2}:\\d{2}$" },
  )
/** A time zone. */
export const zone = (title: string, description: string) =>
  word(readZone, { title, description, expects: "a zone as Area/Place, such as America/New_York" })
/** A number with its unit, both bounds in. */
export const between = (low: number, high: number, title: string, unit: string, description?: string) =>
  word(
    (text) => readBetween(text, low, high, unit),
    { title, expects: `a number from ${low} to ${high} ${unit}`, ...(description ? { description } : {}) },
    { type: "number", minimum: low, maximum: high },
  )
/** An id of the handbook: its shape is anything, `read-beds.ts` and `read-place.ts` look it up. */
export const known = (ids: "species" | "crops" | "climates", title: string, description?: string) =>
  word((text) => ({ value: text }), {
    title,
    ids,
    expects: `the id of a ${ids === "crops" ? "crop" : ids === "climates" ? "bundled climate" : ids}`,
    ...(description ? { description } : {}),
  })
