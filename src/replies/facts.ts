import type { ReminderKind } from "../garden/entry.ts"
import { SMALL_LISTS } from "./small-lists.ts"
import type { WordsData } from "./words-data.ts"

/** What a single word is known to be, from the lists of the vocabulary. */
export type Fact = {
  number?: number
  ordinal?: number
  /** ISO weekday 1 to 7, month 1 to 12. */
  weekday?: number
  month?: number
  /** Days that a word of time spans. */
  span?: number
  /** Day of the month that "early", "mid" or "end" stand for. */
  monthPart?: number
  amount?: number
  kind?: ReminderKind
  soundsNumber?: number
  soundsSpecies?: string
  tags: ReadonlySet<Tag>
}

export type Tag =
  | (typeof SMALL_LISTS)[number]
  | "until"
  | "ago"
  | "time-of-day"
  | "bed-noun"
  | "plain-bed-noun"
  | "bed-adjective"
  | "risky-bed"
  | "measure"
  | "square"
  | "person"
  | "force"
  | "crop-noun"
  | "weak"
  | "degrees"
  | "celsius"
  | "fahrenheit"
  | "height"
  | "soil"
  | "temperature"
  | "rain"
  | "weight"
  | "cover"
  | "not-height"
  | "texts"
  | "lists"

/** One look-up instead of a search through every list; a map, so that no word of a text can reach anything else. */
export function factsOf(data: WordsData): ReadonlyMap<string, Fact> {
  const facts = new Map<string, Omit<Fact, "tags"> & { tags: Set<Tag> }>()
  const at = (word: string) => {
    let fact = facts.get(word)
    if (!fact) {
      fact = { tags: new Set() }
      facts.set(word, fact)
    }
    return fact
  }
  const tag = (words: readonly string[], name: Tag): void => {
    for (const word of words) at(word).tags.add(name)
  }
  for (const [word, number] of Object.entries(data.numbers)) at(word).number = number
  for (const [word, ordinal] of Object.entries(data.ordinals)) at(word).ordinal = ordinal
  data.days.weekdays.forEach((names, index) => {
    for (const name of names) at(name).weekday = index + 1
  })
  data.days.months.forEach((names, index) => {
    for (const name of names) at(name).month = index + 1
  })
  for (const [word, days] of Object.entries(data.days.spans)) at(word).span = days
  for (const [word, part] of Object.entries(data.days.month_part)) at(word).monthPart = part
  for (const [word, amount] of Object.entries(data.amount_words)) at(word).amount = amount
  for (const [word, number] of Object.entries(data.sounds.numbers)) at(word).soundsNumber = number
  for (const [word, name] of Object.entries(data.sounds.species)) at(word).soundsSpecies = name
  for (const [kind, words] of Object.entries(data.kinds))
    for (const word of words) if (!at(word).kind) at(word).kind = kind as ReminderKind
  tag(data.days.until, "until")
  tag(data.days.ago, "ago")
  tag(data.days.time_of_day, "time-of-day")
  tag(data.bed_nouns, "bed-noun")
  tag(data.plain_bed_nouns, "plain-bed-noun")
  tag(data.bed_adjectives, "bed-adjective")
  tag(data.risky_beds, "risky-bed")
  tag(data.people, "person")
  tag(data.forces, "force")
  tag(data.crop_nouns, "crop-noun")
  tag(data.weak, "weak")
  tag(data.square, "square")
  tag(data.degrees.any, "degrees")
  tag(data.degrees.c, "celsius")
  tag(data.degrees.f, "fahrenheit")
  for (const name of SMALL_LISTS) tag(data.small[name], name)
  tag(data.sets.texts ?? [], "texts")
  tag(data.sets.lists ?? [], "lists")
  for (const [name, words] of Object.entries(data.measures)) {
    tag(words, "measure")
    tag(words, name as Tag)
  }
  return facts
}
