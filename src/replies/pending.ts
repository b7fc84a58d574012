import type { Act } from "../garden/acts.ts"
import { daysBetween } from "../values/day.ts"
import type { Pending, ReplyContext } from "./context.ts"
import { type Reading, read } from "./read.ts"
import type { Assumed } from "./scene.ts"

/** An answer to a question counts on the day it was asked and on the next. */
const ANSWER_DAYS = 1

/**
 * Completes the text that we asked about with its answer. Null where the answer came too late, the choices do not hold
 * any more, or the text is no answer: then it is read as a text of its own.
 */
export function resolve(pending: Pending, answer: string, context: ReplyContext): Reading | null {
  const waited = daysBetween(pending.asked, context.now.day)
  if (waited < 0 || waited > ANSWER_DAYS) return null
  const plain: ReplyContext = { ...context, pending: undefined }
  if (pending.ask.which === "what") return resolveWhat(pending, answer, plain)
  const assumed = assumedBy(pending, answer, plain)
  if (!assumed) return null
  const before = read(pending.text, plain, null)
  const after = read(pending.text, plain, assumed)
  const acts = without(after.acts, before.acts)
  if (acts.length === 0) return null
  return { acts, ask: after.ask, note: false, trace: after.trace }
}

/** What the answer names: only an answer that says nothing else counts. */
function assumedBy(pending: Pending, answer: string, context: ReplyContext): Assumed | null {
  const { which, choices } = pending.ask
  const alone = read(answer, context, null)
  const named = alone.trace.words
  if (alone.acts.length > 0 && which !== "day") return null
  const open = context.open.map((each) => each.n)
  const offered = (value: string | number): boolean => choices.length === 0 || choices.includes(value)
  if (which === "reminder") {
    const all = named.some((word) => word.as.startsWith("both") || word.as.startsWith("all"))
    const beds = idsIn(named, "bed ")
    const numbers = all ? open.filter(offered) : numbersIn(named)
    const byBed = context.open.filter((each) => beds.includes(each.bed)).map((each) => each.n)
    const found = numbers.length > 0 ? numbers : byBed.length === 1 ? byBed : []
    return found.length > 0 && found.every((n) => open.includes(n) && offered(n)) ? { which, numbers: found } : null
  }
  if (which === "bed") {
    const beds = idsIn(named, "bed ")
    const known = beds.every((bed) => context.beds.some((each) => each.id === bed) && offered(bed))
    return beds.length > 0 && known ? { which, beds } : null
  }
  if (which === "species") {
    const species = idsIn(named, "species ").filter(offered)
    return species.length === 1 ? { which, species } : null
  }
  return null
}

function idsIn(words: Reading["trace"]["words"], label: string): string[] {
  return words.flatMap(({ as }) =>
    as
      .split("; ")
      .flatMap((part) => (part.startsWith(label) && !part.includes(" or ") ? [part.slice(label.length)] : [])),
  )
}

function numbersIn(words: Reading["trace"]["words"]): number[] {
  return idsIn(words, "number ").flatMap((list) => list.split(", ").map(Number))
}

/** "bed 2" was unclear and "cut" is the answer: the two texts are read as one. */
function resolveWhat(pending: Pending, answer: string, context: ReplyContext): Reading | null {
  const alone = read(answer, context, null)
  if (alone.acts.length > 0 && alone.ask === null && alone.trace.words.length > 3) return null
  const whole = read(`${answer} ${pending.text}`, context, null)
  const before = read(pending.text, context, null)
  const acts = without(whole.acts, before.acts)
  return acts.length > 0 && whole.ask === null ? { ...whole, acts, note: false } : null
}

function without(acts: readonly Act[], known: readonly Act[]): Act[] {
  const keys = new Set(known.map((act) => JSON.stringify(act)))
  return acts.filter((act) => !keys.has(JSON.stringify(act)))
}
