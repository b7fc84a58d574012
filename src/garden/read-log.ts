import type { z } from "zod"
import { instantText } from "../values/instant.ts"
import { nearestWord } from "../values/nearest.ts"
import { type Problem, WrongInput } from "../values/problem.ts"
import { type Entry, entrySchema, type NewEntry } from "./entry.ts"

const KINDS = entrySchema.options.map((option) => option.shape.kind.value)

/** One line of the log as it is kept and printed: JSON, instants in UTC, keys in the order of the schema. */
export function logLine(entry: Entry): string {
  const { seq, at, garden, by, via, kind, ...rest } = entry
  return JSON.stringify({ seq, at: instantText(at), garden, by, via, kind, ...rest })
}

/**
 * A new entry under its number, put into the form in which it will be read again. Throws a RangeError naming the field
 * where it could not be read again: what is appended stays for good, so nothing unreadable may get in.
 */
export function numbered(entry: NewEntry, seq: number): Entry {
  const read = entrySchema.safeParse(JSON.parse(logLine({ seq, ...entry } as Entry)))
  if (read.success) return read.data
  const issue = read.error.issues[0]
  throw new RangeError(
    `an entry of kind ${entry.kind} cannot be logged: ${issue ? fieldName(issue.path) : ""}: ${issue?.message}`,
  )
}

/** Reads one line that the log kept; null where it is no entry any more. */
export function readEntry(line: string): Entry | null {
  const value = parsed(line)
  if (value === undefined) return null
  const read = entrySchema.safeParse(value)
  return read.success ? read.data : null
}

/**
 * Reads a log from a file of JSON Lines. A last line that was torn off while it was written (no line end behind it, no
 * whole JSON) is dropped with a warning; every other bad line is named with its number in one WrongInput. Within a garden
 * the numbers must rise; holes are allowed, since a file may be a part of a log.
 */
export function readLogLines(text: string, fileName: string): { entries: Entry[]; warnings: string[] } {
  const entries: Entry[] = []
  const problems: Problem[] = []
  const warnings: string[] = []
  const last = new Map<string, number>()
  const lines = text.replace(/^\uFEFF/, "").split("\n")
  for (const [index, raw] of lines.entries()) {
    const line = raw.endsWith("\r") ? raw.slice(0, -1) : raw
    if (line.trim() === "") continue
    const place = { file: fileName, line: index + 1, column: 1 }
    const value = parsed(line)
    if (value === undefined && index === lines.length - 1) {
      warnings.push(`${fileName}:${index + 1}: the last line is torn off and was left out (${line.length} characters).`)
      continue
    }
    if (value === undefined) {
      problems.push({ code: "not-json", place, field: "", found: shown(line), expected: "one JSON object a line" })
      continue
    }
    const read = entrySchema.safeParse(value)
    if (!read.success) {
      problems.push(...read.error.issues.map((issue) => problemOf(issue, value, place)))
      continue
    }
    const before = last.get(read.data.garden)
    if (before !== undefined && read.data.seq <= before) {
      const expected = `a number above ${before}, the one before it in garden ${read.data.garden}`
      problems.push({ code: "order", place, field: "seq", found: String(read.data.seq), expected })
    }
    last.set(read.data.garden, read.data.seq)
    entries.push(read.data)
  }
  if (problems.length > 0) throw new WrongInput(problems)
  return { entries, warnings }
}

type Issue = z.core.$ZodIssue

function problemOf(issue: Issue, value: unknown, place: Problem["place"]): Problem {
  const found = issue.path.reduce<unknown>(
    (inner, key) =>
      typeof inner === "object" && inner !== null ? (inner as Record<PropertyKey, unknown>)[key] : undefined,
    value,
  )
  const nearest = issue.path.at(-1) === "kind" && typeof found === "string" ? nearestWord(found, KINDS) : undefined
  return {
    code: "entry",
    place,
    field: fieldName(issue.path),
    found: shown(found),
    expected: nearest || issue.path.at(-1) === "kind" ? `one of ${KINDS.join(", ")}` : expectation(issue),
    ...(nearest ? { nearest } : {}),
  }
}

function expectation(issue: Issue): string {
  if (issue.code === "invalid_type") return `a value of type ${issue.expected}`
  if (issue.code === "invalid_value") return `one of ${issue.values.join(", ")}`
  return issue.message.replace(/^expected /, "")
}

function fieldName(path: readonly PropertyKey[]): string {
  return path
    .map((key, i) => (typeof key === "number" ? `[${key}]` : i === 0 ? String(key) : `.${String(key)}`))
    .join("")
}

function shown(value: unknown): string {
  if (value === undefined) return "nothing"
  const text = typeof value === "string" ? JSON.stringify(value) : (JSON.stringify(value) ?? String(value))
  return text.length > 60 ? `${text.slice(0, 57)}...` : text
}

function parsed(line: string): unknown {
  try {
    return JSON.parse(line) as unknown
  } catch {
    return undefined
  }
}
