import { describe, expect, it } from "vitest"
import { addDays, day } from "../../src/values/day.ts"
import { formMark, isFormMark, readLink, signLink } from "../../src/web/link.ts"
import { webApp } from "../../src/web/server.ts"
import { pages } from "./pages.ts"

const ON = day("2026-05-10")
const WHO = { garden: "long-acre", person: "ines" }
const KEYS = ["the first key, long enough", "an older key, long enough"] as const

describe("a signed link", () => {
  it("opens its own kind of page for its own person, until its last day", () => {
    const token = signLink("season", WHO, ON, KEYS)
    expect(readLink("season", token, ON, KEYS)).toEqual({ ...WHO, generation: 0 })
    expect(readLink("season", token, addDays(ON, 60), KEYS)).not.toBeNull()
    expect(readLink("season", token, addDays(ON, 61), KEYS)).toBeNull()
    expect(readLink("calendar", token, ON, KEYS)).toBeNull()
    expect(readLink("stop", token, ON, KEYS)).toBeNull()
  })

  it("of an older key still opens while that key is taken, and no longer", () => {
    const old = signLink("season", WHO, ON, [KEYS[1]])
    expect(readLink("season", old, ON, KEYS)).not.toBeNull()
    expect(readLink("season", old, ON, [KEYS[0]])).toBeNull()
  })

  it("carries a signature of 128 bits, and opens for no change of any letter of it", () => {
    const token = signLink("season", WHO, ON, KEYS)
    expect(Buffer.from(token.split(".")[1] as string, "base64url")).toHaveLength(16)
    for (let i = 0; i < token.length; i += 1) {
      const other = token[i] === "A" ? "B" : "A"
      expect(readLink("season", token.slice(0, i) + other + token.slice(i + 1), ON, KEYS)).toBeNull()
    }
  })

  it("is not found by guessing (failure X5: 100,000 tries)", () => {
    const [claim] = signLink("season", WHO, ON, KEYS).split(".") as [string]
    let hits = 0
    for (let i = 0; i < 100_000; i += 1) {
      const guess = Buffer.alloc(16)
      guess.writeUInt32BE(i, 12)
      if (readLink("season", `${claim}.${guess.toString("base64url")}`, ON, KEYS)) hits += 1
    }
    expect(hits).toBe(0)
  })

  it("dies when the person's links are renewed (failure M11)", async () => {
    const setup = pages()
    const { season } = setup.links()
    expect((await webApp(setup.needs).request(season)).status).toBe(200)
    const renewed = webApp({ ...setup.needs, generation: async () => 1 })
    expect((await renewed.request(season)).status).toBe(404)
  })
})

describe("the mark of a form", () => {
  it("belongs to its page alone", () => {
    const [a, b] = [signLink("season", WHO, ON, KEYS), signLink("season", { ...WHO, person: "tom" }, ON, KEYS)]
    expect(isFormMark(formMark(a, KEYS), a, KEYS)).toBe(true)
    expect(isFormMark(formMark(a, KEYS), b, KEYS)).toBe(false)
    expect(isFormMark("", a, KEYS)).toBe(false)
  })
})
