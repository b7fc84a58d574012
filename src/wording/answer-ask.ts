import type { Ask } from "../garden/acts.ts"
import type { ReminderRecord } from "../garden/facts.ts"
import { bedName, listOf, speciesName } from "../reminders/names.ts"
import { HOUR_MS } from "../values/instant.ts"
import { must, type Piece } from "./answer-fit.ts"
import { whoDid } from "./answer-settled.ts"
import { type AnswerInput, recordOf } from "./answer-view.ts"
import { DONE } from "./answer-words.ts"

/** A question offers at most so many choices: more are not read. */
const MOST = 3
/** A bare "done" so soon after somebody settled the last thing asked is about that thing. */
const SAME_THING_MS = 48 * HOUR_MS

/** One short question back, whose answer is one word or number; or who did it, where that is all that was unclear. */
export function askPieces(ask: Ask, input: AnswerInput): Piece[] {
  const settled = settledMeanwhile(ask, input)
  if (settled) return [must(whoDid(settled, input))]
  return [must(questionOf(ask, input))]
}

function questionOf(ask: Ask, input: AnswerInput): string {
  const { garden } = input.before
  const words = ask.choices.map(String)
  switch (ask.which) {
    case "bed": {
      const names = words.map((id) => bedName(garden, id))
      if (names.length === 0 || names.length > MOST) return "Which bed do you mean? Its name will do."
      return `Which bed: ${listOf(names, "or")}?`
    }
    case "species": {
      const names = words.map((id) => speciesName(input.handbook, id, words))
      if (names.length === 0 || names.length > MOST) return "Which plant do you mean? Its name will do."
      return `Which one: ${listOf(names, "or")}?`
    }
    case "day":
      return "Which day do you mean? Yesterday, a weekday or a date like 6 May will do."
    case "reminder":
      return whichReminder(ask, input)
    case "what":
      return whatQuestion(ask, input)
    default:
      return ask.which satisfies never
  }
}

/** `Which one is done: 1 South bed cut, or 2 East bed watered? Reply 1, 2 or BOTH.` */
function whichReminder(ask: Ask, input: AnswerInput): string {
  const numbers = ask.choices.map(Number).filter((n) => Number.isInteger(n))
  const lines = numbers.flatMap((n) => {
    const record = recordOf(input.before.history, input.person.id, n)
    return record ? [{ n, words: `${n} ${bedName(input.before.garden, record.bed)} ${DONE[record.kind]}` }] : []
  })
  if (lines.length === 0) return "That number is not open. Which bed do you mean?"
  if (lines.length > MOST)
    return `Which number do you mean? Open are ${listOf(
      lines.map(({ n }) => String(n)),
      "and",
    )}.`
  const shown = lines.map(({ words }) => words)
  if (lines.length === 2) return `Which one: ${listOf(shown, "or")}? Reply ${lines[0]?.n}, ${lines[1]?.n} or BOTH.`
  return ["Which one? Its number will do.", ...shown].join("\n")
}

function whatQuestion(ask: Ask, input: AnswerInput): string {
  const open = input.before.reminders.filter((each) => each.person === input.person.id && each.state === "sent")
  if (open.length === 0) return "Nothing is open. Did you cut, sow or water? Which bed?"
  const n = ask.choices.length === 1 ? Number(ask.choices[0]) : Number.NaN
  if (Number.isInteger(n)) return `What about ${n}? Reply DONE ${n}, SNOOZE ${n} or SKIP ${n}.`
  return "What do you mean by that? Reply with a word and a number, like DONE 1."
}

/**
 * The reminder that this person means and that somebody settled meanwhile: its number stands in the text, or nothing is
 * open to them and what they heard of last was settled in the last two days.
 */
function settledMeanwhile(ask: Ask, input: AnswerInput): ReminderRecord | null {
  if (ask.which !== "reminder" && ask.which !== "what") return null
  if (input.understood.acts.length > 0) return null
  const { history } = input.before
  for (const [digits] of input.text.matchAll(/(?<![\d.])\d{1,2}(?![\d.])/g)) {
    const record = recordOf(history, input.person.id, Number(digits))
    if (record?.settled) return record
  }
  if (/\d/.test(input.text) || !/\b(?:done|did|finished|skip|snooze)\b/i.test(input.text)) return null
  const open = input.before.reminders.some((each) => each.person === input.person.id && each.state === "sent")
  if (open) return null
  const heard = [...history.reminders.values()]
    .flatMap((record) =>
      record.said.filter((said) => said.to === input.person.id).map((said) => ({ record, seq: said.seq })),
    )
    .toSorted((a, b) => b.seq - a.seq)[0]?.record
  const settled = heard?.settled
  return heard && settled && input.now - settled.at <= SAME_THING_MS ? heard : null
}
