import { describe, expect, it } from "vitest"
import { addMs, DAY_MS, instant } from "../../src/values/instant.ts"
import { formMark, isFormMark, readLink, signLink } from "../../src/web/link.ts"
import { webApp } from "../../src/web/server.ts"
import { pages } from "./pages.ts"

const MADE = instant("2026-05-10T09:00:00-04:00")
const later = (days: number) => addMs(MADE, days * DAY_MS)
const WHO = { garden: "long-acre", person: "ines" }
const KEYS = ["the first key, long enough", "an older key, long enough"] as const

describe("a signed link", () => {
  it("opens its own kind of page for its own person, until its last day", () => {
    const token = signLink("season", WHO, MADE, KEYS)
    expect(readLink("season", token, MADE, KEYS)).toEqual({ ...WHO, made: MADE })
    expect(readLink("season", token, later(60), KEYS)).not.toBeNull()
    expect(readLink("season", token, later(61), KEYS)).toBeNull()
    expect(readLink("calendar", token, MADE, KEYS)).toBeNull()
    expect(readLink("stop", token, MADE, KEYS)).toBeNull()
  })

  it("of an older key still opens while that key is taken, and no longer", () => {
    const old = signLink("season", WHO, MADE, [KEYS[1]])
    expect(readLink("season", old, MADE, KEYS)).not.toBeNull()
    expect(readLink("season", old, MADE, [KEYS[0]])).toBeNull()
  })

  it("carries a signature of 128 bits, and opens for no change of any letter of it", () => {
    const token = signLink("season", WHO, MADE, KEYS)
    expect(Buffer.from(token.split(".")[1] as string, "base64url")).toHaveLength(16)
    for (let i = 0; i < token.length; i += 1) {
      const other = token[i] === "A" ? "B" : "A"
      expect(readLink("season", token.slice(0, i) + other + token.slice(i + 1), MADE, KEYS)).toBeNull()
    }
  })

  it("is not found by guessing (failure X5: 100,000 tries)", () => {
    const [claim] = signLink("season", WHO, MADE, KEYS).split(".") as [string]
    let hits = 0
    for (let i = 0; i < 100_000; i += 1) {
      const guess = Buffer.alloc(16)
      guess.writeUInt32BE(i, 12)
      if (readLink("season", `${claim}.${guess.toString("base64url")}`, MADE, KEYS)) hits += 1
    }
    expect(hits).toBe(0)
  })

  it("dies when its person has new links made; mails can be ended from every old one all the same (failure M11)", async () => {
    const setup = pages()
    const app = webApp(setup.needs)
    const status = async (address: string) => (await app.request(address)).status
    const old = setup.links()
    setup.clock.now = later(1)
    await setup.needs.renewLinks(WHO)
    const fresh = setup.links()
    expect([await status(old.season), await status(old.calendar), await status(old.stop)]).toEqual([404, 404, 200])
    expect([await status(fresh.season), await status(fresh.calendar)]).toEqual([200, 200])
  })
})

describe("the mark of a form", () => {
  it("belongs to its page alone", () => {
    const [a, b] = [signLink("season", WHO, MADE, KEYS), signLink("season", { ...WHO, person: "tom" }, MADE, KEYS)]
    expect(isFormMark(formMark(a, KEYS), a, KEYS)).toBe(true)
    expect(isFormMark(formMark(a, KEYS), b, KEYS)).toBe(false)
    expect(isFormMark("", a, KEYS)).toBe(false)
  })
})
