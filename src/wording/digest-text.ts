import type { DigestFacts, Line, Link } from "./digest-facts.ts"

/** Columns of a plain-text mail; addresses are never broken. */
const WIDTH = 74

/** The mail as plain text: complete by itself, in the order of the HTML. */
export function digestText(facts: DigestFacts): string {
  const head = [`${facts.headline}.`, facts.dateline]
  if (facts.quiet) {
    // A quiet week is ten lines: no headings, one line a thing.
    return `${[...head, ...facts.parts.flatMap((part) => part.lines.map(oneLineOf))].join("\n")}\n`
  }
  const parts = facts.parts.map((part) => [part.title, ...part.lines.map(block)].join("\n"))
  return `${[head.join("\n"), ...parts].join("\n\n")}\n`
}

function block(line: Line): string {
  const rows = [wrapped(line.words, "- ", "  ")]
  for (const more of line.more ?? []) rows.push(wrapped(more, "  ", "  "))
  for (const link of joined(line.links ?? [])) rows.push(`  ${link.words} <${link.to}>`)
  return rows.join("\n")
}

/** Links to places of one page as one: `South bed: done or snooze`. */
function joined(links: readonly Link[]): Link[] {
  const pages = Map.groupBy(links, (link) => link.to.split("#")[0] as string)
  return [...pages].map(([to, [first, ...rest]]) => ({
    words: [first?.words, ...rest.map((each) => each.words.split(": ").at(-1))].join(" or "),
    to,
  }))
}

function oneLineOf(line: Line): string {
  const links = joined(line.links ?? []).map((link) => `${link.words} <${link.to}>`)
  return [line.words, ...(line.more ?? []), ...links].join(" ")
}

function wrapped(text: string, first: string, rest: string): string {
  const rows: string[] = []
  let row = first
  for (const word of text.split(" ")) {
    const fresh = row === first || row === rest
    if (!fresh && row.length + 1 + word.length > WIDTH) {
      rows.push(row)
      row = rest + word
    } else row += fresh ? word : ` ${word}`
  }
  return [...rows, row].join("\n")
}
