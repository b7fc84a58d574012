import { existsSync, readFileSync } from "node:fs"
import { describe, expect, it } from "vitest"

const root = new URL("../", import.meta.url)
const script = readFileSync(new URL(".ci/run", root), "utf8")
const byHand = (/by_hand=\(\n([\s\S]*?)\n\)/.exec(script)?.[1] ?? "").split("\n").map((line) => line.trim())

describe("what a new machine runs", () => {
  it("is every slow suite but those named once, which there are", () => {
    expect(byHand.length).toBeGreaterThan(0)
    expect(byHand.filter((name) => !existsSync(new URL(name, root)))).toEqual([])
    // What else is named is the short form of one of them.
    const named = script.match(/\btest\/\S+/g) ?? []
    expect(named.filter((name) => !byHand.some((long) => long.startsWith(name)))).toEqual([])
  })

  it("is said of each of them in DEVELOPERS.md, with how to run it", () => {
    const said = readFileSync(new URL("DEVELOPERS.md", root), "utf8")
    expect(said).toContain("npm run test:slow -- PATH")
    for (const name of byHand) expect(said).toContain(`\`${name.split("/").at(-1)?.replace(".slow.ts", "")}\``)
  })
})
