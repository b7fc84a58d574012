import { describe, expect, it } from "vitest"
import { addDays, day } from "../../src/values/day.ts"
import { instant, instantText } from "../../src/values/instant.ts"
import { asZone, instantAt, localDay, localMinutes, localText, zone } from "../../src/values/zone.ts"

const newYork = zone("America/New_York")

describe("local days and hours", () => {
  it("give a skipped hour the first instant after the gap (T1)", () => {
    expect(localText(instantAt(day("2026-03-08"), 2 * 60 + 30, newYork), newYork)).toBe("2026-03-08T03:00:00-04:00")
  })

  it("give a doubled hour the first of the two (T2)", () => {
    expect(localText(instantAt(day("2026-11-01"), 60 + 30, newYork), newYork)).toBe("2026-11-01T01:30:00-04:00")
  })

  it("use the offset of the day that is meant, not of the day it is planned on (T4)", () => {
    expect(instantText(instantAt(day("2026-03-08"), 16 * 60 + 4, newYork))).toBe("2026-03-08T20:04:00.000Z")
  })

  it("have one 08:00 on each day of ten years in zones of odd rules (T5)", () => {
    const odd = [
      "Pacific/Chatham",
      "Australia/Lord_Howe",
      "Antarctica/Troll",
      "America/Santiago",
      "America/St_Johns",
      "Asia/Kathmandu",
      "Africa/Cairo",
      "Asia/Beirut",
      "Pacific/Apia",
      "America/Asuncion",
      "Africa/Casablanca",
      "Europe/London",
    ]
    for (const name of odd) {
      const z = zone(name)
      for (let d = day("2024-01-01"); d < "2034-12-31"; d = addDays(d, 1)) {
        const at = instantAt(d, 480, z)
        if (localDay(at, z) !== d || localMinutes(at, z) !== 480) throw new Error(`${name} ${d}: ${localText(at, z)}`)
      }
    }
  }, 60_000)

  it("start a day whose midnight does not exist at the first instant it has", () => {
    const santiago = zone("America/Santiago")
    expect(localText(instantAt(day("2025-09-07"), 0, santiago), santiago)).toBe("2025-09-07T01:00:00-03:00")
  })

  it("know where the calendar day of an instant differs by place (T18)", () => {
    const at = instant("2025-09-20T00:30:00Z")
    expect(localDay(at, newYork)).toBe("2025-09-19")
    expect(localDay(at, zone("Pacific/Kiritimati"))).toBe("2025-09-20")
  })

  it("refuse names that are no zone", () => {
    for (const name of ["America/NewYork", "GMT+5", "Eastern", ""]) expect(asZone(name), name).toBeNull()
  })
})
