import { z } from "zod"
import { SMALL_LISTS } from "./small-lists.ts"

/** Words with spaces between them. */
export const wordList = z.string().transform((text) => text.split(/\s+/).filter((word) => word !== ""))
const words = wordList
const phrases = z.array(z.string().min(1))
const forms = z.strictObject({ did: phrases, do: phrases, doing: phrases, noun: phrases })
const named = z.record(z.string(), phrases)

/** Shape of `shared/tables/words-LANGUAGE.json`. */
export const wordsSchema = z.strictObject({
  language: z.string(),
  about: z.string(),
  keyboard: phrases,
  spellings: z.record(z.string(), words),
  spoken_marks: z.record(z.string(), z.string()),
  sounds: z.strictObject({
    numbers: z.record(z.string(), z.number()),
    species: z.record(z.string(), z.string()),
  }),
  numbers: z.record(z.string(), z.number()),
  ordinals: z.record(z.string(), z.number()),
  sets: z.record(z.string(), words),
  pictures: z.record(z.string(), words),
  acts: z.record(z.string(), forms),
  crop_in: phrases,
  stages: named,
  stages_base: named,
  weak: words,
  people: words,
  forces: words,
  moments: phrases,
  tops: named,
  commands: named,
  stop: named,
  tell: named,
  ways: named,
  courtesy: phrases,
  traps: phrases,
  light: words,
  small: z.record(z.enum(SMALL_LISTS), words),
  kinds: z.record(z.string(), words),
  bed_nouns: words,
  plain_bed_nouns: words,
  bed_adjectives: words,
  bed_not: phrases,
  risky_beds: words,
  species: z.strictObject({ any: z.record(z.string(), z.array(z.string())), usual: z.array(z.string()) }),
  crops: z.record(z.string(), z.string()),
  crop_nouns: words,
  units: z.array(z.strictObject({ of: z.enum(["length", "weight", "share", "other"]), factor: z.number(), words })),
  degrees: z.strictObject({ any: words, c: words, f: words }),
  amount_words: z.record(z.string(), z.number()),
  square: words,
  measures: z.strictObject({
    height: words,
    soil: words,
    temperature: words,
    rain: words,
    weight: words,
    cover: words,
    "not-height": words,
  }),
  days: z.strictObject({
    weekdays: z.array(words).length(7),
    months: z.array(words).length(12),
    said: named,
    month_part: z.record(z.string(), z.number()),
    spans: z.record(z.string(), z.number()),
    ago: words,
    time_of_day: words,
    until: words,
  }),
})
export type WordsData = z.infer<typeof wordsSchema>
