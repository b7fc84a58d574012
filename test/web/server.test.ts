import { createHash } from "node:crypto"
import { describe, expect, it } from "vitest"
import { startWeb, webApp, withoutToken } from "../../src/web/server.ts"
import { pages } from "./pages.ts"

/** Every address on a page that a reader could follow or a filter could fetch. */
function addresses(page: string): string[] {
  return [...page.matchAll(/(?:href|src|action)="([^"]+)"/g)].map((match) =>
    (match[1] as string).replaceAll("&amp;", "&"),
  )
}

describe("every page", () => {
  it("allows its own style sheet by hash, no script, and no outside content", async () => {
    const { needs, links } = pages()
    const answer = await webApp(needs).request(links().season)
    const policy = answer.headers.get("content-security-policy") ?? ""
    const page = await answer.text()
    const style = /<style>([\s\S]*?)<\/style>/.exec(page)?.[1] ?? ""
    expect(policy).toContain("default-src 'none'")
    expect(policy).toContain(`style-src 'sha256-${createHash("sha256").update(style).digest("base64")}'`)
    expect(policy).not.toMatch(/script-src|unsafe/)
    expect(page).not.toMatch(/<script|style="|\son[a-z]+=|https?:\/\/(?!www\.w3\.org)/)
  })

  it("sends no referrer, is kept by no cache and stands in no frame", async () => {
    const { needs, links } = pages()
    const { headers } = await webApp(needs).request(links().season)
    expect(headers.get("referrer-policy")).toBe("no-referrer")
    expect(headers.get("cache-control")).toBe("no-store")
    expect(headers.get("x-frame-options")).toBe("DENY")
    expect(headers.get("x-content-type-options")).toBe("nosniff")
  })

  it("stays under 60 kB", async () => {
    const { needs, links } = pages()
    expect((await (await webApp(needs).request(links().season)).arrayBuffer()).byteLength).toBeLessThan(60_000)
  })
})

describe("GET and HEAD (failure M4)", () => {
  it("change nothing on any address that pages hold, forms' targets among them", async () => {
    const { needs, links, state } = pages()
    const app = webApp(needs)
    const before = state()
    const all = links()
    const waiting = [all.season, all.calendar, all.stop, "http://localhost/health"].map(
      (each) => new URL(each).pathname,
    )
    const seen = new Set<string>()
    while (waiting.length > 0) {
      const path = waiting.pop() as string
      if (seen.has(path)) continue
      seen.add(path)
      const answer = await app.request(path)
      await app.request(path, { method: "HEAD" })
      if (answer.headers.get("content-type")?.startsWith("text/html"))
        for (const each of addresses(await answer.text()))
          if (each.startsWith("/")) waiting.push(each.split("#")[0] as string)
    }
    expect(seen.size).toBeGreaterThan(12)
    expect(state()).toBe(before)
  })
})

describe("wrong addresses", () => {
  it("get one and the same page, whatever is wrong with them (failure X5)", async () => {
    const setup = pages()
    const app = webApp(setup.needs)
    const { season, calendar, stop } = setup.links()
    const token = new URL(season).pathname.split("/")[2] as string
    const calendarToken = (new URL(calendar).pathname.split("/")[2] as string).replace(".ics", "")
    const forged = `${token.slice(0, -1)}${token.endsWith("A") ? "B" : "A"}`
    const wrong = [
      "/",
      "/season/",
      `/season/${forged}`,
      `/season/${token}x`,
      `/season/${token.slice(0, -1)}`,
      `/season/${calendarToken}`,
      `/calendar/${token}.ics`,
      `/mail/${token}/stop`,
      `/season/${"x".repeat(3000)}`,
      `/season/${token}/bed/nowhere`,
      `/season/${token}/do/nothing`,
      new URL(stop).pathname.replace("/stop", ""),
    ]
    const answers = await Promise.all(wrong.map((path) => app.request(path)))
    expect(answers.map((each) => each.status)).toEqual(wrong.map(() => 404))
    expect(new Set(await Promise.all(answers.map((each) => each.text()))).size).toBe(1)
  })

  it("are counted by socket address: 20 a minute, forwarded addresses believed by nobody (failure X18)", async () => {
    const setup = pages()
    const web = await startWeb(setup.needs)
    try {
      const codes: number[] = []
      for (let i = 0; i < 60; i += 1) {
        const answer = await fetch(`${web.url}/season/guess-${i}`, { headers: { "x-forwarded-for": `10.0.0.${i}` } })
        await answer.arrayBuffer()
        codes.push(answer.status)
      }
      expect(codes.filter((code) => code === 404)).toHaveLength(20)
      expect(codes.filter((code) => code === 429)).toHaveLength(40)
      // Whoever has a right link is served all the same.
      const right = await fetch(`${web.url}${new URL(setup.links().season).pathname}`)
      expect(right.status).toBe(200)
      await right.arrayBuffer()
    } finally {
      await web.close()
    }
  })

  it("leave no token in the operator's log (failure X6)", async () => {
    const setup = pages()
    const app = webApp(setup.needs)
    for (const address of Object.values(setup.links())) await app.request(address)
    const tokens = Object.values(setup.links()).map((each) => new URL(each).pathname.split("/")[2] as string)
    const written = JSON.stringify(setup.visits)
    for (const token of tokens) expect(written).not.toContain(token.slice(0, 20))
    expect(setup.visits.map((each) => each.path)).toContain("/season/***")
    expect(withoutToken("/calendar/abc.ics")).toBe("/calendar/***")
  })
})

describe("health", () => {
  it("is JSON: 200 where all is well, 503 where not or where it cannot be read", async () => {
    const well = await webApp(pages().needs).request("/health")
    expect([well.status, await well.json()]).toEqual([200, { ok: true, lastTick: "2026-05-10T13:00:00Z" }])
    const ill = await webApp(pages({ health: async () => ({ ok: false, hold: "clock" }) }).needs).request("/health")
    expect([ill.status, await ill.json()]).toEqual([503, { ok: false, hold: "clock" }])
    const broken = pages({
      health: async () => {
        throw new Error("no store at /srv/secret")
      },
    })
    const answer = await webApp(broken.needs).request("/health")
    expect(answer.status).toBe(503)
    expect(await answer.text()).not.toContain("secret")
  })
})
