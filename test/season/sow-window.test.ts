import { describe, expect, test } from "vitest"
import { resowBy, sowSpans, sowWindow, spanFor } from "../../src/season/sow-window.ts"
import { day } from "../../src/values/day.ts"
import { aGarden, handbook } from "../given.ts"
import { settingOn } from "./given.ts"

const species = (id: string) => handbook().species.get(id)!
const frosts = aGarden({ place: { frost: { last: "05-04", first: "10-12" } } })
const south = aGarden({ place: { latitude: -43.6, longitude: 172.5, frost: { last: "10-05", first: "05-10" } } })

describe("what sets the last day of sowing", () => {
  test("is the winter, not a frost that is over, for a cover that may be sown after the first frost", () => {
    const window = sowWindow([species("winter-rye")], day("2026-10-08"), false, settingOn("2026-09-01", frosts))
    expect(window.by > "2026-10-20").toBe(true)
    expect(window.why).toMatch(/too little time before winter. The first frost is usually about 12 Oct/)
  })
})

describe("when a cover can be sown", () => {
  test("oats six to ten weeks before the first frost (CURELL2012), the last good day being six", () => {
    const span = spanFor(species("oats"), day("2026-08-20"), false, settingOn("2026-08-01", frosts))!
    expect(span).toMatchObject({ from: "2026-08-03", by: "2026-08-31", rests: "autumn-frost" })
  })

  test("a mix is bound by its most hurried member, and says which", () => {
    const window = sowWindow(
      [species("oats"), species("field-pea")],
      day("2026-08-20"),
      false,
      settingOn("2026-08-01", frosts),
    )
    expect(window.from).toBe("2026-08-20")
    expect(window.by).toBe("2026-08-31")
    expect(window.why).toContain("before the first frost, usually about 12 Oct")
  })

  test("a day before the season waits for it", () => {
    const window = sowWindow([species("winter-rye")], day("2026-08-20"), false, settingOn("2026-08-01", frosts))
    expect(window.from > "2026-08-20").toBe(true)
  })

  test("a day after the season is late, and sooner is better", () => {
    const window = sowWindow([species("oats")], day("2026-10-01"), false, settingOn("2026-09-20", frosts))
    expect(window.why).toContain("late")
    expect(window.by > window.from).toBe(true)
  })

  test("buckwheat is open from after the last frost through the summer", () => {
    const spans = sowSpans(species("buckwheat"), day("2026-07-01"), false, settingOn("2026-06-01", frosts))
    const july = spans.find((span) => span.from <= "2026-07-01" && span.by >= "2026-07-01")!
    expect(july.from >= "2026-05-04").toBe(true)
    expect(july.by >= "2026-08-20").toBe(true)
  })

  test("the southern half of the world has its autumn in March", () => {
    const span = spanFor(species("oats"), day("2026-03-10"), false, settingOn("2026-03-01", south))!
    expect(span).toMatchObject({ from: "2026-03-01", by: "2026-03-29" })
  })

  test("glass gives some weeks more", () => {
    const outside = spanFor(species("crimson-clover"), day("2026-09-20"), false, settingOn("2026-09-01", frosts))!
    const inside = spanFor(species("crimson-clover"), day("2026-09-20"), true, settingOn("2026-09-01", frosts))!
    expect(inside.by > outside.by).toBe(true)
  })

  test("sowing again makes sense until the season of the mix is over", () => {
    expect(
      resowBy([species("oats"), species("winter-rye")], day("2026-08-25"), false, settingOn("2026-09-01", frosts)),
    ).toBe("2026-08-31")
  })

  test("a place without frost still has its sowing seasons", () => {
    const miami = aGarden({ place: { latitude: 25.8, longitude: -80.2 } })
    const setting = settingOn("2026-10-01", miami)
    expect(setting.frosts).toMatchObject({ last: null, first: null })
    expect(spanFor(species("crimson-clover"), day("2026-09-10"), false, setting)).not.toBeNull()
  })
})
