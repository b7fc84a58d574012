import { describe, expect, it } from "vitest"
import { PAYLOADS } from "./payloads.ts"
import { shown } from "./shown.ts"

/** The signs that make elements and attributes. */
const signs = (page: string) => ["<", ">", '"', "'"].map((sign) => page.split(sign).length)
const plainSigns = Object.fromEntries(Object.entries(shown("word")).map(([name, page]) => [name, signs(page)]))

it("are sixty", () => expect(new Set(PAYLOADS).size).toBe(60))

describe("texts, names and beds that look like markup (failure X11)", () => {
  it.each(PAYLOADS)("make no new element and no new attribute: %j", (payload) => {
    for (const [name, page] of Object.entries(shown(payload)))
      expect({ name, signs: signs(page) }).toEqual({ name, signs: plainSigns[name] })
  })

  it("still stand in the page as they were written", () => {
    expect(shown("<b>&co</b>").log).toContain("&lt;b&gt;&amp;co&lt;/b&gt;")
  })
})
