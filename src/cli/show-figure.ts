import type { Figure, Grade } from "../handbook/figure.ts"
import type { Handbook, Source } from "../handbook/handbook.ts"

const gradeInWords: Record<Grade, string> = {
  read: "read in its source",
  "read+judgement": "read in part, with a step of our own",
  memory: "from memory of a named work that was not opened",
  none: "no source: common practice",
}

/** A grade in plain words. */
export function showGrade(grade: Grade): string {
  return gradeInWords[grade]
}

/** A range with its unit: `6.2 to 28 g/m2, likely 14`. */
export function showRange({ low, likely, high, unit }: Pick<Figure, "low" | "likely" | "high" | "unit">): string {
  const range = low === high ? `${low}` : `${low} to ${high}`
  return `${range} ${unit === "ratio" ? ": 1" : unit}${likely === undefined ? "" : `, likely ${likely}`}`
}

/** A figure as lines: the range with grade and source keys, its note, and each source that differs. */
export function figureLines(name: string, figure: Figure): string[] {
  const keys = (source: readonly string[]) => `[${source.join(", ")}]`
  const noted = (one: Pick<Figure, "where" | "note">) =>
    [one.where, one.note].filter((part) => part !== undefined).join("; ")
  const lines = [`  ${name}: ${showRange(figure)} (${showGrade(figure.grade)}) ${keys(figure.source)}`]
  const note = noted(figure)
  if (note) lines.push(`      ${note}`)
  for (const other of figure.others ?? []) {
    const where = noted(other)
    lines.push(`      another source: ${showRange(other)} ${keys(other.source)}${where ? `, ${where}` : ""}`)
  }
  return lines
}

/** The works behind a value, in the order of their keys, one line each: author, year, title, address. */
export function sourceLines(value: unknown, handbook: Handbook): string[] {
  return citedIn(value, handbook).map((source) => {
    const year = source.year === undefined ? "" : ` ${source.year}`
    const rest = [source.where, source.url, source.licence, source.opened ? undefined : "not opened"]
    const tail = rest.filter((part) => part !== undefined).join("; ")
    return `  [${source.key}] ${source.author}${year}: ${source.title}${tail ? ` (${tail})` : ""}`
  })
}

/** The works that a species or crop names anywhere, by key. */
export function citedIn(value: unknown, handbook: Handbook): Source[] {
  const keys = new Set<string>()
  const walk = (one: unknown) => {
    if (one === null || typeof one !== "object") return
    for (const [key, below] of Object.entries(one)) {
      if (key === "source" && Array.isArray(below)) for (const each of below) keys.add(String(each))
      else walk(below)
    }
  }
  walk(value)
  return [...keys].sort().flatMap((key) => handbook.sources.get(key) ?? [])
}

/** What `--json` prints of a species or crop: the entry as its file holds it, with the works it cites. */
export function withSources<Entry extends object>(entry: Entry, handbook: Handbook): Entry & { sources: Source[] } {
  return { ...entry, sources: citedIn(entry, handbook) }
}
