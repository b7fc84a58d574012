import type { Stage } from "../garden/acts.ts"
import type { Then } from "../garden/garden.ts"
import type { Item } from "./items.ts"
import type { WordsData } from "./vocabulary.ts"

export type Work = "done" | "cut" | "water-in" | "sow" | "plant"
export type Form = "did" | "do" | "doing" | "noun"

/** What an item can make an act of. One item may be several: "cut" is done or to do. */
export type Head = {
  item: Item
  /** Place of the item in its clause. */
  at: number
  work?: { work: Work; forms: ReadonlySet<Form> }
  stage?: Stage
  then?: Then
  command?: string
  /** A length, weight, share or temperature. */
  figure?: true
}

/** Stages, the farthest first: of several said in one breath the farthest counts. */
const STAGE_ORDER: readonly Stage[] = [
  "seed-drop",
  "full-bloom",
  "no-bloom",
  "no-regrowth",
  "not-up",
  "survived-frost",
  "frost-killed",
  "broken-down",
  "regrowth",
  "seed",
  "bloom",
  "flag-leaf",
  "boot",
  "heading",
  "patchy",
  "up",
]

const WORK_ORDER: readonly Work[] = ["cut", "water-in", "sow", "plant", "done"]

/** The head that an item is, if it can be one. */
export function headOf(item: Item, at: number): Head | null {
  const head: Head = { item, at }
  let found = false
  for (const work of WORK_ORDER) {
    const forms = new Set<Form>()
    for (const form of ["did", "do", "doing", "noun"] as const) if (item.senses.has(`act:${work}:${form}`)) forms.add(form)
    if (forms.size > 0 && !head.work) {
      head.work = { work, forms }
      found = true
    }
  }
  if (item.senses.has("picture:done")) [head.work, found] = [{ work: "done", forms: new Set<Form>(["did"]) }, true]
  if (item.senses.has("picture:cut")) [head.work, found] = [{ work: "cut", forms: new Set<Form>(["did"]) }, true]
  if (item.senses.has("picture:water")) [head.work, found] = [{ work: "water-in", forms: new Set<Form>(["did", "noun"]) }, true]
  const stage = stageOf(item)
  if (stage) [head.stage, found] = [stage, true]
  for (const then of ["turn-in", "tarp", "carry-off", "leave"] as const) {
    if (item.senses.has(`tops:${then}`) && !head.then) [head.then, found] = [then, true]
  }
  for (const sense of item.senses) {
    if (sense.startsWith("commands:")) [head.command, found] = [sense.slice("commands:".length), true]
  }
  if (item.amount && item.amount.of !== "other" && item.amount.of !== "area") [head.figure, found] = [true, true]
  return found ? head : null
}

function stageOf(item: Item): Stage | undefined {
  const said = STAGE_ORDER.filter((stage) => item.senses.has(`stages:${stage}`))
  if (item.senses.has("picture:bloom")) return "bloom"
  if (item.senses.has("picture:up")) return "up"
  return said[0]
}

/** The farther of two stages. */
export function fartherStage(a: Stage, b: Stage): Stage {
  return STAGE_ORDER.indexOf(a) <= STAGE_ORDER.indexOf(b) ? a : b
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

const BE = new Set(["is", "its", "are", "'s", "was", "were", "been", "be", "am", "'re", "looks", "look", "finally", "all", "just", "already", "now", "still", "not", "both", "have", "has", "mostly", "some", "few", "fully", "well", "half", "even", "nearly", "almost", "getting", "a"])
const THING = new Set(["it", "its", "they", "them", "everything", "something", "nothing", "all", "seedlings", "seeds", "sprouts", "shoots", "most", "some", "half", "more", "few", "stand", "one", "ones", "both", "cover", "crop", "that", "these", "those", "whole", "lot", "none", "leaves", "heads", "rest", "bed", "plot"])
const AFTER = new Set(["now", "finally", "already", "yet", "too", "nicely", "well", "and", "but", "in", "on", "at", "by", "everywhere", "all", "good", "great", "evenly", "thick", "here", "there", "over", "today", "about", "since", "so", "again", "along", "through", "this", "last", "of", "from", "under", "with", "a", "though", "also", "across", "as", "for", "after"])

/**
 * A word such as "up", "seed" or "thin" is a stage only where something can be in that stage: alone, behind a bed, a
 * species, "it" or "is", and with nothing behind it that makes it a part of another phrase.
 */
export function isPlacedStage(items: readonly Item[], at: number, data: WordsData): boolean {
  const item = items[at] as Item
  // "heading out" is also what people do: only a plant or bed right before it makes it a stage.
  if (item.senses.has("trap") && !isOfPlant(items, at)) return false
  if (item.to - item.from > 1 || !item.words[0] || !data.weak.includes(item.words[0].word)) return true
  const before = items[at - 1]
  const after = items[at + 1]
  const word = before?.words.at(-1)?.word ?? ""
  const subject = !before || Boolean(before.bed ?? before.species ?? before.numbers ?? before.day) || BE.has(word) || THING.has(word) || before.senses.has("courtesy") || before.senses.has("picture:courtesy") || before.mark !== undefined || [...before.senses].some((sense) => /^(stages|ways:(not|yet|nearly|all|both|maybe|partly))/.test(sense))
  if (!subject) return false
  const next = after?.words[0]?.word ?? ""
  if (!after || after.mark !== undefined || after.day || after.time || after.bed || after.species || after.amount || after.numbers) return true
  return AFTER.has(next) || after.senses.has("courtesy") || after.senses.has("picture:courtesy") || [...after.senses].some((sense) => /^(ways|stages|picture)/.test(sense))
}

/** "did" needs what was done behind it ("did 3", "did the watering"); "check" and "complete" stand for done only alone. */
export function isPlacedWork(items: readonly Item[], at: number): boolean {
  const item = items[at] as Item
  if (item.to - item.from > 1) return true
  const word = item.words[0]?.word ?? ""
  if (word === "did") {
    const next = items.slice(at + 1).find((each) => each.words[0]?.word !== "the" && each.words[0]?.word !== "my")
    const kind = next ? [...next.senses].some((sense) => /^act:(?!done)\w[\w-]*:noun$/.test(sense)) && items[at + 1] !== next : false
    return Boolean(next?.bed ?? next?.numbers ?? next?.species) || kind
  }
  if (word !== "check" && word !== "complete" && word !== "ticked") return true
  return items.every((each) => each === item || each.mark !== undefined || each.senses.has("courtesy") || Boolean(each.numbers ?? each.bed ?? each.day) || [...each.senses].some((sense) => sense.startsWith("picture")) || each.senses.has("light"))
}
