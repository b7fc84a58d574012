import { readdirSync, readFileSync } from "node:fs"
import { describe, expect, it } from "vitest"
import { parseAst } from "vitest/node"
import { plainLetters } from "../../src/wording/plain-letters.ts"
import { measure } from "../../src/wording/segments.ts"
import { everyWording, tableOf, wrongIn } from "./wordings.ts"

const src = new URL("../../src/", import.meta.url)
/** Where the words of texts are written; what the weekly mail and the pages say besides has tests of its own. */
const PLACES = [
  ...readdirSync(new URL("reminders/", src)).map((file) => `reminders/${file}`),
  ...readdirSync(new URL("wording/", src)).flatMap((file) =>
    /^(?:answer|join|beds|organiser\.|new-links|compose|reply-words)/.test(file) ? [`wording/${file}`] : [],
  ),
  "garden/join-answers.ts",
]

const all = everyWording()

describe("every wording that the bot can send", () => {
  it("keeps the rules of wording at the longest realistic names", () => {
    expect(all.flatMap((each) => wrongIn(each).map((wrong) => `${each.name}: ${wrong}: ${each.text}`))).toEqual([])
  })

  it("takes two segments at most as a text", () => {
    const long = all.filter(({ by, text }) => by === "text" && measure(text).segments > 2)
    expect(long.map(({ text }) => text)).toEqual([])
  })

  it("is never cut short, but for what a gardener wrote and is quoted back", () => {
    expect(all.filter(({ text }) => /\.\.\.(?!")/.test(text)).map(({ text }) => text)).toEqual([])
  })

  it("is in the table: whatever is written in the source as words to a person stands in one of its rows", () => {
    const said = all.map(({ text }) => text.toLowerCase()).join("\n")
    const missing = PLACES.flatMap((file) =>
      wordsIn(readFileSync(new URL(file, src), "utf8"))
        .filter((words) => !said.includes(plainLetters(words).toLowerCase()))
        .map((words) => `${file}: ${words}`),
    )
    expect(missing).toEqual([])
  })

  it("makes a table that is the same each time", () => {
    expect(tableOf(everyWording())).toBe(tableOf(all))
  })
})

type Node = { type: string; value?: unknown; [key: string]: unknown }

/** The parts of sentences in a source: lines of strings and templates that hold two words or more. */
function wordsIn(code: string): string[] {
  const found: string[] = []
  const take = (text: string) => {
    const lines = text.split("\n").map((line) => line.trim())
    found.push(...lines.filter((line) => /\p{L}{2,}[.,:;?]* +\p{L}{2,}/u.test(line) && !/^[A-Z ]+$/.test(line)))
  }
  const walk = (node: Node) => {
    if (node.type === "ImportDeclaration" || node.type.startsWith("TS")) return
    if (node.type === "Literal" && typeof node.value === "string") take(node.value)
    if (node.type === "TemplateElement") take((node.value as { cooked: string }).cooked)
    for (const value of Object.values(node))
      for (const each of Array.isArray(value) ? value : [value])
        if (each !== null && typeof each === "object" && "type" in each) walk(each as Node)
  }
  walk(parseAst(code, { lang: "ts" }) as unknown as Node)
  return found
}
