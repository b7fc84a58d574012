import { describe, expect, it } from "vitest"
import type { Entry, NewEntry } from "../../src/garden/entry.ts"
import type { Garden } from "../../src/garden/garden.ts"
import { remindersFor } from "../../src/reminders/index.ts"
import type { Reminder } from "../../src/reminders/reminder.ts"
import type { SowingPlan } from "../../src/season/bed-plan.ts"
import { addDays } from "../../src/values/day.ts"
import {
  aCut,
  aGarden,
  aPerson,
  aPlan,
  aSowingPlan,
  at,
  day,
  handbook,
  historyOf,
  log,
  reply,
  sent,
  told,
} from "../given.ts"

const ID = "south:2025-09-20:cut:1"
const standing = aSowingPlan({ cut: aCut("2026-05-02", "2026-05-08", "2026-05-14") })

function cutOn(
  on: string,
  entries: NewEntry[] = [],
  known: { garden?: Garden; sowing?: SowingPlan; to?: string } = {},
): Reminder {
  const garden = known.garden ?? aGarden()
  const history = historyOf(garden, log(...entries) as Entry[])
  const all = remindersFor(aPlan(on, known.sowing ?? standing), { garden, history, handbook: handbook() }, day(on))
  return all.find((each) => each.kind === "cut" && each.person === (known.to ?? "ines")) as Reminder
}

const said = (on: string, call: number, by = "2026-05-14") =>
  sent("ines", `${on} 08:00`, told(1, ID, { from: "2026-05-02", best: "2026-05-08", by }, call))

describe("the calls of a cut", () => {
  it("is planned until its window opens, and due on that day", () => {
    expect(cutOn("2026-05-01")).toMatchObject({ id: ID, state: "planned", speaks: "2026-05-02", call: 1 })
    expect(cutOn("2026-05-02")).toMatchObject({ state: "due", speaks: "2026-05-02", call: 1, pressing: false })
  })

  it("speaks near the middle only where the window is over ten days", () => {
    expect(cutOn("2026-05-03", [said("2026-05-02", 1)])).toMatchObject({ state: "sent", speaks: "2026-05-08", call: 2 })
    const short = aSowingPlan({ cut: aCut("2026-05-04", "2026-05-08", "2026-05-14") })
    const first = sent(
      "ines",
      "2026-05-04 08:00",
      told(1, ID, { from: "2026-05-04", best: "2026-05-08", by: "2026-05-14" }, 1),
    )
    expect(cutOn("2026-05-05", [first], { sowing: short })).toMatchObject({ speaks: "2026-05-12", call: 3 })
  })

  it("leaves the middle call out for a bed that somebody is watching", () => {
    const seen = reply("ines", "2026-05-04 09:00", [
      { act: "observe", bed: "south", species: null, what: "bloom", on: day("2026-05-04") },
    ])
    expect(cutOn("2026-05-05", [said("2026-05-02", 1), seen])).toMatchObject({ speaks: "2026-05-12", call: 3 })
  })

  it("gives a last call two days before the limit, which may go over the number of texts", () => {
    const before = [said("2026-05-02", 1), said("2026-05-08", 2)]
    expect(cutOn("2026-05-09", before)).toMatchObject({ state: "sent", speaks: "2026-05-12", call: 3, pressing: true })
  })

  it("speaks once after the limit and then leaves it to the weekly mail", () => {
    const before = [said("2026-05-02", 1), said("2026-05-08", 2), said("2026-05-12", 3)]
    expect(cutOn("2026-05-13", before)).toMatchObject({ speaks: "2026-05-15", call: 4 })
    const after = cutOn("2026-05-16", [...before, said("2026-05-15", 4)])
    expect(after).toMatchObject({ state: "sent", speaks: null })
    expect(after.text).toContain("passed its limit of 14 May uncut")
  })

  it("does not make up missed calls: only the newest due one is said (T13, T14)", () => {
    expect(cutOn("2026-05-13")).toMatchObject({ state: "due", speaks: "2026-05-12", call: 3 })
    expect(cutOn("2026-05-20")).toMatchObject({ state: "due", speaks: "2026-05-15", call: 4 })
  })

  it("lapses in the end, and says nothing then", () => {
    const late = cutOn("2026-07-01")
    expect(late).toMatchObject({ state: "lapsed", speaks: null })
    expect(late.lapses).toBe("2026-06-04")
  })

  it("has one call besides that after the limit where the window is too short for two", () => {
    const sowing = aSowingPlan({ cut: aCut("2026-05-12", "2026-05-13", "2026-05-14") })
    const first = sent("ines", "2026-05-12 08:00", told(1, ID, { from: "2026-05-12", by: "2026-05-14" }, 1))
    expect(cutOn("2026-05-12", [first], { sowing })).toMatchObject({ speaks: "2026-05-15", call: 4 })
  })

  it("leaves a day between two calls, where a short window or a late text would put them on neighbouring days", () => {
    const sowing = aSowingPlan({ cut: aCut("2026-05-10", "2026-05-11", "2026-05-14") })
    const late = sent("ines", "2026-05-11 08:00", told(1, ID, { from: "2026-05-10", by: "2026-05-14" }, 1))
    expect(cutOn("2026-05-12", [late], { sowing })).toMatchObject({ state: "sent", speaks: "2026-05-13", call: 3 })
    expect(cutOn("2026-05-13", [late], { sowing })).toMatchObject({ state: "due", speaks: "2026-05-13", call: 3 })
  })

  it("is not said again when the window moves by a day or two, as it does with the weather", () => {
    const moved = aSowingPlan({ cut: aCut("2026-05-05", "2026-05-10", "2026-05-16") })
    expect(cutOn("2026-05-05", [said("2026-05-02", 1)], { sowing: moved })).toMatchObject({
      state: "sent",
      speaks: "2026-05-11",
    })
  })

  it("opens anew when the window has moved much later than was told", () => {
    const moved = aSowingPlan({ cut: aCut("2026-05-16", "2026-05-20", "2026-05-24") })
    expect(cutOn("2026-05-04", [said("2026-05-02", 1)], { sowing: moved })).toMatchObject({
      speaks: "2026-05-16",
      call: 1,
    })
  })

  it("gives its last call at once when an observation has moved the limit past it", () => {
    const moved = aSowingPlan({ cut: aCut("2026-04-28", "2026-05-02", "2026-05-06") })
    expect(cutOn("2026-05-05", [said("2026-05-02", 1)], { sowing: moved })).toMatchObject({
      state: "due",
      call: 3,
      pressing: true,
    })
  })

  it("knows which call was said from its day where the log does not tell", () => {
    const entry = sent("ines", "2026-05-08 08:00", told(1, ID, { by: "2026-05-14" }))
    expect(cutOn("2026-05-09", [entry])).toMatchObject({ speaks: "2026-05-12", call: 3 })
  })
})

describe("lapsed in the log", () => {
  const lapsed = (of: string): NewEntry => ({
    at: at("2026-05-16 12:00"),
    garden: "acre",
    by: "ryebell",
    via: "cli",
    kind: "lapsed",
    of,
    because: "its days are over",
  })

  it("unsaid is final, though the plan may move its days once more; a cut still counts", () => {
    const watch = aSowingPlan({
      watchBloom: { opens: day("2026-05-10"), lapses: day("2026-05-25"), species: "hairy-vetch", why: "" },
    })
    const garden = aGarden()
    const history = historyOf(garden, log(lapsed("south:2025-09-20:watch-bloom:1")))
    const rows = remindersFor(aPlan("2026-05-18", watch), { garden, history, handbook: handbook() }, day("2026-05-18"))
    expect(rows.find((each) => each.kind === "watch-bloom")).toMatchObject({ state: "lapsed", speaks: null })
    const cut = aSowingPlan({ cut: aCut("2026-05-17", "2026-05-20", "2026-05-26") })
    expect(cutOn("2026-05-18", [lapsed(ID)], { sowing: cut })).toMatchObject({ state: "due" })
  })
})

describe("snooze", () => {
  const first = said("2026-05-02", 1)
  const snooze = (on: string, until: string) =>
    reply("ines", `${on} 09:00`, [{ act: "snooze", n: [1], until: day(until) }])

  it("moves the next call to its day, and calls in between stay unsaid", () => {
    const entries = [first, snooze("2026-05-02", "2026-05-10")]
    expect(cutOn("2026-05-08", entries)).toMatchObject({ state: "snoozed", speaks: "2026-05-10" })
    expect(cutOn("2026-05-10", entries)).toMatchObject({ state: "due", speaks: "2026-05-10", call: 2 })
  })

  it("is used up by being said, and the later calls go on", () => {
    const entries = [first, snooze("2026-05-02", "2026-05-10"), said("2026-05-10", 2)]
    expect(cutOn("2026-05-11", entries)).toMatchObject({ state: "sent", speaks: "2026-05-12", call: 3 })
  })

  it("past the end is granted: it speaks on that day and lapses only after it", () => {
    const entries = [first, snooze("2026-05-02", "2026-06-10")]
    expect(cutOn("2026-06-09", entries)).toMatchObject({ state: "snoozed", speaks: "2026-06-10" })
    expect(cutOn("2026-06-10", entries)).toMatchObject({ state: "due", call: 4 })
    expect(cutOn("2026-06-20", entries).state).toBe("lapsed")
  })

  it("holds for the one who asked for it; others who mind the bed are told as planned", () => {
    const garden = aGarden({ people: [aPerson(), aPerson({ id: "tom", name: "Tom", phone: "+17175550143" })] })
    const entries = [first, snooze("2026-05-02", "2026-05-10")]
    expect(cutOn("2026-05-03", entries, { garden, to: "tom" })).toMatchObject({ state: "due", speaks: "2026-05-02" })
  })
})

describe("settling", () => {
  const garden = aGarden({ people: [aPerson(), aPerson({ id: "tom", name: "Tom", phone: "+17175550143" })] })
  const first = said("2026-05-02", 1)

  it("is done for everybody with one DONE", () => {
    const entries = [first, reply("ines", "2026-05-03 09:00", [{ act: "done", n: [1], on: day("2026-05-03") }])]
    for (const to of ["ines", "tom"])
      expect(cutOn("2026-05-04", entries, { garden, to })).toMatchObject({ state: "done", speaks: null })
  })

  it("is skipped for good with SKIP", () => {
    const entries = [first, reply("ines", "2026-05-03 09:00", [{ act: "skip", n: [1] }])]
    expect(cutOn("2026-05-12", entries)).toMatchObject({ state: "skipped", speaks: null })
  })

  it("stays done once the plan holds no window any more", () => {
    const entries = [first, reply("ines", "2026-05-03 09:00", [{ act: "done", n: [1], on: day("2026-05-03") }])]
    const sowing = aSowingPlan({ state: "resting", cut: null, wasCut: { on: day("2026-05-03"), then: "leave" } })
    expect(cutOn("2026-05-20", entries, { sowing })).toMatchObject({ id: ID, state: "done" })
  })

  it("reopens as a second reminder where green regrowth reopens the cut, and the first stays done", () => {
    const entries = [first, reply("ines", "2026-05-03 09:00", [{ act: "done", n: [1], on: day("2026-05-03") }])]
    const sowing = aSowingPlan({ cut: aCut("2026-05-18", "2026-05-20", "2026-05-26", { ordinal: 2 }) })
    const history = historyOf(aGarden(), log(...entries))
    const all = remindersFor(
      aPlan("2026-05-18", sowing),
      { garden: aGarden(), history, handbook: handbook() },
      day("2026-05-18"),
    )
    expect(all.filter((each) => each.kind === "cut").map(({ id, state }) => ({ id, state }))).toEqual([
      { id: ID, state: "done" },
      { id: "south:2025-09-20:cut:2", state: "due" },
    ])
  })

  it("lapses where the plan has dropped it and nobody settled it", () => {
    const sowing = aSowingPlan({ state: "growing", cut: null, noCut: "frost has killed it" })
    expect(cutOn("2026-05-20", [first], { sowing })).toMatchObject({ id: ID, state: "lapsed", speaks: null })
  })
})

describe("texts of a kind without any answer", () => {
  const garden = aGarden()
  const other = (n: number, on: string) => sent("ines", `${on} 08:00`, told(n, `bed${n}:2025-09-20:cut:1`, {}, 1))
  const three = [other(2, "2026-04-20"), other(3, "2026-04-22"), other(4, "2026-04-24")]

  it("after three only the first and the last call are said", () => {
    const quiet = cutOn("2026-05-03", [...three, said("2026-05-02", 1)], { garden })
    expect(quiet).toMatchObject({ speaks: "2026-05-12", call: 3 })
    expect(cutOn("2026-05-13", [...three, said("2026-05-12", 3)], { garden })).toMatchObject({ speaks: null })
  })

  it("any answer brings the others back", () => {
    const snoozed = reply("ines", "2026-04-25 09:00", [{ act: "snooze", n: [4], until: day("2026-04-26") }])
    expect(cutOn("2026-05-03", [...three, snoozed, said("2026-05-02", 1)], { garden })).toMatchObject({
      speaks: "2026-05-08",
      call: 2,
    })
  })
})

describe("identity", () => {
  it("keeps one row for each id and person, however often and however late it is planned again", () => {
    const garden = aGarden({ people: [aPerson(), aPerson({ id: "tom", minds: ["kitchen"] })] })
    const ids = Array.from({ length: 40 }, (_, shift) => {
      const on = addDays(day("2026-04-20"), shift)
      const sowing = aSowingPlan({ cut: aCut(addDays(on, 2), addDays(on, 5), addDays(on, 9)) })
      const all = remindersFor(aPlan(on, sowing), { garden, history: historyOf(garden), handbook: handbook() }, on)
      return all.filter((each) => each.kind === "cut").map((each) => `${each.id} ${each.person}`)
    })
    expect(new Set(ids.flat())).toEqual(new Set([`${ID} ines`]))
    expect(ids.every((each) => each.length === 1)).toBe(true)
  })
})
