import { describe, expect, it } from "vitest"
import { showDay, showDaysOnly, showNearDay, showRange, showWeekday, weekdayWord } from "../../src/reminders/dates.ts"
import { cropName, speciesName, speciesNames } from "../../src/reminders/names.ts"
import { isGsm7 } from "../../src/wording/gsm7.ts"
import { plainLetters } from "../../src/wording/plain-letters.ts"
import { day, handbook } from "../given.ts"

const on = day("2026-05-06")

describe("days in words", () => {
  it("have the month in letters, and a year only where the nearest such day is another", () => {
    expect(showDay(day("2026-05-14"), on)).toBe("14 May")
    expect(showDay(day("2026-12-31"), on)).toBe("31 Dec")
    expect(showDay(day("2025-11-20"), on)).toBe("20 Nov")
    expect(showDay(day("2025-09-20"), on)).toBe("20 Sep 2025")
    expect(showDay(day("2027-01-20"), on)).toBe("20 Jan 2027")
    expect(showDay(day("2027-01-20"), day("2026-12-01"))).toBe("20 Jan")
  })

  it("join as ranges, within a month, over months and over the new year", () => {
    expect(showRange(day("2026-05-06"), day("2026-05-11"), on)).toBe("6-11 May")
    expect(showRange(day("2026-05-30"), day("2026-06-14"), on)).toBe("30 May-14 June")
    expect(showRange(day("2026-05-30"), day("2026-05-30"), on)).toBe("30 May")
    expect(showRange(day("2026-12-28"), day("2027-01-20"), day("2026-12-01"))).toBe("28 Dec-20 Jan")
    expect(showRange(day("2026-12-28"), day("2027-01-20"), on)).toBe("28 Dec-20 Jan 2027")
    expect(showDaysOnly(day("2026-05-08"), day("2026-05-14"), day("2026-05-11"), on)).toBe("8-14")
    expect(showDaysOnly(day("2026-04-28"), day("2026-05-04"), day("2026-05-11"), on)).toBe("28 Apr-4 May")
  })

  it("are called by their nearness or their weekday where that helps", () => {
    expect([-2, -1, 0, 1, 2].map((shift) => showNearDay(day(`2026-05-0${6 + shift}`), on))).toEqual([
      "4 May",
      "yesterday",
      "today",
      "tomorrow",
      "8 May",
    ])
    expect(showWeekday(day("2026-05-16"), on)).toBe("Sat 16 May")
    expect(weekdayWord(day("2026-05-12"))).toBe("TUE")
  })
})

describe("names of plants", () => {
  it("are the everyday words of the handbook, in full where two of a bed would be called the same", () => {
    const name = (id: string, ...beside: string[]) => speciesName(handbook(), id, beside)
    expect(["winter-rye", "hairy-vetch", "oats", "field-pea", "fava-bean", "buckwheat"].map((id) => name(id))).toEqual([
      "rye",
      "vetch",
      "oats",
      "peas",
      "fava beans",
      "buckwheat",
    ])
    expect(name("hairy-vetch", "common-vetch")).toBe("hairy vetch")
    expect(speciesNames(handbook(), ["oats", "field-pea", "hairy-vetch"])).toBe("oats, peas and vetch")
    expect(["tomato", "squash", "potato", "garlic", "kale"].map((id) => cropName(handbook(), id))).toEqual([
      "tomatoes",
      "squash",
      "potatoes",
      "garlic",
      "kale",
    ])
  })

  it("of the whole handbook are short and need no other alphabet", () => {
    const all = [
      ...[...handbook().species.keys()].map((id) => speciesName(handbook(), id)),
      ...[...handbook().crops.keys()].map((id) => cropName(handbook(), id)),
    ]
    for (const name of all) {
      expect(name.length, name).toBeLessThanOrEqual(24)
      expect(isGsm7(plainLetters(name)), name).toBe(true)
    }
  })

  it("that the handbook does not know are read from their id", () => {
    expect(speciesName(handbook(), "new-grass")).toBe("new grass")
    expect(cropName(handbook(), "new-crop")).toBe("new crop")
  })
})
