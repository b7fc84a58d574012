import type { Item } from "./items.ts"
import type { Words } from "./vocabulary.ts"

type Facts = Words["facts"]

const BE = new Set([
  "bit",
  "got",
  "is",
  "its",
  "are",
  "'s",
  "was",
  "were",
  "been",
  "be",
  "looks",
  "look",
  "finally",
  "all",
  "just",
  "already",
  "now",
  "still",
  "not",
  "both",
  "have",
  "has",
  "mostly",
  "some",
  "few",
  "fully",
  "well",
  "half",
  "even",
  "nearly",
  "almost",
  "getting",
  "a",
  "so",
  "really",
  "very",
  "pretty",
  "quite",
  "totally",
  "definitely",
  "barely",
  "no",
  "most",
  "here",
  "there",
  "today",
  "yet",
  "only",
  "also",
  "too",
  "am",
])
const PRONOUNS = new Set([
  "it",
  "its",
  "they",
  "them",
  "everything",
  "something",
  "nothing",
  "these",
  "those",
  "that",
  "none",
  "anything",
])
const THINGS = new Set([
  "seedlings",
  "seeds",
  "sprouts",
  "shoots",
  "stand",
  "one",
  "ones",
  "cover",
  "crop",
  "leaves",
  "heads",
  "rest",
  "bed",
  "plot",
  "plants",
  "stuff",
  "half",
  "most",
  "more",
  "lot",
  "whole",
  "things",
])
const AFTER = new Set([
  "now",
  "finally",
  "already",
  "yet",
  "too",
  "nicely",
  "well",
  "and",
  "but",
  "in",
  "on",
  "at",
  "by",
  "everywhere",
  "good",
  "great",
  "evenly",
  "thick",
  "here",
  "there",
  "over",
  "today",
  "about",
  "since",
  "so",
  "again",
  "along",
  "through",
  "this",
  "last",
  "from",
  "under",
  "with",
  "a",
  "though",
  "also",
  "across",
  "as",
  "after",
  "behind",
])
/** Right behind these a stage is waited for, missed or spoken of, not seen. */
const UNSEEN = new Set([
  "for",
  "before",
  "until",
  "after",
  "past",
  "about",
  "during",
  "than",
  "like",
  "by",
  "without",
  "to",
  "at",
  "pre",
  "post",
])

/**
 * Is a stage said where something can be in that stage? Not as the object of work ("planted flowers"), not behind "for" or
 * "before", and a word such as "up" or "seed" only where a plant, a bed, "it" or "is" stands before it, or nothing does.
 */
export function isPlacedStage(items: readonly Item[], at: number, facts: Facts): boolean {
  const item = items[at] as Item
  // "heading out" is also what people do: only a plant or bed right before it makes it a stage.
  if (item.senses.has("trap") && !isOfPlant(items, at)) return false
  if (isObject(items, at) || isUnseen(items, at)) return false
  if (item.senses.has("base") && !isBegun(items, at)) return false
  if (item.to - item.from > 1 || !item.words[0] || !facts.get(item.words[0].word)?.tags.has("weak")) return true
  return hasSubject(items, at) && endsWell(items[at + 1])
}

/** Is the nearest thing before it a bed or a plant? */
function isOfPlant(items: readonly Item[], at: number): boolean {
  for (let i = at - 1; i >= 0; i -= 1) {
    const item = items[i] as Item
    if (item.bed || item.species) return true
    if (!item.words.every((word) => BE.has(word.word))) return false
  }
  return false
}

/** "planted some flowers", "watered the seedlings": nothing but small words between the work and it. */
function isObject(items: readonly Item[], at: number): boolean {
  for (let i = at - 1; i >= 0; i -= 1) {
    const item = items[i] as Item
    if ([...item.senses].some((sense) => /^act:(?!done).*:(did|doing)$/.test(sense))) return true
    if (item.bed || item.species || item.day || item.mark !== undefined || !item.senses.has("light")) return false
    if (PRONOUNS.has(item.words[0]?.word ?? "") || item.words[0]?.word === "and") return false
  }
  return false
}

function isUnseen(items: readonly Item[], at: number): boolean {
  let i = at - 1
  while (i >= 0 && ["the", "a", "its", "first", "any", "some", "my", "full"].includes(items[i]?.words[0]?.word ?? ""))
    i -= 1
  const before = items[i]
  const word = before?.words.at(-1)?.word ?? ""
  return before !== undefined && !before.day && !before.bed && UNSEEN.has(word) && !isBegun(items, at)
}

/** "started to head", "it did sprout" */
function isBegun(items: readonly Item[], at: number): boolean {
  const words = items.slice(Math.max(0, at - 3), at).flatMap((item) => item.words.map((word) => word.word))
  const last = words.at(-1) === "not" ? words.at(-2) : words.at(-1)
  if (["did", "has", "have", "had", "does"].includes(last ?? "")) return true
  return (
    last === "to" &&
    [
      "started",
      "starting",
      "starts",
      "start",
      "begun",
      "began",
      "beginning",
      "begins",
      "continue",
      "continues",
      "continuing",
    ].includes(words.at(-2) ?? "")
  )
}

/** Walks back over small words to what it is said of. */
function hasSubject(items: readonly Item[], at: number): boolean {
  const told = items[at]?.words[0]?.word ?? ""
  const seed = told.startsWith("seed")
  for (let i = at - 1; i >= 0; i -= 1) {
    const item = items[i] as Item
    const word = item.words[0]?.word ?? ""
    if (item.bed || item.numbers || item.mark !== undefined || item.amount) return true
    // "rye seed" is what one buys.
    if (item.species) return !seed || i < at - 1
    if (isPolite(item)) return item.to - item.from === 1 || item.senses.has("picture:courtesy")
    if ([...item.senses].some((sense) => /^(stages:|ways:(not|yet|all|both|partly|nearly|maybe))/.test(sense))) continue
    if (item.to - item.from === 1 && BE.has(word)) continue
    if (item.day || item.time) continue
    if (item.to - item.from === 1 && THINGS.has(word)) return true
    // "it's up", but not "keep it up": a pronoun must begin the clause or have its verb.
    if (PRONOUNS.has(word))
      return (
        i < at - 1 ||
        items
          .slice(0, i)
          .every(
            (each) => isPolite(each) || ["and", "but", "so", "yes", "think", "now"].includes(each.words[0]?.word ?? ""),
          )
      )
    return false
  }
  // "half way through" is of no plant.
  return told !== "through"
}

function isPolite(item: Item): boolean {
  return (
    item.senses.has("courtesy") ||
    item.senses.has("picture:courtesy") ||
    item.senses.has("name") ||
    item.senses.has("picture")
  )
}

function endsWell(after: Item | undefined): boolean {
  if (
    !after ||
    after.mark !== undefined ||
    after.day ||
    after.time ||
    after.bed ||
    after.species ||
    after.amount ||
    after.numbers
  )
    return true
  const word = after.words[0]?.word ?? ""
  return AFTER.has(word) || isPolite(after) || [...after.senses].some((sense) => /^(ways|stages|picture)/.test(sense))
}

/** "did" needs what was done behind it ("did 3", "did the watering"); "check" and "complete" stand for done only alone. */
export function isPlacedWork(items: readonly Item[], at: number): boolean {
  const item = items[at] as Item
  if (item.to - item.from > 1) return true
  const word = item.words[0]?.word ?? ""
  if (word === "did") {
    const next = items.slice(at + 1).find((each) => each.words[0]?.word !== "the" && each.words[0]?.word !== "my")
    const kind = next
      ? [...next.senses].some((sense) => /^act:(?!done)\w[\w-]*:noun$/.test(sense)) && items[at + 1] !== next
      : false
    return Boolean(next?.bed ?? next?.numbers ?? next?.species) || kind
  }
  if (word !== "check" && word !== "complete" && word !== "ticked") return true
  return items.every(
    (each) =>
      each === item ||
      each.mark !== undefined ||
      isPolite(each) ||
      Boolean(each.numbers ?? each.bed ?? each.day) ||
      [...each.senses].some((sense) => sense.startsWith("picture")) ||
      each.senses.has("light"),
  )
}
