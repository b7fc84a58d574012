import type { z } from "zod"
import { nearestWord, slips } from "../values/nearest.ts"
import type { Problem } from "../values/problem.ts"
import type { About } from "./garden-file-words.ts"
import { describe, fieldName, type Keys, partAt, type Tree } from "./read-tree.ts"
import { listOf, type Wrong } from "./read-words.ts"

type Issue = z.core.$ZodIssue
type Schema = z.core.$ZodType

/** Problems of a garden file from what its schema says of it, each with its place in the file. */
export function problemsOf(issues: readonly Issue[], tree: Tree, schema: Schema): Problem[] {
  return issues.flatMap((issue) => problemsOfIssue(issue, [], tree, schema))
}

function problemsOfIssue(issue: Issue, above: readonly PropertyKey[], tree: Tree, schema: Schema): Problem[] {
  const path = [...above, ...issue.path]
  const part = partAt(tree, path)
  if (part?.is === "broken") return []
  if (issue.code === "invalid_union") {
    const way = issue.errors.find((errors) =>
      errors.every((error) => error.path.length > 0 || error.code !== "invalid_type"),
    )
    if (way) return way.flatMap((error) => problemsOfIssue(error, path, tree, schema))
  }
  if (issue.code === "unrecognized_keys")
    return issue.keys.map((key) => unknownKey(key, path, part as Keys, tree, schema))
  if (!part || part.is === "nothing") return [missing(path, tree, schema)]
  const wrong = issue.code === "custom" ? (issue.params as Wrong | undefined) : undefined
  const nearest = wrong ? wrong.nearest : asList(part, path, schema)
  return [
    {
      code: wrong?.wrong ?? (issue.code === "too_small" || issue.code === "too_big" ? "wrong-count" : "wrong-shape"),
      place: part.at,
      field: fieldName(path, tree),
      found: describe(part),
      expected: wrong?.expected ?? expectsAt(schema, path),
      ...(nearest ? { nearest } : {}),
    },
  ]
}

/** A word where a list of words is right: the list of it. */
function asList(part: Tree, path: readonly PropertyKey[], schema: Schema): string | undefined {
  const isWord = (each: Schema | undefined) => each !== undefined && ["pipe", "string"].includes(each._zod.def.type)
  const takesList = schemasAt(schema, path).some((each) => isWord((each._zod.def as { element?: Schema }).element))
  return takesList && part.is === "words" ? `[${part.text}]` : undefined
}

function missing(path: readonly PropertyKey[], tree: Tree, schema: Schema): Problem {
  const above = partAt(tree, path.slice(0, -1)) ?? tree
  const at = above.is === "keys" ? (above.entries.get(String(path.at(-1)))?.at ?? above.at) : above.at
  return {
    code: "missing",
    place: at,
    field: fieldName(path, tree),
    found: "nothing",
    expected: expectsAt(schema, path),
  }
}

function unknownKey(key: string, path: readonly PropertyKey[], part: Keys, tree: Tree, schema: Schema): Problem {
  const keys = keysAt(schema, path, part)
  const nearest = nearestKey(key, keys, [...part.entries.keys()])
  const home = nearest ? undefined : homeOf(key, schema)
  return {
    code: "unknown-key",
    place: part.entries.get(key)?.at ?? part.at,
    field: fieldName([...path, key], tree),
    found: `the key ${key}`,
    expected: listOf(keys) + (home ? ` (${key} belongs under ${home})` : ""),
    ...(nearest ? { nearest } : {}),
  }
}

/**
 * The known key nearest to a mistyped one; of two that are as near, the one that does not stand beside it already. Where
 * none is near, one that holds the word or is held in it (`rain` for `rain_mm`).
 */
export function nearestKey(key: string, keys: readonly string[], present: readonly string[]): string | undefined {
  const inTurn = [...keys.filter((known) => !present.includes(known)), ...keys]
  const word = key.toLowerCase()
  const near = nearestWord(word, inTurn)
  if (near && slips(word, near.toLowerCase()) < Math.max(word.length, near.length)) return near
  const holds = (known: string) => known.length >= 3 && (known.toLowerCase().includes(word) || word.includes(known))
  return word.length >= 3 ? inTurn.find(holds) : undefined
}

/** What the schema expects at a path, in words. */
function expectsAt(schema: Schema, path: readonly PropertyKey[]): string {
  for (const candidate of schemasAt(schema, path)) {
    const about = aboutOf(candidate)
    if (about?.expects) return about.expects
  }
  return "a value"
}

/** The keys that may stand at a path; where several shapes are right there, those of the shape that fits best. */
function keysAt(schema: Schema, path: readonly PropertyKey[], part: Keys): string[] {
  const shapes = schemasAt(schema, path).flatMap((candidate) => {
    const inner = opened(candidate)
    return inner.flatMap((each) => (each._zod.def.type === "object" ? [Object.keys(shapeOf(each))] : []))
  })
  const held = (keys: string[]) => keys.filter((key) => part.entries.has(key)).length
  return shapes.sort((a, b) => held(b) - held(a))[0] ?? []
}

/** Where a key belongs that stands in a wrong place, in words such as `place`; undefined for a word that is no key. */
function homeOf(key: string, schema: Schema, above = ""): string | undefined {
  for (const each of opened(schema)) {
    const def = each._zod.def as { type: string; element?: Schema }
    if (def.type === "array" && def.element) return homeOf(key, def.element, above)
    if (def.type !== "object") continue
    const shape = shapeOf(each)
    if (above !== "" && key in shape) return above
    for (const [name, child] of Object.entries(shape)) {
      const found = homeOf(key, child, above === "" ? name : `${above}.${name}`)
      if (found) return found
    }
  }
  return undefined
}

function schemasAt(schema: Schema, path: readonly PropertyKey[]): Schema[] {
  let found: Schema[] = [schema]
  for (const step of path) {
    found = found.flatMap(opened).flatMap((each) => {
      const def = each._zod.def as { type: string; element?: Schema; valueType?: Schema }
      if (def.type === "object") return shapeOf(each)[String(step)] ?? []
      return (typeof step === "number" ? def.element : def.valueType) ?? []
    })
  }
  return found.flatMap((each) => [each, ...opened(each)])
}

/** A schema without what wraps it: what is optional, the ways of a choice of shapes, what a word is made of. */
function opened(schema: Schema): Schema[] {
  const def = schema._zod.def as { type: string; innerType?: Schema; options?: Schema[] }
  if (def.type === "optional" && def.innerType) return opened(def.innerType)
  if (def.type === "union" && def.options) return [schema, ...def.options.flatMap(opened)]
  return [schema]
}

function shapeOf(schema: Schema): Record<string, Schema> {
  return (schema._zod.def as unknown as { shape: Record<string, Schema> }).shape
}

function aboutOf(schema: Schema): About | undefined {
  return (schema as { meta?: () => About | undefined }).meta?.()
}
