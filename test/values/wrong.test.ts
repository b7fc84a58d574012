import { describe, expect, it } from "vitest"
import { day, dayOf } from "../../src/values/day.ts"
import { asInstant, instant } from "../../src/values/instant.ts"
import { zone } from "../../src/values/zone.ts"

describe("a value that is none", () => {
  it("is refused with what was found and what is expected", () => {
    expect(() => day("2026-02-30")).toThrow(/not a day of the calendar: "2026-02-30", expected YYYY-MM-DD/)
    expect(() => instant("yesterday")).toThrow(/not an instant: "yesterday", expected RFC 3339/)
    expect(() => zone("Mars/Olympus")).toThrow(/not a zone of the IANA database: "Mars\/Olympus"/)
  })

  it("is null where the caller asks whether it is one", () => {
    expect(asInstant("2026-13-45T99:00:00Z")).toBeNull()
    expect(dayOf(2026.5, 1, 1)).toBeNull()
    expect(dayOf(10_000, 1, 1)).toBeNull()
    expect(dayOf(2026, 13, 1)).toBeNull()
  })
})
