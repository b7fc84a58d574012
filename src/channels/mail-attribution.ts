import { OPENERS, OPENERS_INSIDE, PRONOUNS, TURNS_ROUND, WEEKDAYS, WROTE } from "./mail-attribution-words.ts"
import { folded } from "./mail-folded.ts"

/** Longest line, joined from its pieces, that can be the introduction of a quote. */
const MOST = 600
/** Longest line that is a name and a verb alone: "Ryebell wrote:". */
const MOST_OF_NAME = 60
/** Lines over which programs wrap it. */
const MOST_LINES = 4

/** Where the introduction of a quote begins: its first line, and what stands before it on that line. */
export type Introduction = { first: number; before: string }

/**
 * Is the line at `last` the end of what introduces a quote ("On Sat, May 9, 2026, Ryebell wrote:")? It may have begun up to
 * three lines before. `quoteFollows`: the next words are marked as quoted, which lets a line without a known verb count.
 * `lineAt` gives a line of new words, or null where there is none (blank, quoted, out of the mail).
 */
export function introductionAt(
  last: number,
  lineAt: (index: number) => string | null,
  quoteFollows: boolean,
): Introduction | null {
  const end = lineAt(last)
  if (end === null) return null
  if (!/[:：]$|wrote ?-{2,}$/.test(end.slice(-40).trimEnd()) || end.length > MOST) return withQuoteBehind(last, end)
  let joined = ""
  let fallback: Introduction | null = null
  for (let first = last; first > last - MOST_LINES; first -= 1) {
    const line = lineAt(first)
    if (line === null || joined.length + line.length > MOST) break
    joined = joined === "" ? line.trim() : `${line.trim()} ${joined}`
    if (!introduces(joined, quoteFollows)) continue
    const inside = startInside(joined, quoteFollows)
    if (first === last && inside > 0) return { first, before: joined.slice(0, inside).replace(/[-_ ]{1,80}$/, "") }
    if (startsLikeOne(line)) return { first, before: "" }
    fallback ??= { first, before: "" }
    if (isWhole(joined)) break
  }
  return fallback
}

/** With name, address and year in one line there is nothing to look for in the lines before. */
function isWhole(line: string): boolean {
  return /^[^<\s]/.test(line) && /[^\s<>@]@/.test(line) && /(?:19|20)\d\d/.test(line)
}

/** Some programs put the quote on the line of its introduction: "On Sat … Ryebell<bot@…> wrote:   Ryebell for …". */
function withQuoteBehind(at: number, line: string): Introduction | null {
  const start = line.slice(0, MOST).trim()
  if (!startsLikeOne(start) || !start.includes("@")) return null
  let colon = start.indexOf(": ")
  for (let tries = 0; colon > 0 && tries < 8; tries += 1) {
    const until = start.slice(0, colon + 1)
    if (until.includes("@") && introduces(until, false)) return { first: at, before: "" }
    colon = start.indexOf(": ", colon + 1)
  }
  return null
}

/** Does a whole line say who wrote when? */
function introduces(line: string, quoteFollows: boolean): boolean {
  const hasAddress = /[^\s<>@]@[^\s<>@]/.test(line)
  const hasYear = /(?:^|[^\d])(?:19|20)\d\d(?:[^\d]|$)/.test(line)
  const hasTime = /(?:^|[^\d])\d{1,2}(?:[:.h]\d\d| ?[ap]\.?m)/i.test(line)
  const hasDate = hasYear || /(?:^|[^\d])\d{1,2}[./-]\d{1,2}[./-]\d{2}(?:[^\d]|$)/.test(line)
  if ((hasAddress || hasDate || (hasTime && startsLikeOne(line))) && saysWhoWrote(line, hasAddress)) return true
  if (hasAddress && hasDate && hasTime && startsLikeOne(line)) return true
  if (quoteFollows && line.length <= MOST_OF_NAME && saysWhoWrote(line, false)) return true
  return quoteFollows && ((hasAddress && (hasDate || hasTime)) || (hasYear && hasTime))
}

/**
 * Is there a verb of writing where a mail program puts it? At the end of the line, or with a name or a date behind it in
 * languages that turn the sentence round. "I wrote" is a person's sentence.
 */
function saysWhoWrote(line: string, hasAddress: boolean): boolean {
  const tokens = folded(line)
    .split(/[\s,;:：()<>"'\u300c\u300d]+/)
    .filter((word) => word !== "")
  const verb = tokens.findLastIndex((word) => WROTE.has(word) || /(写道|寫道)$/.test(word))
  if (verb < 0) return false
  if ([verb - 2, verb - 1, verb + 1].some((near) => PRONOUNS.has(tokens[near] ?? ""))) return false
  const behind = tokens.slice(verb + 1).filter((word) => !/^(-+|a)$/.test(word))
  if (behind.length === 0) return true
  if (tokens[verb] === "wrote" || tokens[verb] === "writes") return false
  return hasAddress || TURNS_ROUND.has(tokens[verb] ?? "")
}

/** A line that begins with a day, a date, or the little word before them. */
function startsLikeOne(line: string): boolean {
  const start = folded(line.trim().slice(0, 40)).replace(/^[-*_ ]+/, "")
  if (/^\d/.test(start)) return true
  const [first = "", second = ""] = start.split(/[\s.,]+/)
  if (WEEKDAYS.has(first) && /\d/.test(start)) return true
  return OPENERS.has(first) && second !== "" && /\d/.test(folded(line))
}

/** Where in a line the introduction begins whose break before it was lost; 0 where it begins the line. */
function startInside(line: string, quoteFollows: boolean): number {
  for (const opener of OPENERS_INSIDE) {
    const at = line.lastIndexOf(` ${opener} `)
    if (at <= 0) continue
    const rest = line.slice(at + 1)
    if (/\d/.test(rest.slice(0, 40)) && introduces(rest, quoteFollows) && !/\d{4}|@/.test(line.slice(0, at))) return at
  }
  return 0
}
