import type { Stage } from "../garden/acts.ts"
import type { Then } from "../garden/garden.ts"
import type { Item } from "./items.ts"

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
