import { describe, expect, it } from "vitest"
import type { Sowing } from "../../src/garden/garden.ts"
import type { Fact, History } from "../../src/garden/history.ts"
import type { GardenPlan } from "../../src/season/bed-plan.ts"
import { addDays, type Day, day } from "../../src/values/day.ts"
import { comparisons, comparisonWords, score } from "../../src/wording/year-summary.ts"
import { yearSummaryPage } from "../../src/wording/year-summary-page.ts"
import { BEDS, garden, namesOnly, plan } from "./long-acre.ts"

const sowing: Sowing = {
  id: "south:2025-09-20",
  bed: "south",
  sown: day("2025-09-20"),
  planned: null,
  species: [
    { id: "hairy-vetch", share: 0.4 },
    { id: "winter-rye", share: 0.6 },
  ],
  then: "leave",
  next: null,
}
const facts: Fact[] = [
  { fact: "observed", what: "heading", species: "winter-rye", on: day("2026-05-06"), seq: 3 },
  { fact: "observed", what: "bloom", species: "winter-rye", on: day("2026-05-11"), seq: 4 },
  { fact: "observed", what: "bloom", species: "winter-rye", on: day("2026-05-15"), seq: 5 },
  { fact: "cut", species: [], then: null, on: day("2026-05-25"), seq: 6 },
  { fact: "planted", crop: "tomato", on: day("2026-06-05"), seq: 7 },
]
const history = { beds: new Map([["south", [{ sowing, sown: sowing.sown, facts }]]]) } as unknown as History

function look(planOn: (d: Day) => GardenPlan = () => plan()) {
  const asked: Day[] = []
  const list = comparisons({
    garden: garden(BEDS),
    handbook: namesOnly(),
    history,
    planOn: (d) => {
      asked.push(d)
      return planOn(d)
    },
  })
  return { asked, list }
}

describe("predicted and seen", () => {
  it("are held against each other as the plan stood four weeks before, never with later knowledge", () => {
    const { asked, list } = look()
    expect(asked).toEqual([day("2026-04-08"), day("2026-04-13"), day("2026-04-27"), day("2026-05-08")])
    for (const each of list) if (each.predicted) expect(each.predicted.knownOn).toBe(addDays(each.seen, -28))
  })

  it("count days from the likely day, by the first report of each stage", () => {
    const { list } = look()
    expect(list.map((each) => [each.what, each.species, each.seen, each.off, each.inside])).toEqual([
      ["heading", "rye", "2026-05-06", 0, true],
      ["first flower", "rye", "2026-05-11", -3, true],
      ["cut", null, "2026-05-25", 8, false],
      ["planted", null, "2026-06-05", 0, true],
    ])
    expect(score(list)).toEqual({ events: 4, inside: 3, meanOff: 11 / 4 })
  })

  it("say nothing was predicted where nothing was", () => {
    const { list } = look(() => plan([]))
    expect(list.every((each) => each.predicted === null && each.off === null)).toBe(true)
    expect(score(list)).toBeNull()
  })

  it("are put into words", () => {
    const { list } = look()
    expect(list.map((each) => Object.values(comparisonWords(each)).join("; "))).toEqual([
      "6 May, likely 6 May; 6 May; on the day",
      "10-19 May, likely 14 May; 11 May; 3 days earlier",
      "14-22 May, likely 17 May; 25 May; 8 days later, outside the range",
      "28 May-14 June, likely 5 June; 5 June; on the day",
    ])
  })
})

describe("the year on paper", () => {
  const { list } = look()
  const lastYear = list.map((each) => ({ ...each, year: 2025, seen: addDays(each.seen, -365) }))

  it("sets last year beside this year, bed by bed", () => {
    const page = yearSummaryPage(garden(BEDS), 2026, [...list, ...lastYear])
    expect(page).toContain("<h1>Long Acre in 2026</h1>")
    expect(page.indexOf("2026: vetch and rye")).toBeLessThan(page.indexOf("2025: vetch and rye"))
    expect(page).toContain("4 events were both predicted and seen, 2.8 days off on average.")
    expect(page).not.toContain("<h2>East bed</h2>")
  })

  it("says so where a year holds nothing", () => {
    expect(yearSummaryPage(garden(BEDS), 2030, list)).toContain("Nothing was both predicted and seen in 2030.")
  })
})
