import { describe, expect, it } from "vitest"
import { mutated, mutationsOf, watched } from "./mutations.ts"
import { drawn, wilson } from "./sample.ts"

/** Every mutation of a source, as the source that it makes. */
function wrongs(code: string): string[] {
  return mutationsOf("a.ts", code).map((mutation) => mutated(code, mutation))
}

describe("small wrongs in a source", () => {
  it("are of comparisons, and of what they decide", () => {
    expect(wrongs("if (a < b) c()")).toEqual([
      "if ((true)) c()",
      "if ((false)) c()",
      "if (((a) <= (b))) c()",
      "if (((a) >= (b))) c()",
    ])
  })

  it("are of sums, with brackets where they were; words are not sums", () => {
    expect(wrongs("const a = (b + c) * d")).toEqual(["const a = (((b + c)) / (d))", "const a = (((b) - (c))) * d"])
    expect(wrongs('const a = b + "c"')).toEqual([])
  })

  it("are of what is joined, turned round or handed back", () => {
    expect(wrongs("const f = () => a && !b")).toEqual(["const f = () => ((a) || (!b))", "const f = () => a && (b)"])
    expect(wrongs("function f(): string { return `a` }")).toEqual(['function f(): string { return ("") }'])
    expect(wrongs("const a = list.some(b)")).toEqual(["const a = (list.every(b))"])
  })

  it("leave types and imports alone", () => {
    expect(wrongs('import a from "b"\ntype C = { d: true; e: 1 | 2 }\nconst f = a as true')).toEqual([])
  })

  it("are told of when a test comes by, and change nothing by that", () => {
    const code = "(x: number) => x > 1 && x < 9 ? [x] : []"
    const sites = mutationsOf("a.ts", code).map(({ start, end }, number) => ({ start, end, number }))
    const seen = watched(
      code.replace(": number", ""),
      sites.map((site) => ({ ...site, start: site.start - 8, end: site.end - 8 })),
    )
    const tell = new Function("globalThis", `return ${seen}`)
    const reached = new Set<number>()
    const f = tell({ reachedByTest: reached }) as (x: number) => number[]
    expect([f(0), f(5), f(9)]).toEqual([[], [5], []])
    expect(reached.size).toBe(sites.length)
  })
})

it("the same seed draws the same, in their order", () => {
  const all = Array.from({ length: 100 }, (_, i) => i)
  expect(drawn(all, 10, 3)).toEqual(drawn(all, 10, 3))
  expect(drawn(all, 10, 3)).not.toEqual(drawn(all, 10, 4))
  expect(drawn(all, 10, 3)).toEqual(drawn(all, 10, 3).toSorted((a, b) => a - b))
})

it("an interval holds the share and is the narrower the more were drawn", () => {
  const [few, many] = [wilson(8, 10), wilson(800, 1000)]
  for (const { low, high } of [few, many]) expect(low < 0.8 && 0.8 < high).toBe(true)
  expect(many.high - many.low).toBeLessThan(few.high - few.low)
})
