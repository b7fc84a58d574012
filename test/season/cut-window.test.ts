import { describe, expect, test } from "vitest"
import { cutWindow, type Outlook } from "../../src/season/cut-window.ts"
import { addDays, type Day, day } from "../../src/values/day.ts"
import { rangeOf } from "../../src/values/range.ts"
import { aMember, aStand, daily, settingOn } from "./given.ts"

const nothingWanted: Outlook = { readyIfCut: () => null, wanted: null, crop: "", hunger: () => 0 }

/** A crop is wanted on a day, and a bed is ready so many days after its cut. */
function wanted(on: string, rest: number): Outlook {
  return {
    wanted: day(on),
    crop: "tomato",
    hunger: () => 0,
    readyIfCut: (cut: Day) => rangeOf(addDays(cut, rest), addDays(cut, rest), addDays(cut, rest), "rest"),
  }
}

const rye = aMember("winter-rye", 0.6, {
  heading: ["2026-05-05", "2026-05-10", "2026-05-15"],
  firstFlower: ["2026-05-14", "2026-05-20", "2026-05-26"],
  viableSeed: ["2026-05-30", "2026-06-08", "2026-06-20"],
})
const vetch = aMember("hairy-vetch", 0.4, {
  firstFlower: ["2026-05-01", "2026-05-05", "2026-05-10"],
  viableSeed: ["2026-05-28", "2026-06-05", "2026-06-15"],
})

describe("the cut window of a mix", () => {
  test("opens when a cut kills the last member and shuts the day before the first may carry live seed", () => {
    const window = cutWindow(aStand([vetch, rye]), [vetch, rye], nothingWanted, settingOn("2026-04-01"))!
    expect(window.from >= "2026-05-20").toBe(true)
    expect(window.by).toBe("2026-05-27")
    expect(window.setBy).toEqual({ species: "hairy-vetch", because: "seed" })
    expect(window.best >= window.from && window.best <= window.by).toBe(true)
    expect(window.why).toContain("hairy vetch may carry live seed after 27 May")
    expect(window.survivors).toEqual([])
    expect(window.ordinal).toBe(1)
  })

  test("is best on a dry day: rain told for the best day moves it by a day or two, inside the window", () => {
    const on = "2026-05-20"
    const dry = cutWindow(aStand([vetch, rye]), [vetch, rye], nothingWanted, settingOn(on))!
    const rain = (mm: number) => {
      const days = Array.from(
        { length: 10 },
        (_, i) => [10, 22, addDays(day(on), i + 1) === dry.best ? mm : 0] as const,
      )
      const forecast = daily(addDays(day(on), 1), days)
      return cutWindow(aStand([vetch, rye]), [vetch, rye], nothingWanted, settingOn(on, undefined, { forecast }))!
    }
    expect(rain(0).best).toBe(dry.best)
    expect(rain(25).best).not.toBe(dry.best)
    expect(rain(25).best >= dry.from && rain(25).best <= dry.by).toBe(true)
  })

  test("leaves nothing to cut where nothing stands", () => {
    expect(cutWindow(aStand([]), [], nothingWanted, settingOn("2026-04-01"))).toBeNull()
  })

  test("is first flower and the next free day where no source tells how soon live seed follows", () => {
    const pea = aMember("field-pea", 1, {
      firstFlower: ["2026-05-25", "2026-06-01", "2026-06-09"],
      viableSeed: ["2026-06-15", "2026-06-28", "2026-07-10"],
    })
    const window = cutWindow(aStand([pea]), [pea], nothingWanted, settingOn("2026-05-01"))!
    expect(window.by).toBe("2026-06-05")
    expect(window.why).toContain("not known")
  })

  test("comes before the kill stage, and names what will survive, where seed would come first", () => {
    const oats = aMember("oats", 1, {
      heading: ["2026-06-01", "2026-06-05", "2026-06-10"],
      firstFlower: ["2026-06-05", "2026-06-09", "2026-06-14"],
      viableSeed: ["2026-06-17", "2026-06-25", "2026-07-05"],
    })
    const window = cutWindow(aStand([oats]), [oats], nothingWanted, settingOn("2026-05-01"))!
    expect(window.survivors).toEqual(["oats"])
    expect(window.why).toContain("expect some regrowth")
    expect(window.by < "2026-06-25").toBe(true)
  })

  test("shuts where the crop wanted would come too late, and says so", () => {
    const window = cutWindow(aStand([rye]), [rye], wanted("2026-06-10", 18), settingOn("2026-04-01"))!
    expect(window.by).toBe("2026-05-23")
    expect(window.setBy).toEqual({ species: "winter-rye", because: "next-crop" })
    expect(window.why).toBe("Cut after 23 May, the bed would not be ready for tomato by 10 June.")
  })

  test("keeps its own limit where no day in it would make the crop in time", () => {
    const window = cutWindow(aStand([rye]), [rye], wanted("2026-05-20", 18), settingOn("2026-04-01"))!
    expect(window.setBy.because).toBe("seed")
  })

  test("falls back on the seed limit once the day for the crop has passed", () => {
    const window = cutWindow(aStand([rye]), [rye], wanted("2026-06-10", 18), settingOn("2026-05-25"))!
    expect(window.setBy.because).toBe("seed")
    expect(window.by).toBe("2026-05-29")
  })
})

describe("the best day", () => {
  test("keeps away from rain that is forecast", () => {
    const wet = settingOn("2026-05-20", undefined, {
      forecast: daily("2026-05-21", [
        [10, 20, 12],
        [10, 20, 12],
        [10, 20, 0],
        [10, 20, 0],
      ]),
    })
    const dry = cutWindow(aStand([rye]), [rye], nothingWanted, settingOn("2026-05-20"))!
    const window = cutWindow(aStand([rye]), [rye], nothingWanted, wet)!
    expect(["2026-05-21", "2026-05-22"]).not.toContain(window.best)
    expect(dry.best >= "2026-05-20").toBe(true)
  })

  test("falls on a weekday on which this bed was cut before", () => {
    const stand = aStand([rye], { usualWeekdays: [1, 1, 7] })
    const { best } = cutWindow(stand, [rye], nothingWanted, settingOn("2026-05-20"))!
    expect([1, 7]).toContain(new Date(`${best}T00:00Z`).getUTCDay() || 7)
  })

  test("is never before today while the window is open, and the limit once it is over", () => {
    const open = cutWindow(aStand([rye]), [rye], nothingWanted, settingOn("2026-05-28"))!
    expect(open.best >= "2026-05-28").toBe(true)
    const over = cutWindow(aStand([rye]), [rye], nothingWanted, settingOn("2026-06-20"))!
    expect(over.best).toBe(over.by)
  })
})

describe("what was seen", () => {
  test("pods make the tops leave the bed", () => {
    const podded = { ...vetch, seen: [{ what: "seed" as const, on: day("2026-05-22") }] }
    expect(cutWindow(aStand([podded]), [podded], nothingWanted, settingOn("2026-05-22"))!.carryOff).toBe(true)
    expect(cutWindow(aStand([vetch]), [vetch], nothingWanted, settingOn("2026-05-22"))!.carryOff).toBe(false)
  })

  test("a cut that comes too late carries the tops off even where no pod was reported", () => {
    expect(cutWindow(aStand([vetch]), [vetch], nothingWanted, settingOn("2026-06-20"))!.carryOff).toBe(true)
  })

  test("green regrowth opens a second cut within two weeks", () => {
    const back = { ...rye, regrownOn: day("2026-06-03") }
    const stand = aStand([back], {
      facts: [
        { fact: "cut", species: [], then: null, on: day("2026-05-22"), seq: 1 },
        { fact: "observed", what: "regrowth", species: null, on: day("2026-06-03"), seq: 2 },
      ],
    })
    const window = cutWindow(stand, [back], nothingWanted, settingOn("2026-06-03"))!
    expect(window).toMatchObject({ from: "2026-06-03", by: "2026-06-17", ordinal: 2, setBy: { because: "regrowth" } })
  })
})

describe("what no cut kills, and what does not flower", () => {
  test("a clover is cut at its bloom and named as a survivor", () => {
    const clover = aMember("red-clover", 1, {
      firstFlower: ["2026-06-20", "2026-07-01", "2026-07-15"],
      viableSeed: ["2026-07-20", "2026-08-01", "2026-08-15"],
    })
    const window = cutWindow(aStand([clover]), [clover], nothingWanted, settingOn("2026-06-01"))!
    expect(window.survivors).toEqual(["red-clover"])
    expect(window.from < window.by).toBe(true)
  })

  test("rye that will not flower has no seed limit: its window is set by regrowth", () => {
    const spring = aMember("winter-rye", 1, { noBloom: "No cold, no ears." })
    const window = cutWindow(aStand([spring]), [spring], nothingWanted, settingOn("2026-04-20"))!
    expect(window.setBy.because).toBe("regrowth")
    expect(window.why).toContain("No flower is expected")
  })
})
