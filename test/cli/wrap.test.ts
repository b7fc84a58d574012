import fc from "fast-check"
import { describe, expect, it } from "vitest"
import { widthOf, wrapped } from "../../src/cli/wrap.ts"

describe("lines at a terminal", () => {
  it("break between words and stand as far in as they began", () => {
    expect(wrapped("  1) Keep the top inch damp till you see green.", 24)).toBe(
      "  1) Keep the top inch\n  damp till you see\n  green.",
    )
  })

  it("keep every word whole and in order, and are no wider than the terminal but for a word that is", () => {
    fc.assert(
      fc.property(
        fc.array(fc.stringMatching(/^[a-z]{1,30}$/), { minLength: 1 }),
        fc.integer({ min: 10, max: 80 }),
        (words, width) => {
          const lines = wrapped(`  ${words.join(" ")}`, width).split("\n")
          expect(lines.join(" ").trim().split(/ +/)).toEqual(words)
          for (const line of lines) expect(line.length <= width || !line.trim().includes(" "), line).toBe(true)
        },
      ),
    )
  })

  it("stay whole in a pipe, where there are no columns", () => {
    const long = "x ".repeat(500)
    expect(wrapped(long, widthOf({ isTTY: false, columns: 80 }))).toBe(long)
    expect(widthOf({ isTTY: true, columns: 80 })).toBe(80)
    expect(widthOf({ isTTY: true })).toBe(Number.POSITIVE_INFINITY)
  })
})
