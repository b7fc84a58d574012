import { describe, expect, it } from "vitest"
import type { NewEntry } from "../../src/garden/entry.ts"
import { remindersFor } from "../../src/reminders/index.ts"
import type { Reminder } from "../../src/reminders/reminder.ts"
import type { SowingPlan, WayOut } from "../../src/season/bed-plan.ts"
import { checkText } from "../../src/wording/check-text.ts"
import { compose } from "../../src/wording/compose.ts"
import {
  aGarden,
  aNext,
  aPlan,
  aSowingPlan,
  day,
  handbook,
  historyOf,
  log,
  range,
  reply,
  sent,
  told,
} from "../given.ts"

const ID = "south:2025-09-20:rest-over:2"
const ready = (likely: string) => range(likely, likely, likely)
const ways: WayOut[] = [
  {
    way: "carry the tops to the compost on 14 May",
    ready: ready("2026-05-23"),
    cost: "the bed keeps only the roots: little of the nitrogen stays, and no mulch",
  },
  { way: "turn it in on 14 May", ready: ready("2026-05-25"), cost: "digging, and the soil lies bare" },
  { way: "cover it with a tarp on 14 May", ready: ready("2026-06-01"), cost: "a dark sheet, weighted down" },
  { way: "plant later, about 5 June", ready: ready("2026-06-05"), cost: "11 days later than wanted" },
]
const late = aNext("tomato", "2026-05-25", range("2026-05-30", "2026-06-05", "2026-06-14"), { ways })

function warning(on: string, known: Partial<SowingPlan>, entries: NewEntry[] = []): Reminder | undefined {
  const garden = aGarden()
  const history = historyOf(garden, log(...entries))
  const plan = aPlan(on, aSowingPlan({ next: late, ...known }))
  return remindersFor(plan, { garden, history, handbook: handbook() }, day(on)).find((each) => each.id === ID)
}

describe("a bed that will not be ready when it is wanted", () => {
  it("is told on the day it becomes visible, with a way out that is in time, its days and its cost", () => {
    const found = warning("2026-03-02", {})
    expect(found).toMatchObject({ state: "due", opens: "2026-03-02", lapses: "2026-05-24", speaks: "2026-03-02" })
    expect(found?.text).toBe(
      "South bed will be late for tomatoes (25 May), ready 30 May-14 June. Way out: turn it in on 14 May, ready about 25 May.",
    )
    const { text } = compose([{ reminder: found as Reminder, n: 1 }], null)
    expect(checkText(text)).toEqual([])
    expect(text).toContain("Way out")
  })

  it("names the cost where there is room for it", () => {
    const next = { ...late, crop: "leek", ready: ready("2026-06-05") }
    expect(warning("2026-03-02", { next })?.text).toMatch(/turn it in on 14 May, ready about 25 May \(digging\)\.$/)
  })

  it("tells the soonest way where none is in time, and none where only waiting helps", () => {
    const slow = { ...late, wanted: day("2026-05-10") }
    expect(warning("2026-03-02", { next: slow })?.text).toContain("carry the tops to the compost on 14 May")
    expect(warning("2026-03-02", { next: { ...late, ways: ways.slice(3) } })?.text).not.toContain("Way out")
  })

  it("is not told for a few days, nor once the day is past, nor when it fits", () => {
    expect(warning("2026-03-02", { next: { ...late, wanted: day("2026-06-02") } })).toBeUndefined()
    expect(warning("2026-05-25", {})).toBeUndefined()
    expect(warning("2026-03-02", { next: { ...late, fits: true } })).toBeUndefined()
    expect(warning("2026-03-02", { endedOn: day("2026-03-01") })).toBeUndefined()
  })

  it("is told once, and again where the bed falls back by more than some days", () => {
    const said = sent("ines", "2026-03-02 08:00", told(4, ID, { ready: "2026-06-05", wanted: "2026-05-25" }, 1))
    expect(warning("2026-03-20", {}, [said])).toMatchObject({ state: "sent", speaks: null, opens: "2026-03-02" })
    const later = { ...late, ready: range("2026-06-08", "2026-06-15", "2026-06-25") }
    expect(warning("2026-03-20", { next: later }, [said])).toMatchObject({ state: "due" })
  })

  it("is left to the weekly mail while nothing is sown, and where the answer to a wish has told it", () => {
    const wish = reply("ines", "2026-03-01 10:00", [
      { act: "want", bed: "south", crop: "tomato", on: day("2026-05-25") },
    ])
    expect(warning("2026-03-02", {}, [wish])).toMatchObject({ mailOnly: true, speaks: null })
    const planned = aSowingPlan({ planned: day("2026-08-28"), next: { ...late, wanted: day("2027-05-25") } })
    expect(planned.sown).toBeNull()
    const garden = aGarden()
    const known = { garden, history: historyOf(garden), handbook: handbook() }
    const next = { ...late, wanted: day("2027-04-01"), ready: ready("2027-05-01") }
    const [found] = remindersFor(aPlan("2026-08-01", { ...planned, next }), known, day("2026-08-01")).filter(
      (each) => each.kind === "rest-over",
    )
    expect(found).toMatchObject({ ordinal: 2, mailOnly: true, speaks: null })
  })
})
