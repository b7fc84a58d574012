import type { Act } from "../garden/acts.ts"
import { daysBetween } from "../values/day.ts"
import type { Pending, ReplyContext } from "./context.ts"
import { findHeads } from "./heads.ts"
import type { Item } from "./item.ts"
import { itemsOf, type Reading, read } from "./read.ts"
import { isTarget, isWay } from "./says.ts"
import type { Assumed } from "./scene.ts"

/** An answer to a question counts on the day it was asked and on the next. */
const ANSWER_DAYS = 1

/** More unknown words than this, and the text is about something else. */
const MOST_UNKNOWN = 2

/**
 * Completes the text that we asked about with its answer. Null where the answer came too late, the choices do not hold
 * any more, or the text is no answer: then it is read as a text of its own. Words of time count from the day on which
 * they were said.
 */
export function resolve(pending: Pending, answer: string, context: ReplyContext): Reading | null {
  const waited = daysBetween(pending.asked, context.now.day)
  if (waited < 0 || waited > ANSWER_DAYS) return null
  const now: ReplyContext = { ...context, pending: undefined }
  const then: ReplyContext = { ...now, now: { ...now.now, day: pending.asked } }
  const said = itemsOf(answer, now)
  if (!canAnswer(said)) return null
  if (pending.ask.which === "what") return resolveWhat(pending, answer, said, now, then)
  if (findHeads(said).length > 0 || read(answer, now, null).acts.some(isOfTexts)) return null
  const assumed = assumedBy(pending, said, now)
  if (!assumed) return null
  const before = read(pending.text, then, null)
  const after = read(pending.text, then, assumed)
  const acts = without(after.acts, before.acts)
  return acts.length > 0 ? { acts, ask: after.ask, note: false, trace: after.trace } : null
}

/** A denial, a doubt or a condition is no answer; nor is a story. */
function canAnswer(said: readonly Item[]): boolean {
  if (said.some((item) => ["not", "except", "if"].some((way) => isWay(item, way)))) return false
  return said.filter((item) => item.senses.has("content")).length <= MOST_UNKNOWN
}

/** Acts about the texts themselves: they are obeyed, whatever was asked. */
function isOfTexts(act: Act): boolean {
  return ["stop", "start", "help", "undo", "pause", "resume", "join", "tell"].includes(act.act)
}

/** What the answer names, if it was offered and still holds. */
function assumedBy(pending: Pending, said: readonly Item[], context: ReplyContext): Assumed | null {
  const { which, choices } = pending.ask
  const offered = (value: string | number): boolean => choices.length === 0 || choices.includes(value)
  const beds = said.flatMap((item) => (item.bed?.beds.length === 1 ? item.bed.beds : []))
  const both = choices.length === 2 && said.some((item) => isWay(item, "both"))
  const every = both || said.some((item) => isWay(item, "all"))
  if (which === "day") {
    const days = said.flatMap((item) => (item.day ? [item.day.day] : []))
    return days.length === 1 ? { which, days, today: context.now.day } : null
  }
  if (which === "reminder") {
    const open = context.open.filter((each) => offered(each.n))
    const numbers = said.flatMap((item) => (item.amount || item.bed ? [] : (item.numbers ?? [])))
    const ofBed = open.filter((each) => beds.includes(each.bed)).map((each) => each.n)
    const found = numbers.length > 0 ? numbers : every ? open.map((each) => each.n) : ofBed
    const clear = found.length > 0 && (numbers.length > 0 || every || ofBed.length === beds.length)
    return clear && found.every((n) => open.some((each) => each.n === n)) ? { which, numbers: found } : null
  }
  if (which === "bed") {
    const known = context.beds.map((bed) => bed.id).filter(offered)
    const found = beds.length === 0 && every ? known : beds
    return found.length > 0 && found.every((bed) => known.includes(bed)) ? { which, beds: found } : null
  }
  const species = said.flatMap((item) => item.species ?? []).filter(offered)
  return new Set(species).size === 1 ? { which: "species", species } : null
}

/** "bed 2" was unclear and "cut" is the answer: the two texts are read as one. An answer that names more is its own text. */
function resolveWhat(
  pending: Pending,
  answer: string,
  said: readonly Item[],
  now: ReplyContext,
  then: ReplyContext,
): Reading | null {
  if (said.some(isTarget) || read(answer, now, null).acts.some(isOfTexts)) return null
  if (findHeads(said).length === 0 && !said.some((item) => item.day)) return null
  const dated = itemsOf(pending.text, then).some((item) => item.day)
  const context = dated ? then : now
  const whole = read(`${answer} ${pending.text}`, context, null)
  const acts = without(whole.acts, read(pending.text, context, null).acts)
  return acts.length > 0 && whole.ask === null ? { ...whole, acts, note: false } : null
}

/** What is new: acts that were not understood before, and numbers that were not yet settled. */
function without(acts: readonly Act[], known: readonly Act[]): Act[] {
  const keys = new Set(known.map((act) => JSON.stringify(act)))
  return acts.flatMap((act): Act[] => {
    if (keys.has(JSON.stringify(act))) return []
    if (act.act !== "done" && act.act !== "snooze" && act.act !== "skip") return [act]
    const settled = known.flatMap((each) => (each.act === act.act ? each.n : []))
    const n = act.n.filter((each) => !settled.includes(each))
    return n.length > 0 ? [{ ...act, n }] : []
  })
}
