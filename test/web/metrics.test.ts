import { describe, expect, it } from "vitest"
import { metricsOf } from "../../src/assemble-metrics.ts"
import { metricsText } from "../../src/web/metrics.ts"
import { startWeb } from "../../src/web/server.ts"
import { aHouse } from "../bot/given-house.ts"
import { aBed, aGarden, aPerson, aSowing, at } from "../given.ts"
import { pages } from "./pages.ts"

/** A line of the text format: name, labels in braces, a number (Prometheus exposition format 0.0.4, from memory). */
const LINE =
  /^[a-zA-Z_:][a-zA-Z0-9_:]*(?:\{[a-zA-Z_][a-zA-Z0-9_]*="(?:[^"\\\n]|\\["\\n])*"(?:,[a-zA-Z_][a-zA-Z0-9_]*="(?:[^"\\\n]|\\["\\n])*")*\})? (?:-?\d+(?:\.\d+)?(?:e[+-]?\d+)?|NaN)$/

describe("figures for a monitor", () => {
  it("are in the text format, count what was done, and name nobody", async () => {
    const house = aHouse(
      aGarden({ people: [aPerson()], beds: [aBed({ id: "south", sowings: [aSowing({ bed: "south" })] })] }),
    )
    await house.says("+17175550142", "join", at("2026-05-01 09:00"))
    house.house.memory.errors.set("garden long-acre", "planted")
    const text = metricsText(await metricsOf(house.house, house.house.clock))
    for (const line of text.trimEnd().split("\n"))
      expect(line).toMatch(line.startsWith("#") ? /^# (HELP|TYPE) \S+ \S/ : LINE)
    expect(text).toMatch(/ryebell_done_total\{kind="text sent"\} [1-9]/)
    expect(text).toContain('ryebell_done_total{kind="reply applied"} 1')
    expect(text).toContain('ryebell_troubles{kind="garden"} 1')
    expect(text).not.toMatch(/ines|long-acre|7175550142/i)
  })

  it("escapes what a label may hold", () => {
    const text = metricsText([{ name: "a", help: "b", is: "gauge", values: [{ labels: { k: 'x"\\\n' }, value: 1.5 }] }])
    expect(text.split("\n")[2]).toMatch(LINE)
  })

  it("are given to this machine, and to nobody who comes through a proxy", async () => {
    const { needs } = pages({ metrics: async () => [{ name: "a", help: "b", is: "gauge", values: [{ value: 1 }] }] })
    const web = await startWeb(needs)
    try {
      const near = await fetch(`${web.url}/metrics`)
      expect([near.status, await near.text()]).toEqual([200, "# HELP a b\n# TYPE a gauge\na 1\n"])
      expect((await fetch(`${web.url}/metrics`, { headers: { "x-forwarded-for": "203.0.113.9" } })).status).toBe(404)
    } finally {
      await web.close()
    }
  })
})
