import { describe, expect, it } from "vitest"
import { organiserLink } from "../../src/web/link.ts"
import { webApp } from "../../src/web/server.ts"
import { day } from "../given.ts"
import { INES, pages, SECRET } from "./pages.ts"

const overview = {
  garden: "Spring <b>Street</b>",
  invite: "rootwork",
  mail: null,
  on: day("2026-05-10"),
  plots: [],
  more: 0,
}

describe("the organiser's page", () => {
  const open = (over: Parameters<typeof pages>[0], link?: string) => {
    const given = pages(over)
    const way = link ?? organiserLink("http://localhost", INES, given.clock.now, [SECRET])
    return { given, answer: webApp(given.needs).request(way) }
  }

  it("opens to its organiser, escapes names and is kept by no cache", async () => {
    const answer = await open({ overview: async () => overview }).answer
    expect(answer.status).toBe(200)
    expect(answer.headers.get("cache-control")).toBe("no-store")
    const page = await answer.text()
    expect(page).toContain("Spring &lt;b&gt;Street&lt;/b&gt;")
  })

  it("is not there for whoever is no organiser any more, whatever their link", async () => {
    expect((await open({ overview: async () => null }).answer).status).toBe(404)
    expect((await open({}).answer).status).toBe(404)
  })

  it("opens with no other link of the same person, and its link opens nothing else", async () => {
    const { links, clock } = pages()
    const asked: string[] = []
    const needs = {
      overview: async () => {
        asked.push("asked")
        return overview
      },
    }
    const token = (address: string) => address.split("/")[4] ?? ""
    for (const other of [links().season, links().stop, links().calendar.replace(".ics", "")])
      expect((await open(needs, `http://localhost/organiser/${token(other)}`).answer).status).toBe(404)
    const own = token(organiserLink("http://localhost", INES, clock.now, [SECRET]))
    expect((await open(needs, `http://localhost/season/${own}`).answer).status).toBe(404)
    expect(asked).toEqual([])
  })

  it("never logs its token", async () => {
    const { given, answer } = open({ overview: async () => overview })
    await answer
    expect(given.visits.map((visit) => visit.path)).toEqual(["/organiser/***"])
  })
})
