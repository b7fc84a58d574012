import { describe, expect, it } from "vitest"
import { escaped, html, oneLine, raw, seen } from "../../src/wording/html.ts"

describe("html", () => {
  it("escapes every value, in content and in attributes", () => {
    const name = `"><script>alert('x')</script>&`
    expect(html`<p title="${name}">${name}</p>`.text).toBe(
      '<p title="&quot;&gt;&lt;script&gt;alert(&#39;x&#39;)&lt;/script&gt;&amp;">&quot;&gt;&lt;script&gt;alert(&#39;x&#39;)&lt;/script&gt;&amp;</p>',
    )
  })

  it("joins lists, leaves out what is nothing, and does not escape markup twice", () => {
    expect(html`${[html`<b>${"<"}</b>`, null, false, undefined, 3, raw("<i>")]}`.text).toBe("<b>&lt;</b>3<i>")
  })
})

describe("what is shown of words", () => {
  it("holds no control, no half letter and no mark that turns directions (failure X8)", () => {
    expect(seen("a\u0000b\u001b[31mc\u202Ed\u2066e\ud800f\uffffg")).toBe("ab[31mcdefg")
    expect(seen("line\nnext\ttab 🌼")).toBe("line\nnext\ttab 🌼")
    expect(escaped("\u0008<")).toBe("&lt;")
  })

  it("is one line where a line is wanted", () => {
    expect(oneLine("South\r\nbed\u2028 now ")).toBe("South bed now")
  })
})
