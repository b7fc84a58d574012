import { LABELS, type Label, TITLES } from "./mail-block-words.ts"
import { folded } from "./mail-folded.ts"

/** Lines of labels that are looked at before judging. */
const MOST_LINES = 14

/**
 * Does an earlier mail begin at this line, by a title between dashes or a block of labels ("From: … Sent: …")? Gives the
 * line behind title and block, or null. `lineAt` gives the text of a line that is not quoted, null where there is none.
 */
export function earlierMailAt(at: number, lineAt: (index: number) => string | null): number | null {
  const line = lineAt(at)
  if (line === null || line === "") return null
  if (isTitle(line)) {
    const below = nextWords(at + 1, lineAt)
    return below === null ? at + 1 : (blockAt(below, lineAt, true) ?? at + 1)
  }
  if (isRule(line)) {
    const below = nextWords(at + 1, lineAt)
    return below === null ? null : blockAt(below, lineAt, true)
  }
  return blockAt(at, lineAt, false)
}

/** A line drawn with signs and nothing else. */
export function isRule(line: string): boolean {
  return /^[-_=*~─—⁓ ]{3,}$/.test(line) && line.trim().length >= 3
}

/** "-----Original Message-----", "Begin forwarded message:". */
function isTitle(line: string): boolean {
  const isDashed = /^\s*[-_=*~─—]{2}/.test(line)
  if (line.length > 120 || !(isDashed || /[:：]\s?$/.test(line))) return false
  const bare = folded(line)
    .replace(/^[-_=*>~─— ]+/, "")
    .replace(/[-_=*~─—: ]+$/, "")
  return TITLES.some(
    (title) => bare === title || (isDashed && bare.startsWith(title) && bare.length < title.length + 40),
  )
}

function nextWords(from: number, lineAt: (index: number) => string | null): number | null {
  for (let i = from; i < from + 4; i += 1) {
    const line = lineAt(i)
    if (line === null) return null
    if (line.trim() !== "") return i
  }
  return null
}

/** A block of labels with sender and date; the line behind it, or null. `expected`: a title or a rule stands above. */
function blockAt(at: number, lineAt: (index: number) => string | null, expected: boolean): number | null {
  const first = lineAt(at)
  if (first === null) return null
  const start = labelOf(first)
  if (!start) return null
  if (start.label === "from" && insideLabels(start.value) >= 2) return at + 1
  const kinds = new Set<Label>()
  let named = 0
  let hasAddress = false
  let hasYear = false
  let end = at
  let folds = 0
  for (let i = at; i < at + MOST_LINES; i += 1) {
    const line = lineAt(i)
    if (line === null || line.trim() === "") break
    const found = labelOf(line)
    if (!found) {
      // Long lists of addresses and long subjects wrap.
      folds += 1
      if (folds > 3 || named < 2) break
      continue
    }
    folds = 0
    named += 1
    if (found.label) kinds.add(found.label)
    hasAddress ||= /[^\s@]@[^\s@]/.test(found.value)
    hasYear ||= /(?:^|[^\d])(?:19|20)\d\d(?:[^\d]|$)/.test(found.value)
    end = i + 1
  }
  const known = kinds.has("from") && kinds.size >= 3
  const short = kinds.has("from") && kinds.has("sent") && (expected || hasAddress) && (hasYear || expected)
  // Labels of a language that nobody listed: the shape tells.
  const byShape = named >= 3 && hasAddress && hasYear
  return known || short || byShape ? end : null
}

/** The label that a line begins with: one of the known, or `null` for a word or two before a colon; undefined for none. */
function labelOf(line: string): { label: Label | null; value: string } | undefined {
  const bare = line.replace(/^[*_ ]+/, "").slice(0, 400)
  const colon = bare.search(/[:：]/)
  if (colon < 1 || colon > 30) return undefined
  const word = folded(bare.slice(0, colon))
    .replace(/[*_\s]+$/, "")
    .replace(/\s+/g, " ")
  const value = bare.slice(colon + 1).replace(/^[*_]+/, "")
  const label = LABELS.get(word)
  if (label) return { label, value }
  return /^[\p{L}'-]{2,20}( [\p{L}'-]{1,15})?$/u.test(word) && value.trim() !== "" ? { label: null, value } : undefined
}

/** How many further labels stand in a line whose breaks were lost. */
function insideLabels(value: string): number {
  const kinds = new Set<Label>()
  for (const match of value.slice(0, 400).matchAll(/(?:^|[\s>\]])\*?([\p{L}]{1,12}):/gu)) {
    const label = LABELS.get(folded(match[1] ?? ""))
    if (label) kinds.add(label)
  }
  return kinds.size
}
