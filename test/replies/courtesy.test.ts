import { describe, expect, it } from "vitest"
import { understand } from "../../src/replies/understand.ts"
import { contextFor, FRESH, readCases, readGardens } from "./gardens.ts"

const FIXTURES = new URL("../fixtures/replies/", import.meta.url)
const ALL = FRESH.flatMap((name) => {
  const gardens = readGardens(new URL(`${name}-contexts.json`, FIXTURES))
  return readCases(new URL(`${name}.jsonl`, FIXTURES)).flatMap((one) => {
    const garden = gardens[one.context]
    return garden ? [{ one, context: contextFor(garden, one.now, one.last) }] : []
  })
})

/** An invite word keeps its case, and what stands in quotation marks or behind a reaction is not the sender's. */
const OWN = ALL.filter(({ one: { text } }) => !/join|["“”]|^[A-Z][a-z]+ed /i.test(text))

const VARIANTS: readonly (readonly [string, (text: string) => string])[] = [
  ["thanks behind it", (text) => `${text} thanks`],
  ["thanks in a sentence of their own", (text) => `${text}. Thanks!`],
  ["a greeting in front", (text) => `Hi, ${text}`],
  ["our name in front", (text) => `Hey Ryebell, ${text}`],
  ["small letters", (text) => text.toLowerCase()],
  ["capitals", (text) => text.toUpperCase()],
  ["a smile", (text) => `${text} 😊`],
]

describe("courtesy and letters change no act and no question", () => {
  it.each(VARIANTS)("%s", (_, vary) => {
    const changed: string[] = []
    for (const { one, context } of OWN) {
      const plain = understand(one.text, context)
      const varied = understand(vary(one.text), context)
      const same = JSON.stringify(plain.acts) === JSON.stringify(varied.acts) && plain.ask?.which === varied.ask?.which
      if (!same) changed.push(`${vary(one.text)} [${one.context}]`)
    }
    expect(changed).toEqual([])
  })

  it("a name under a stop is whose it is", () => {
    const stops = ALL.filter(({ one, context }) => understand(one.text, context).acts[0]?.act === "stop")
    const missed = stops.filter(({ one, context }) =>
      understand(`${one.text}\n\nInes`, context).acts.every(({ act }) => act !== "stop"),
    )
    expect(stops.length).toBeGreaterThan(20)
    expect(missed.map(({ one }) => one.text)).toEqual([])
  })
})
