import type { Act, Ask } from "../garden/acts.ts"
import type { Item } from "./item.ts"
import type { Outcome } from "./outcome.ts"

/** What became of a run of words, and of each clause. */
export type Trace = {
  words: { from: number; to: number; text: string; as: string }[]
  clauses: { text: string; acts: Act[]; ask: Ask | null; note: boolean }[]
}

export function traceOf(text: string, items: readonly Item[], outcomes: readonly Outcome[]): Trace {
  return {
    words: items.flatMap((item) => {
      const from = item.words[0]?.from ?? 0
      const to = item.words.at(-1)?.to ?? from
      return item.mark === undefined
        ? [{ from, to, text: text.slice(from, to), as: meaning(item, text.slice(from, to)) }]
        : []
    }),
    clauses: outcomes.map(({ frame, proposal }) => {
      const from = frame.items[0]?.words[0]?.from ?? 0
      const to = frame.items.at(-1)?.words.at(-1)?.to ?? from
      return { text: text.slice(from, to), acts: proposal.acts, ask: proposal.ask, note: proposal.note }
    }),
  }
}

/** One plain phrase for what an item was taken as. */
function meaning(item: Item, text: string): string {
  const parts: string[] = []
  if (item.bed) parts.push(item.bed.beds.length === 0 ? "a bed that is not here" : `bed ${item.bed.beds.join(" or ")}`)
  if (item.species) parts.push(`species ${item.species.join(" or ")}`)
  if (item.crops) parts.push(`crop ${item.crops.join(" or ")}`)
  if (item.day) parts.push("a day")
  if (item.time) parts.push("a time")
  if (item.amount) parts.push("a figure")
  if (item.numbers) parts.push(`number ${item.numbers.join(", ")}`)
  for (const sense of item.senses) {
    const said = SENSES.find(([start]) => sense.startsWith(start))
    const plain = said ? said[1] + sense.slice(said[0].length).replaceAll(":", " ") : null
    if (plain && !parts.includes(plain)) parts.push(plain)
  }
  const spelt = item.words.map((word) => word.word).join(" ")
  const mended =
    item.words.every((word) => word.kind === "word") &&
    spelt.replaceAll(/[\s']/g, "") !== text.toLowerCase().replaceAll(/[\s'’-]/g, "")
  return (parts.length > 0 ? parts.join("; ") : "not read") + (mended ? ` (read as ${spelt})` : "")
}

const SENSES: readonly (readonly [string, string])[] = [
  ["act:", ""],
  ["stages:", "stage "],
  ["tops:", "tops: "],
  ["commands:", ""],
  ["stop:", "stop: "],
  ["tell:", "asks "],
  ["ways:", ""],
  ["courtesy", "courtesy"],
  ["picture:", "picture: "],
  ["trap", "an everyday phrase"],
  ["light", "small word"],
  ["content", "remark"],
  ["name", "a name"],
]
