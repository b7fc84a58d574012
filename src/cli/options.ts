import { parseArgs } from "node:util"
import { asDay, type Day } from "../values/day.ts"
import { nearestWord } from "../values/nearest.ts"
import { type Problem, WrongInput } from "../values/problem.ts"

/** What each option of a command takes: nothing (`flag`), a word (`text`) or a day. */
export type OptionKinds = Record<string, "flag" | "text" | "day">

export type Options<Kinds extends OptionKinds> = {
  [Name in keyof Kinds]: Kinds[Name] extends "flag"
    ? boolean
    : Kinds[Name] extends "day"
      ? Day | undefined
      : string | undefined
}

/**
 * Reads the words behind a command. WrongInput names every word that is unknown (with the nearest option), lacks its
 * value or is no day. `words`: how many plain words may stand there.
 */
export function readOptions<const Kinds extends OptionKinds>(
  args: string[],
  kinds: Kinds,
  words: { least?: number; most?: number } = {},
): { options: Options<Kinds>; words: string[] } {
  const problems: Problem[] = []
  const { tokens, positionals } = parseArgs({
    args,
    options: Object.fromEntries(
      Object.entries(kinds).map(([name, kind]) => [
        name,
        { type: kind === "flag" ? ("boolean" as const) : ("string" as const) },
      ]),
    ),
    strict: false,
    allowPositionals: true,
    tokens: true,
  })
  const found: Record<string, string | boolean | undefined> = {}
  for (const [name, kind] of Object.entries(kinds)) found[name] = kind === "flag" ? false : undefined
  for (const token of tokens) {
    if (token.kind !== "option") continue
    const kind = kinds[token.name]
    if (kind === undefined) {
      const nearest = nearestWord(token.name, Object.keys(kinds))
      const expected =
        Object.keys(kinds).length === 0
          ? "no options"
          : `one of ${Object.keys(kinds)
              .map((each) => `--${each}`)
              .join(", ")}`
      problems.push({
        ...problem(token.rawName, "an unknown option", expected),
        ...(nearest ? { nearest: `--${nearest}` } : {}),
      })
    } else if (kind === "flag") {
      found[token.name] = true
    } else if (token.value === undefined || (!token.inlineValue && token.value.startsWith("--"))) {
      problems.push(problem(token.rawName, "nothing behind it", kind === "day" ? "a day, YYYY-MM-DD" : "a value"))
    } else if (kind === "day" && !asDay(token.value)) {
      problems.push(problem(token.rawName, JSON.stringify(token.value), "a day of the calendar, YYYY-MM-DD"))
    } else {
      found[token.name] = token.value
    }
  }
  const most = words.most ?? words.least ?? 0
  if (positionals.length > most)
    problems.push(problem("", JSON.stringify(positionals[most]), most === 0 ? "no further words" : `at most ${most}`))
  if (positionals.length < (words.least ?? 0)) problems.push(problem("", "too few words", `at least ${words.least}`))
  if (problems.length > 0) throw new WrongInput(problems)
  return { options: found as Options<Kinds>, words: positionals }
}

function problem(field: string, found: string, expected: string): Problem {
  return { code: "option", place: null, field, found, expected }
}
