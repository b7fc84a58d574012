import { type Document, isAlias, isMap, isScalar, isSeq, parseDocument, visit, type YAMLError } from "yaml"
import type { Place, Problem } from "../values/problem.ts"

/**
 * A garden file as written, before anything is made of it: words stay the words of the file, each with its place.
 * `broken` is what has been reported already and is not to be reported again.
 */
export type Tree = Words | List | Keys | { is: "nothing" | "broken"; at: Place }
export type Words = { is: "words"; text: string; at: Place }
export type List = { is: "list"; items: Tree[]; at: Place }
export type Keys = { is: "keys"; entries: Map<string, { at: Place; value: Tree }>; at: Place }

/** Larger than any garden: 5,000 beds with ten sowings each are under a megabyte. */
const LONGEST_FILE = 2_000_000
/** One slip of the syntax often gives a tail of errors that mean nothing. */
const MOST_SYNTAX_PROBLEMS = 5
/** Keys by which an object's own workings are reached in JavaScript; none of them is a word of the garden file. */
const FORBIDDEN_KEYS = new Set(["__proto__", "constructor", "prototype"])

/**
 * Reads YAML 1.2 or JSON into a tree. Scalars are taken as they stand in the source, so that `no`, `007`, `17:00`,
 * `2025-09-20` and `+17175550142` remain those words. Keys that stand twice, aliases, tags and second documents are
 * problems; with an error of syntax there is no tree.
 */
export function readTree(text: string, file: string): { tree: Tree | null; problems: Problem[] } {
  const start: Place = { file, line: 1, column: 1 }
  const refused = refuseText(text, start)
  if (refused) return { tree: null, problems: [refused] }
  // JSON may be indented by tabs, YAML may not; a tab within a JSON string must be escaped, so each is but white space.
  const isJson = file.toLowerCase().endsWith(".json")
  const source = isJson ? text.replaceAll("\t", " ") : text
  const document = parseDocument(source, {
    version: "1.2",
    schema: "core",
    merge: false,
    uniqueKeys: false,
    prettyErrors: false,
  })
  const placeAt = placesIn(source, file)
  if (document.errors.length > 0) return { tree: null, problems: syntaxProblems(document, source, placeAt) }
  if (isScalar(document.contents) && document.contents.source === "")
    return { tree: null, problems: [emptyFile(start)] }
  if (document.contents === null) return { tree: null, problems: [emptyFile(start)] }
  const refusals: Refusal[] = []
  const tree = builder(placeAt, isJson, refusals)(document.contents, start, [])
  return { tree, problems: refusals.map(({ path, ...problem }) => ({ ...problem, field: fieldName(path, tree) })) }
}

/** Line and column of each offset into a text. */
function placesIn(text: string, file: string): (offset: number) => Place {
  const starts = [0, ...Array.from(text.matchAll(/\r\n|\n|\r/g), (end) => end.index + end[0].length)]
  return (offset) => {
    const within = Math.min(offset, text.length)
    let [line, past] = [1, starts.length + 1]
    while (past - line > 1) {
      const middle = (line + past) >> 1
      if (starts[middle - 1]! <= within) line = middle
      else past = middle
    }
    return { file, line, column: within - starts[line - 1]! + 1 }
  }
}

type Refusal = Omit<Problem, "field"> & { path: readonly PropertyKey[] }

function refuseText(text: string, at: Place): Problem | null {
  if (text.replace(/^\uFEFF/, "").trim() === "") return emptyFile(at)
  const whole = { place: at, field: "" }
  if (text.length > LONGEST_FILE) {
    const expected = `at most ${LONGEST_FILE} characters`
    return { ...whole, code: "too-large", found: `${text.length} characters`, expected }
  }
  if (text.includes("\0") || text.includes("\uFFFD")) {
    const expected = "a text file saved as UTF-8"
    return { ...whole, code: "not-text", found: "bytes that are no UTF-8 text", expected }
  }
  return null
}

function emptyFile(at: Place): Problem {
  const expected = "a garden with its place and beds"
  return { code: "empty-file", place: at, field: "", found: "an empty file", expected }
}

type Node = Document["contents"]

type Path = readonly PropertyKey[]

function builder(placeAt: (offset: number) => Place, isJson: boolean, refusals: Refusal[]) {
  const placeOf = (node: Node, otherwise: Place): Place => (node?.range ? placeAt(node.range[0]) : otherwise)
  const refuse = (place: Place, code: string, path: Path, found: string, expected: string): Tree => {
    refusals.push({ code, place, path, found, expected })
    return { is: "broken", at: place }
  }

  return function build(node: Node, otherwise: Place, path: Path): Tree {
    const at = placeOf(node, otherwise)
    if (isAlias(node))
      return refuse(at, "alias", path, `*${node.source}`, "the value itself: references are not followed")
    if (node && "anchor" in node && node.anchor !== undefined)
      refuse(at, "alias", path, `&${node.anchor}`, "the value alone, without a name for references")
    if (node?.tag !== undefined && !isPlainCollection(node.tag))
      refuse(at, "tag", path, node.tag.replace("tag:yaml.org,2002:", "!!"), "the value alone, without a type")
    if (isScalar(node)) {
      const text = node.source ?? String(node.value ?? "")
      const isEmpty = node.type === "PLAIN" && (text === "" || text === "~" || (isJson && text === "null"))
      return isEmpty ? { is: "nothing", at } : { is: "words", text, at }
    }
    if (isSeq(node))
      return { is: "list", at, items: node.items.map((item, index) => build(item as Node, at, [...path, index])) }
    if (!isMap(node)) return { is: "nothing", at }
    const entries: Keys["entries"] = new Map()
    for (const pair of node.items) {
      const keyAt = placeOf(pair.key as Node, at)
      const key = isScalar(pair.key) ? (pair.key.source ?? String(pair.key.value ?? "")) : null
      if (key === null) {
        refuse(keyAt, "key-not-a-word", path, "a list or map as a key", "a word as a key")
        continue
      }
      const below = [...path, key]
      const before = entries.get(key)
      if (FORBIDDEN_KEYS.has(key)) refuse(keyAt, "unknown-key", below, `the key ${key}`, "a key of the garden file")
      else if (before) {
        const expected = `each key once: it stands in line ${before.at.line} too`
        refuse(keyAt, "same-key", below, `the key ${key} again`, expected)
      } else entries.set(key, { at: keyAt, value: build(pair.value as Node, keyAt, below) })
    }
    return { is: "keys", at, entries }
  }
}

function isPlainCollection(tag: string): boolean {
  return tag === "tag:yaml.org,2002:map" || tag === "tag:yaml.org,2002:seq"
}

/** What to write instead, by the code that the YAML library gives an error. */
const SYNTAX_EXPECTED: Record<string, string> = {
  TAB_AS_INDENT: "spaces at the start of a line, no tabs",
  MULTIPLE_DOCS: "one garden in a file, without a line of --- inside",
  BLOCK_AS_IMPLICIT_KEY:
    'one "key: value" in a line, a value that holds ": " in quotes, and lines below not further in',
  MULTILINE_IMPLICIT_KEY: 'one "key: value" in a line',
  MISSING_CHAR: "the closing quote or bracket, or the colon or comma that is missing here",
  BAD_INDENT: "lines of one level to begin in one column, and each bracket closed",
  BAD_SCALAR_START: "quotes around a value that starts with a sign",
  UNEXPECTED_TOKEN: "one value here: quotes around words with signs in them, and no sign too many",
  RESOURCE_EXHAUSTION: "fewer levels within each other",
}

function syntaxProblems(document: Document, source: string, placeAt: (offset: number) => Place): Problem[] {
  const problems: Problem[] = []
  const lines = source.split(/\r\n|\n|\r/)
  for (const error of document.errors) {
    const place = placeAt(startOf(error, document))
    if (problems.some((other) => other.place?.line === place.line)) continue
    problems.push({
      code: "syntax",
      place,
      field: "",
      found: shorten(lines[place.line - 1]?.trim() || "the end of the file"),
      expected: SYNTAX_EXPECTED[error.code] ?? `YAML 1.2 (${error.message})`,
    })
    if (problems.length === MOST_SYNTAX_PROBLEMS) break
  }
  return problems
}

/** Where an error begins: that of a quote that is never closed at the quote, which may be far above the end. */
function startOf(error: YAMLError, document: Document): number {
  let start = error.pos[0]
  if (error.code !== "MISSING_CHAR") return start
  visit(document, {
    Scalar: (_key, node) => {
      const [from, to] = node.range ?? [0, 0]
      if (node.type?.startsWith("QUOTE") && from < error.pos[0] && to >= error.pos[0]) start = from
    },
  })
  return start
}

/** Words as they are shown in a problem: control characters made visible, long ones cut. */
export function shorten(text: string): string {
  const visible = JSON.stringify(text)
    .slice(1, -1)
    .replaceAll('\\"', '"')
    .replace(
      /[\u007f-\u009f\u2028-\u202e\u2066-\u2069]/g,
      (sign) => `\\u${sign.charCodeAt(0).toString(16).padStart(4, "0")}`,
    )
  return visible.length <= 60 ? visible : `${visible.slice(0, 57)}...`
}

/** What stands in a tree, in a few words. */
export function describe(tree: Tree): string {
  if (tree.is === "words") return tree.text === "" ? '""' : shorten(tree.text)
  if (tree.is === "list") return tree.items.length === 0 ? "an empty list" : `a list of ${tree.items.length}`
  if (tree.is === "keys") {
    const keys = [...tree.entries.keys()]
    return keys.length === 0 ? "nothing" : `keys and values (${shorten(keys.join(", "))})`
  }
  return "nothing"
}

/** The part of a tree that a path of keys and positions leads to, or null where there is none. */
export function partAt(tree: Tree, path: readonly PropertyKey[]): Tree | null {
  let part: Tree | null = tree
  for (const step of path) {
    if (part?.is === "keys") part = part.entries.get(String(step))?.value ?? null
    else if (part?.is === "list") part = part.items[Number(step)] ?? null
    else return null
  }
  return part
}

/** The tree as plain values for a schema: words as strings, what is empty as undefined, maps without a prototype. */
export function plainValue(tree: Tree): unknown {
  if (tree.is === "words") return tree.text
  if (tree.is === "list") return tree.items.map(plainValue)
  if (tree.is !== "keys") return undefined
  const map: Record<string, unknown> = Object.create(null)
  for (const [key, entry] of tree.entries) map[key] = plainValue(entry.value)
  return map
}

/** `beds[south].sowings[2025-09-20].species`: items of a list by their id or day, else by their number from 1. */
export function fieldName(path: readonly PropertyKey[], tree: Tree): string {
  let field = ""
  path.forEach((step, index) => {
    if (typeof step !== "number") field += field === "" ? String(step) : `.${String(step)}`
    else field += `[${itemName(partAt(tree, path.slice(0, index + 1))) ?? step + 1}]`
  })
  return field
}

function itemName(item: Tree | null): string | undefined {
  if (item?.is !== "keys") return undefined
  for (const key of ["id", "sown", "planned"]) {
    const named = item.entries.get(key)?.value
    if (named?.is === "words" && named.text !== "") return describe(named)
  }
  return undefined
}
