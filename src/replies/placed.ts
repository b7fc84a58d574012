import type { Item } from "./item.ts"
import { endsWith, isOne, isPolite, isTagged, isWay, startsWith } from "./says.ts"

/**
 * Is a stage said where something can be in that stage? Not as the object of work ("planted flowers"), not behind "for" or
 * "before", and a word such as "up" or "seed" only where a plant, a bed, "it" or "is" stands before it, or nothing does.
 */
export function isPlacedStage(items: readonly Item[], at: number): boolean {
  const item = items[at] as Item
  // "heading out" is also what people do: only a plant or bed right before it makes it a stage.
  if (item.senses.has("trap") && !isOfPlant(items, at)) return false
  // "the bloom check", "skip the boot one": which reminder is meant, and nothing that was seen.
  if (isOne(items[at + 1], "kind-noun") && !items[at + 1]?.day) return false
  if (isObject(items, at) || isUnseen(items, at) || isBound(items, at)) return false
  if (item.senses.has("base") && !isBegun(items, at)) return false
  if (isOne(item, "open-flower")) return isOfSpecies(items, at) && endsWell(items[at + 1])
  return !isOne(item, "weak") || (hasSubject(items, at) && endsWell(items[at + 1]))
}

/** "headed north", of nobody: the way somebody went. */
function isBound(items: readonly Item[], at: number): boolean {
  const next = items[at + 1]
  if (!isOne(items[at], "heading-word") || !next?.bed || next.to - next.from > 1) return false
  return isTagged(next.words[0], "compass") && items.slice(0, at).every((item) => !item.bed && !item.species)
}

/** Is the nearest thing before it a bed or a plant? */
function isOfPlant(items: readonly Item[], at: number): boolean {
  for (let i = at - 1; i >= 0; i -= 1) {
    const item = items[i] as Item
    if (item.bed || item.species) return true
    if (!item.words.every((word) => isTagged(word, "stage-be"))) return false
  }
  return false
}

/** "vetch opened yesterday", "rye a third open": of a plant, with nothing but small words and figures between. */
function isOfSpecies(items: readonly Item[], at: number): boolean {
  for (let i = at - 1; i >= 0; i -= 1) {
    const item = items[i] as Item
    if (item.species) return true
    if (item.bed || item.crops || item.mark !== undefined || isPolite(item)) return false
    if (!item.amount && !item.senses.has("light") && ![...item.senses].some((sense) => sense.startsWith("ways:")))
      return false
  }
  return false
}

/** "planted some flowers", "watered the seedlings": nothing but small words between the work and it. */
function isObject(items: readonly Item[], at: number): boolean {
  for (let i = at - 1; i >= 0; i -= 1) {
    const item = items[i] as Item
    if ([...item.senses].some((sense) => /^act:(?!done).*:(did|doing)$/.test(sense))) return true
    if (item.bed || item.species || item.day || item.mark !== undefined || !item.senses.has("light")) return false
    if (startsWith(item, "stage-pronoun") || isOne(item, "and")) return false
  }
  return false
}

function isUnseen(items: readonly Item[], at: number): boolean {
  let i = at - 1
  while (i >= 0 && startsWith(items[i], "determiner")) i -= 1
  const before = items[i]
  if (!before || before.day || before.bed) return false
  return endsWith(before, "stage-unseen") && !isBegun(items, at)
}

/** "started to head", "it did sprout" */
function isBegun(items: readonly Item[], at: number): boolean {
  const words = items.slice(Math.max(0, at - 3), at).flatMap((item) => item.words)
  const last = isTagged(words.at(-1), "plain-not") ? words.at(-2) : words.at(-1)
  return isTagged(last, "perfect") || (isTagged(last, "to") && isTagged(words.at(-2), "begin"))
}

/** Walks back over small words to what it is said of. */
function hasSubject(items: readonly Item[], at: number): boolean {
  const seed = startsWith(items[at], "seed")
  for (let i = at - 1; i >= 0; i -= 1) {
    const item = items[i] as Item
    if (item.bed || item.numbers || item.mark !== undefined || item.amount) return true
    // "rye seed" is what one buys.
    if (item.species) return !seed || i < at - 1
    if (isPolite(item)) return item.to - item.from === 1 || item.senses.has("picture:courtesy")
    if ([...item.senses].some((sense) => /^(stages:|ways:(not|yet|all|both|partly|nearly|maybe))/.test(sense))) continue
    if (isOne(item, "stage-be") || item.day || item.time) continue
    if (isOne(item, "stage-thing")) return true
    // "it's up", but not "keep it up": a pronoun must begin the clause or have its verb.
    if (!startsWith(item, "stage-pronoun")) return false
    return i < at - 1 || items.slice(0, i).every((each) => isPolite(each) || startsWith(each, "opening"))
  }
  // "half way through" is of no plant.
  return !isOne(items[at], "through")
}

function endsWell(after: Item | undefined): boolean {
  if (!after || after.mark !== undefined) return true
  if (after.day ?? after.time ?? after.bed ?? after.species ?? after.amount ?? after.numbers) return true
  if (startsWith(after, "stage-after") || isPolite(after)) return true
  return [...after.senses].some((sense) => /^(ways|stages|picture)/.test(sense))
}

/** "did" needs what was done behind it ("did 3", "did the watering"); "check" and "complete" stand for done only alone. */
export function isPlacedWork(items: readonly Item[], at: number): boolean {
  const item = items[at] as Item
  if (isOne(item, "did-what")) return hasDone(items, at)
  if (!isOne(item, "alone")) return true
  return items.every((each) => {
    if (each === item || isPolite(each) || each.senses.has("light")) return true
    if (each.numbers ?? each.bed ?? each.day) return true
    return [...each.senses].some((sense) => sense.startsWith("picture"))
  })
}

function hasDone(items: readonly Item[], at: number): boolean {
  const next = items.slice(at + 1).find((each) => !startsWith(each, "the"))
  if (!next) return false
  if (next.bed ?? next.numbers ?? next.species) return true
  const kind = [...next.senses].some((sense) => /^act:(?!done)\w[\w-]*:noun$/.test(sense))
  return kind && items[at + 1] !== next && !isWay(next, "not")
}
