import type { Stage } from "../garden/acts.ts"
import type { Then } from "../garden/garden.ts"
import type { Item } from "./item.ts"
import { isPlacedStage, isPlacedWork } from "./placed.ts"
import { hasWord, isOne, startsWith } from "./says.ts"

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
const THEN_ORDER: readonly Then[] = ["turn-in", "tarp", "carry-off", "leave"]

/** What a sense of the vocabulary says of a head: its parts, cut once. */
type Said =
  | { part: "work"; work: Work; form: Form }
  | { part: "stage"; stage: Stage }
  | { part: "then"; then: Then }
  | { part: "command"; command: string }

const PICTURES: Readonly<Record<string, Said>> = {
  "picture:done": { part: "work", work: "done", form: "did" },
  "picture:cut": { part: "work", work: "cut", form: "did" },
  "picture:water": { part: "work", work: "water-in", form: "did" },
  "picture:bloom": { part: "stage", stage: "bloom" },
  "picture:up": { part: "stage", stage: "up" },
}

const saidOf = new Map<string, Said | null>()

function saying(sense: string): Said | null {
  let said = saidOf.get(sense)
  if (said === undefined) {
    said = readSense(sense)
    saidOf.set(sense, said)
  }
  return said
}

function readSense(sense: string): Said | null {
  const [group, name, form] = sense.split(":") as [string, string | undefined, string | undefined]
  if (Object.hasOwn(PICTURES, sense)) return PICTURES[sense] as Said
  if (name === undefined) return null
  if (group === "act") return { part: "work", work: name as Work, form: form as Form }
  if (group === "stages") return { part: "stage", stage: name as Stage }
  if (group === "tops") return { part: "then", then: name as Then }
  return group === "commands" ? { part: "command", command: name } : null
}

/** The head that an item is, if it can be one. */
export function headOf(item: Item, at: number): Head | null {
  const works = new Map<Work, Set<Form>>()
  const thens = new Set<Then>()
  let stage: Stage | undefined
  let command: string | undefined
  for (const sense of item.senses) {
    const said = saying(sense)
    if (!said) continue
    if (said.part === "work") works.set(said.work, (works.get(said.work) ?? new Set<Form>()).add(said.form))
    else if (said.part === "stage") stage = stage ? fartherStage(stage, said.stage) : said.stage
    else if (said.part === "then") thens.add(said.then)
    else command = said.command
  }
  const figure = item.amount !== undefined && item.amount.of !== "other" && item.amount.of !== "area"
  if (works.size === 0 && thens.size === 0 && !stage && !command && !figure) return null
  const head: Head = { item, at }
  const work = WORK_ORDER.find((each) => works.has(each))
  if (work) head.work = { work, forms: works.get(work) as Set<Form> }
  const then = THEN_ORDER.find((each) => thens.has(each))
  if (stage) head.stage = stage
  if (then) head.then = then
  if (command) head.command = command
  if (figure) head.figure = true
  return head
}

/** The farther of two stages. */
export function fartherStage(a: Stage, b: Stage): Stage {
  return STAGE_ORDER.indexOf(a) <= STAGE_ORDER.indexOf(b) ? a : b
}

/** "left the roots in": that is how every cut is made, and says nothing of the tops. */
function isOfRoots(items: readonly Item[], at: number): boolean {
  const [before, object] = [items[at - 1], items[at + 1]]
  const behind = startsWith(object, "article") ? items[at + 2] : object
  return hasWord(items[at] as Item, "root") || isOne(before, "root") || isOne(behind, "root")
}

/** Every head of a clause that stands where it can be one. */
export function findHeads(items: readonly Item[]): Head[] {
  const heads: Head[] = []
  items.forEach((item, at) => {
    const head = headOf(item, at)
    if (!head) return
    if (head.stage && !isPlacedStage(items, at)) delete head.stage
    if (head.work && !isPlacedWork(items, at)) delete head.work
    // "80% of the clover": how much of it, not what was read off.
    if (item.amount?.of === "share" && startsWith(items[at + 1], "of")) delete head.figure
    if (head.then === "leave" && isOfRoots(items, at)) delete head.then
    if (head.stage || head.work || head.then || head.command || head.figure) heads.push(head)
  })
  return heads
}
