import { describe, expect, it } from "vitest"
import { webApp } from "../../src/web/server.ts"
import { pages } from "./pages.ts"

describe("the calendar feed", () => {
  it("answers a known ETag with 304 and nothing (RFC 9110, 13.1.2)", async () => {
    const { needs, links } = pages()
    const app = webApp(needs)
    const first = await app.request(links().calendar)
    const etag = first.headers.get("etag") ?? ""
    expect(first.headers.get("content-type")).toContain("text/calendar")
    for (const given of [etag, `W/${etag}`, `"other", ${etag}`, "*"]) {
      const again = await app.request(links().calendar, { headers: { "if-none-match": given } })
      expect([again.status, (await again.arrayBuffer()).byteLength]).toEqual([304, 0])
    }
    expect((await app.request(links().calendar, { headers: { "if-none-match": '"other"' } })).status).toBe(200)
  })

  it("is the same text as long as the plan is the same", async () => {
    const { needs, links } = pages()
    const app = webApp(needs)
    const text = async () => (await app.request(links().calendar)).text()
    expect(await text()).toBe(await text())
  })
})
