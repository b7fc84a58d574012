import { describe, expect, it } from "vitest"
import { webApp } from "../../src/web/server.ts"
import { pages } from "./pages.ts"

describe("ending the weekly mail (RFC 8058)", () => {
  it("shows a button on GET and changes nothing", async () => {
    const { needs, links, stopped } = pages()
    const answer = await webApp(needs).request(links().stop)
    expect(await answer.text()).toMatch(/<form method="post"[\s\S]*Stop these mails/)
    expect(stopped).toEqual([])
  })

  it("ends it on the POST of a mail program, which comes from anywhere and without a page", async () => {
    const { needs, links, stopped } = pages()
    const answer = await webApp(needs).request(links().stop, {
      method: "POST",
      headers: { "content-type": "application/x-www-form-urlencoded" },
      body: "List-Unsubscribe=One-Click",
    })
    expect(answer.status).toBe(200)
    expect(stopped).toEqual(["ines"])
  })

  it("takes no other link for it", async () => {
    const { needs, links, stopped } = pages()
    const token = new URL(links().season).pathname.split("/")[2]
    expect((await webApp(needs).request(`/mail/${token}/stop`, { method: "POST" })).status).toBe(404)
    expect(stopped).toEqual([])
  })
})
