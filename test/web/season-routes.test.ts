import { describe, expect, it } from "vitest"
import { addMs } from "../../src/values/instant.ts"
import { webApp } from "../../src/web/server.ts"
import { field, pages } from "./pages.ts"

const CUT = "south:2025-09-20:cut:1"
const REGROWTH = "north:2025-09-28:check-regrowth:1"
const UP = "kitchen:2026-04-25:check-emergence:1"

async function opened(setup = pages()) {
  const app = webApp(setup.needs)
  const path = new URL(setup.links().season).pathname
  const page = await (await app.request(path)).text()
  const post = (action: string, fields: Record<string, string>, headers: Record<string, string> = {}) =>
    app.request(`${path}${action}`, {
      method: "POST",
      headers: { "content-type": "application/x-www-form-urlencoded", origin: "http://localhost", ...headers },
      body: new URLSearchParams({ form: field(page, action, "form"), ...fields }).toString(),
    })
  return { ...setup, app, path, page, post, seen: field(page, "/press", "seen") }
}

describe("the season page", () => {
  it("shows the garden, what is due and what was written", async () => {
    const { page } = await opened()
    expect(page).toContain("<h1>Long Acre</h1>")
    expect(page).toContain("See whether Kitchen bed is up")
    expect(page).toContain("peppers into the west bed today, soil lovely")
  })

  it("turns a press into the words of a text, through the same door as all replies", async () => {
    const { post, received, seen } = await opened()
    const answer = await post("/press", { reminder: UP, word: "UP", seen })
    expect(answer.status).toBe(303)
    expect(received).toMatchObject([
      { via: "web", from: "long-acre/ines", to: "long-acre", text: "UP 2", extra: { reminder: UP, word: "UP" } },
    ])
  })

  it("says the day where it was another", async () => {
    const { post, received, seen } = await opened()
    await post("/press", { reminder: CUT, word: "DONE", day: "2026-05-08", seen })
    await post("/press", { reminder: CUT, word: "SNOOZE", until: "2026-05-16", seen })
    expect(received.map((each) => each.text)).toEqual(["DONE 3, 8 May", "SNOOZE 3 to 16 May"])
  })

  it("names the bed where the reminder has no number yet, and then offers no snooze", async () => {
    const { post, received, page, seen } = await opened()
    expect((await post("/press", { reminder: REGROWTH, word: "NONE", seen })).status).toBe(303)
    expect((await post("/press", { reminder: REGROWTH, word: "SNOOZE", until: "2026-05-16", seen })).status).toBe(409)
    expect(received.map((each) => each.text)).toEqual(["no regrowth on North bed"])
    expect(page).not.toContain("Snooze: look for green regrowth")
  })

  it("counts a press once however often it is sent from one page", async () => {
    const { post, received, seen } = await opened()
    await Promise.all([1, 2, 3].map(() => post("/press", { reminder: UP, word: "UP", seen })))
    expect(received).toHaveLength(1)
  })

  it("shows what was answered after the press", async () => {
    const { app, post, path, seen } = await opened()
    const answer = await post("/press", { reminder: UP, word: "UP", seen })
    expect(answer.headers.get("location")).toBe(`${path}#said`)
    expect(await (await app.request(path)).text()).toMatch(/role="status"[\s\S]*Noted: UP 2/)
  })

  it("keeps a note in the gardener's own words", async () => {
    const { post, received } = await opened()
    await post("/note", { text: "  first purple on south <3  " })
    expect(received[0]?.text).toBe("first purple on south <3")
  })

  it("undoes only what the page showed as the last thing told", async () => {
    const { post, received } = await opened()
    expect((await post("/undo", { seq: "3" })).status).toBe(409)
    expect((await post("/undo", { seq: "5" })).status).toBe(303)
    expect(received.map((each) => each.text)).toEqual(["UNDO"])
  })

  it("refuses words that the reminder does not offer, days out of reach and things of nobody", async () => {
    const { post, received, seen } = await opened()
    const tries = [
      { reminder: UP, word: "STOP" },
      { reminder: UP, word: "done 1, 2, 3" },
      { reminder: "other:2026-01-01:cut:1", word: "DONE" },
      { reminder: UP, word: "UP", day: "2026-02-30" },
      { reminder: UP, word: "UP", day: "2027-01-01" },
      { reminder: UP, word: "SNOOZE", until: "2020-01-01" },
    ]
    for (const each of tries)
      expect((await post("/press", { ...each, seen } as Record<string, string>)).status).toBe(409)
    expect(received).toEqual([])
  })

  it("says that nothing was kept where it was not", async () => {
    const setup = pages({
      receive: async () => {
        throw new Error("disk full")
      },
    })
    const { post, seen, errors } = await opened(setup)
    const answer = await post("/press", { reminder: UP, word: "UP", seen })
    expect(answer.status).toBe(503)
    expect(await answer.text()).toContain("was not kept")
    expect(errors).toHaveLength(1)
  })

  it("ends every link of its person at the press for new ones, and shows none of the new ones", async () => {
    const setup = pages()
    const { app, post, path } = await opened(setup)
    expect((await post("/renew", { form: "" })).status).toBe(403)
    expect((await app.request(path)).status).toBe(200)
    setup.clock.now = addMs(setup.clock.now, 1)
    const answer = await post("/renew", {})
    const said = await answer.text()
    expect([answer.status, said.includes("They come to you by mail")]).toEqual([200, true])
    expect(said).not.toMatch(/\/season\/|\/calendar\//)
    expect((await app.request(path)).status).toBe(404)
    expect((await app.request(new URL(setup.links().season).pathname)).status).toBe(200)
  })

  it("keeps its link where new ones could not be sent", async () => {
    const { app, post, path } = await opened(pages({ renewLinks: async () => null }))
    const answer = await post("/renew", {})
    expect([answer.status, (await answer.text()).includes("this link still works")]).toEqual([409, true])
    expect((await app.request(path)).status).toBe(200)
  })

  it("shows one thing, one bed and the whole log on pages of their own", async () => {
    const { app, path } = await opened()
    const get = async (rest: string) => (await app.request(path + rest)).text()
    expect(await get(`/do/${encodeURIComponent(CUT)}`)).toContain("Which day was it?")
    expect(await get("/bed/south")).toContain("Carry the tops to the compost")
    expect(await get("/log")).toContain("rye on south has heads out")
  })

  it("hands out photos of the person's log and no other file", async () => {
    const { app, path } = await opened()
    const photo = await app.request(`${path}/photo/2026-05-06-a1b2c3.jpg`)
    expect(photo.headers.get("content-type")).toBe("image/jpeg")
    for (const name of ["other.jpg", "..%2F..%2Fetc%2Fpasswd", "%00"])
      expect((await app.request(`${path}/photo/${name}`)).status).toBe(404)
  })
})

describe("forms", () => {
  const foreign = [
    { origin: "https://elsewhere.example" },
    { origin: "https://elsewhere.example", "sec-fetch-site": "cross-site" },
    { origin: "null", "sec-fetch-site": "cross-site" },
    { "sec-fetch-site": "same-site" },
    { "sec-fetch-site": "none" },
  ]
  it.each(foreign)("from elsewhere change nothing: %j", async (headers) => {
    const { post, received, seen } = await opened()
    expect((await post("/press", { reminder: UP, word: "UP", seen }, headers)).status).toBe(403)
    expect(received).toEqual([])
  })

  it("without the page's mark change nothing, even from the page's own origin", async () => {
    const { post, received, seen } = await opened()
    for (const form of ["", "AAAAAAAAAAAAAAAAAAAAAA", "x".repeat(5000)])
      expect((await post("/press", { reminder: UP, word: "UP", seen, form })).status).toBe(403)
    expect(received).toEqual([])
  })

  it("sent without a referrer, whose origin browsers write as null, are taken with the page's mark", async () => {
    const { post, received, seen } = await opened()
    expect((await post("/press", { reminder: UP, word: "UP", seen }, { origin: "null" })).status).toBe(303)
    expect(received).toHaveLength(1)
  })

  it("larger than a form can be are refused unread (failure X15)", async () => {
    const { post, received } = await opened()
    expect((await post("/note", { text: "x".repeat(70_000) })).status).toBe(413)
    expect(received).toEqual([])
  })
})
