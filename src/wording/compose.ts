import { capital } from "../reminders/names.ts"
import type { Reminder } from "../reminders/reminder.ts"
import { LIMITS } from "./limits.ts"
import { plainLetters } from "./plain-letters.ts"
import { replyToOne, replyToSeveral, takesNumber } from "./reply-words.ts"
import { measure } from "./segments.ts"

/** A reminder with the number it goes by. */
export type Line = { reminder: Reminder; n: number; everyNumber?: boolean }

/** What opens a text after the bot was away. */
export type Away = { days: number; restIn: string | null }

/** One text about the first `said` lines; the others did not fit. */
export type Composed = { text: string; said: Line[]; left: Line[] }

/**
 * One text about as many things as fit into two segments, most urgent first. A single thing aims at one segment: its
 * reason goes first, then its second reply word; the range never goes. Bed names and all are in plain letters.
 */
export function compose(lines: readonly Line[], away: Away | null): Composed {
  for (let count = Math.min(lines.length, LIMITS.lines); count > 1; count -= 1) {
    const said = lines.slice(0, count)
    const left = lines.slice(count)
    const text = several(said, away && restOf(away, left)).find((each) => measure(each).segments <= 2)
    if (text !== undefined) return { text, said, left }
  }
  const line = lines[0] as Line
  const left = lines.slice(1)
  const ways = single(line, away && restOf(away, left))
  const aimed = line.reminder.caution ? undefined : ways.find(isAsLongAsAimed)
  const text = aimed ?? ways.find((each) => measure(each).segments <= 2)
  return { text: text ?? (ways.at(-1) as string), said: [line], left }
}

/** One segment; two where a name needs letters that halve what a segment holds. */
function isAsLongAsAimed(text: string): boolean {
  const { encoding, segments } = measure(text)
  return segments <= (encoding === "gsm7" ? 1 : 2)
}

/** The subject of a mail that says the same as a text: the most urgent thing, and how many more. */
export function subjectOf(said: readonly Line[]): string {
  const first = said[0] as Line
  const title = capital(first.reminder.title ?? first.reminder.short)
  return said.length === 1 ? title : `${title}; ${said.length - 1} more`
}

/** A text about one thing, the fullest first. A caution is worth a second segment. */
function single({ reminder, n, everyNumber }: Line, away: Away | null): string[] {
  const number = away || everyNumber || takesNumber(reminder.words) ? `${n}) ` : ""
  const reply = (most: number) => replyToOne({ n, words: reminder.words.slice(0, most), everyNumber })
  const all = reminder.words.length
  if (away)
    return [all, 2, 1].map((most) =>
      plainLetters(`${opening(away)} ${number}${reminder.title}.${away.restIn ?? ""} ${reply(most)}`),
    )
  const caution = reminder.caution ? ` ${reminder.caution}` : ""
  const full = `${number}${reminder.text}`
  const short = `${number}${reminder.short}`
  const plain = [`${full} ${reply(all)}`, `${short} ${reply(all)}`, `${short} ${reply(2)}`, `${short} ${reply(1)}`]
  const careful = caution ? [`${full}${caution} ${reply(all)}`, `${short}${caution} ${reply(all)}`] : []
  return [...careful, ...plain].map(plainLetters)
}

/** A text about several things: with reasons for as many of the most urgent as there is room for; cautions before reasons. */
function several(lines: readonly Line[], away: Away | null): string[] {
  const reply = replyToSeveral(lines.map(({ reminder, n }) => ({ n, words: reminder.words })))
  if (away) {
    const titles = lines.map(({ reminder, n }) => `${n}) ${reminder.title}.`)
    return [plainLetters([opening(away), ...titles, `${away.restIn ?? ""} ${reply}`.trim()].join("\n"))]
  }
  const cautions = [...new Set(lines.flatMap(({ reminder }) => (reminder.caution ? [reminder.caution] : [])))]
  const ways: string[] = []
  for (const care of cautions.length > 0 ? [cautions, []] : [[]])
    for (let full = lines.length; full >= 0; full -= 1) {
      const written = lines.map(({ reminder, n }, index) => `${n}) ${index < full ? reminder.text : reminder.short}`)
      ways.push(plainLetters([...written, ...care, reply].join("\n")))
    }
  return ways
}

function opening({ days }: Away): string {
  return `I was off for ${days <= 1 ? "a day" : `${days} days`}, sorry. Still worth doing:`
}

/** "The rest is in Sunday's mail" is only said where there is a rest. */
function restOf(away: Away, left: readonly Line[]): Away {
  return left.length > 0 && away.restIn
    ? { days: away.days, restIn: ` The rest is in ${away.restIn}.` }
    : { days: away.days, restIn: null }
}
