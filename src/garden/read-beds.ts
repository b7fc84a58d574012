import type { Handbook } from "../handbook/handbook.ts"
import { partsOf } from "../values/day.ts"
import { nearestWord } from "../values/nearest.ts"
import type { Place, Problem } from "../values/problem.ts"
import { add, type Found, has, listAt, nameOf, wordAt, wordsIn } from "./read-parts.ts"
import { type Keys, partAt, shorten, type Tree, type Words } from "./read-tree.ts"
import { listOf, readDay, readShare } from "./read-words.ts"

const bedField = (bed: Keys) => `beds[${nameOf(bed, "id")}]`

/**
 * What no single word of a bed can show: words that stand for two beds, species and crops that the handbook does not
 * hold, shares and days that contradict each other.
 */
export function checkBeds(tree: Tree, handbook: Handbook, found: Found) {
  const beds = listAt(tree, "beds")
  checkBedWords(beds, found)
  for (const bed of beds) {
    for (const sowing of listAt(bed, "sowings")) checkSowing(bed, sowing, handbook, found)
    checkSowingDays(bed, found)
  }
}

/** No id, name or other word of a bed may stand for another bed too: replies would have two beds to mean. */
function checkBedWords(beds: readonly Keys[], { problems }: Found) {
  const owners = new Map<string, { bed: Keys; line: number }>()
  for (const bed of beds) {
    const named: [string, Words | null][] = [
      ["id", wordAt(bed, "id")],
      ["name", wordAt(bed, "name")],
      ...wordsIn(bed, "also").map((word): [string, Words] => ["also", word]),
    ]
    for (const [key, word] of named) {
      if (!word) continue
      const plain = word.text.trim().normalize("NFC").toLowerCase()
      const owner = owners.get(plain)
      if (!owner) owners.set(plain, { bed, line: word.at.line })
      else if (owner.bed !== bed) {
        add(problems, key === "id" ? "same-id" : "same-name", word.at, `${bedField(bed)}.${key}`, {
          found: word.text,
          expected: `a word for this bed alone: it stands for ${nameOf(owner.bed, "name", "id")} in line ${owner.line}`,
        })
      }
    }
  }
}

function checkSowing(bed: Keys, sowing: Keys, handbook: Handbook, found: Found) {
  const field = `${bedField(bed)}.sowings[${nameOf(sowing, "sown", "planned")}]`
  const [sown, planned] = [has(sowing, "sown"), has(sowing, "planned")]
  if (sown && planned)
    add(found.problems, "sown-and-planned", sowing.entries.get("planned")?.at ?? sowing.at, field, {
      found: "both sown and planned",
      expected: "one of them: sown once it is in the ground",
    })
  else if (!sown && !planned)
    add(found.problems, "missing", sowing.at, field, {
      found: "neither sown nor planned",
      expected: "the day as sown: YYYY-MM-DD, or planned: YYYY-MM-DD",
    })
  checkSpecies(sowing, `${field}.species`, handbook, found.problems)
  checkNext(sowing, `${field}.next`, handbook, found)
}

/** No crop waits so many calendar years for its bed. Common practice, no source. */
const MOST_YEARS_TO_NEXT = 2

function checkNext(sowing: Keys, field: string, handbook: Handbook, { problems, warnings }: Found) {
  const crop = wordAt(sowing, "next", "crop")
  if (crop && !handbook.crops.has(crop.text))
    add(problems, "unknown-crop", crop.at, `${field}.crop`, {
      found: crop.text,
      expected: "the id of a crop (the command crops lists them)",
      nearest: nearestEntry(crop.text, handbook.crops),
    })
  const wanted = wordAt(sowing, "next", "wanted")
  const [from, until] = [dayAt(sowing, "sown") ?? dayAt(sowing, "planned"), dayAt(sowing, "next", "wanted")]
  if (!wanted || !from || !until) return
  const found = wanted.text
  if (until <= from)
    add(problems, "wanted-before-sowing", wanted.at, `${field}.wanted`, {
      found,
      expected: `a day after the sowing of ${from}`,
    })
  else if (partsOf(until).year - partsOf(from).year > MOST_YEARS_TO_NEXT)
    add(warnings, "wanted-late", wanted.at, `${field}.wanted`, {
      found,
      expected: `a day within two years of the sowing of ${from}`,
    })
}

function dayAt(tree: Tree, ...path: string[]) {
  const word = wordAt(tree, ...path)
  const read = word ? readDay(word.text) : null
  return read && "value" in read ? read.value : null
}

/** Percent and fractions alike may miss the whole by so much of it, for thirds written as 33 or 0.33. */
const SHARES_TOLERANCE = 0.02

function checkSpecies(sowing: Keys, field: string, handbook: Handbook, problems: Problem[]) {
  const part = partAt(sowing, ["species"])
  const named: { text: string; at: Place }[] =
    part?.is === "keys"
      ? [...part.entries].map(([text, entry]) => ({ text, at: entry.at }))
      : wordsIn(sowing, "species")
  const seen = new Set<string>()
  for (const { text, at } of named) {
    if (!handbook.species.has(text))
      add(problems, "unknown-species", at, field, {
        found: text,
        expected: "the id of a species (the command species lists them)",
        nearest: nearestEntry(text, handbook.species),
      })
    else if (seen.has(text))
      add(problems, "same-species", at, field, { found: `${text} again`, expected: "each species once" })
    seen.add(text)
  }
  if (part?.is === "keys") checkShares(part, field, problems)
}

function checkShares(part: Keys, field: string, problems: Problem[]) {
  if (part.entries.size === 0)
    add(problems, "missing", part.at, field, { found: "nothing", expected: "at least one species" })
  const shares = [...part.entries.values()].map(({ value }) => (value.is === "words" ? readShare(value.text) : null))
  const values = shares.flatMap((share) => (share && "value" in share ? [share.value] : []))
  if (values.length === 0 || values.length < shares.length) return
  const sum = values.reduce((total, share) => total + share, 0)
  if ([100, 1].some((whole) => Math.abs(sum - whole) <= SHARES_TOLERANCE * whole)) return
  add(problems, "shares-not-whole", part.at, field, {
    found: `shares that add up to ${Number(sum.toFixed(2))}`,
    expected: "shares that add up to 100 (or to 1)",
  })
}

/** The id meant by a word: those of a name people use (several where it names several), else the nearest id or name. */
function nearestEntry(text: string, entries: ReadonlyMap<string, { id: string; names: readonly string[] }>) {
  const ids = new Map<string, Set<string>>()
  for (const { id, names } of entries.values()) {
    for (const name of [id, ...names]) {
      const word = name.toLowerCase()
      ids.set(word, (ids.get(word) ?? new Set()).add(id))
    }
  }
  const plain = text.trim().toLowerCase()
  const word = ids.has(plain) ? plain : nearestWord(plain.replaceAll(/[\s_]+/g, "-"), ids.keys())
  return word === undefined ? undefined : listOf([...(ids.get(word) ?? [])])
}

/** Sowings are known by bed and day: two of one bed on one day would be one. */
function checkSowingDays(bed: Keys, { problems }: Found) {
  const lines = new Map<string, number>()
  for (const sowing of listAt(bed, "sowings")) {
    const word = wordAt(sowing, "sown") ?? wordAt(sowing, "planned")
    if (!word) continue
    const before = lines.get(word.text)
    if (before)
      add(problems, "same-sowing", word.at, `${bedField(bed)}.sowings[${shorten(word.text)}]`, {
        found: word.text,
        expected: `one sowing of a bed on a day (line ${before} has it too): a mix is one sowing of several species`,
      })
    else lines.set(word.text, word.at.line)
  }
}
