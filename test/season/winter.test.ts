import { describe, expect, test } from "vitest"
import { groundOf } from "../../src/agronomy/soil-warmth.ts"
import { restAfterWinter } from "../../src/season/rest.ts"
import { frostWillKill, noCutReason, springAsk, workableFrom } from "../../src/season/winter.ts"
import { day } from "../../src/values/day.ts"
import { aMember, aStand, settingOn, type Three } from "./given.ts"

const winter: Three = ["2025-12-01", "2025-12-20", "2026-01-15"]
const oats = aMember("oats", 0.5, { frost: { chance: 0.9, when: winter } })
const peas = aMember("field-pea", 0.5, { frost: { chance: 0.8, when: winter } })
const rye = aMember("winter-rye", 0.5, { frost: { chance: 0.01, when: winter } })
const noFacts = { soil: [], watered: [], rain: [] }
const groundOn = (on: string) => {
  const setting = settingOn(on)
  return groundOf(setting.course, "raised", noFacts, setting.residue)
}

describe("winter-kill is a chance", () => {
  test("a likely kill needs no cut, and the reason gives the odds, not a fact", () => {
    const why = noCutReason([oats, peas], settingOn("2025-10-01"))
    expect(why).toContain("probably")
    expect(why).toContain("about 8 in 10")
  })

  test("once its nights are over the reason says what has probably come about", () => {
    expect(noCutReason([oats, peas], settingOn("2026-02-20"))).toContain(
      "has probably killed the oats and field pea by now",
    )
  })

  test("a part that should survive leaves no such reason: it is to be cut", () => {
    expect(noCutReason([oats, rye], settingOn("2025-10-01"))).toBeNull()
  })

  test("a report settles it either way", () => {
    const setting = settingOn("2026-03-20")
    const killed = { ...oats, gone: { how: "frost-killed" as const, on: day("2026-01-10") } }
    expect(noCutReason([killed], setting)).toContain("has killed it")
    expect(frostWillKill({ ...oats, survivedOn: day("2026-03-15") }, setting)).toBe(false)
  })

  test("is asked about in spring, once the soil can be worked", () => {
    const setting = settingOn("2025-10-01")
    const ask = springAsk(aStand([oats, peas]), groundOn("2025-10-01"), setting)!
    expect(ask.opens > "2026-01-15").toBe(true)
    expect(ask.opens < "2026-04-15").toBe(true)
    expect(ask.why).toContain("oats and field pea")
    expect(springAsk(aStand([rye]), groundOn("2025-10-01"), setting)).toBeNull()
  })
})

describe("the rest of what winter killed", () => {
  test("keeps no plant waiting in spring; small seed a little (common practice, no source)", () => {
    const setting = settingOn("2025-10-01")
    const rest = restAfterWinter([oats, peas], day("2025-12-20"), groundOn("2025-10-01"), setting)
    const spring = workableFrom(groundOn("2025-10-01"), day("2025-12-20"), setting)
    expect(rest.transplants.likely).toBe(spring)
    expect(rest.smallSeed.likely > rest.transplants.likely).toBe(true)
    expect(spring > "2026-02-10" && spring < "2026-04-10").toBe(true)
  })

  test("killed in warm soil it rots as if cut, and the bed is ready the same autumn", () => {
    const setting = settingOn("2025-09-20")
    const buckwheat = aMember("buckwheat")
    const rest = restAfterWinter([buckwheat], day("2025-10-05"), groundOn("2025-09-20"), setting)
    expect(rest.transplants.likely < "2025-11-15").toBe(true)
    expect(rest.why).toContain("rot as if cut")
  })
})
