import { describe, expect, it } from "vitest"
import type { Act } from "../../src/garden/acts.ts"
import type { NewEntry, ReminderKind } from "../../src/garden/entry.ts"
import type { Garden } from "../../src/garden/garden.ts"
import { remindersFor } from "../../src/reminders/index.ts"
import type { Reminder } from "../../src/reminders/reminder.ts"
import type { SowingPlan } from "../../src/season/bed-plan.ts"
import {
  aBed,
  aCut,
  aGarden,
  aNext,
  aPlan,
  aSowing,
  aSowingPlan,
  aSpeciesPlan,
  day,
  handbook,
  historyOf,
  log,
  range,
  reply,
  sent,
  told,
} from "../given.ts"

function garden(known: Partial<Parameters<typeof aBed>[0]> = {}): Garden {
  const sowings = [aSowing({ bed: "south" }), aSowing({ bed: "south", planned: day("2026-08-28") })]
  return aGarden({ beds: [aBed({ id: "south", sowings, ...known })] })
}

function remindersOn(on: string, sowing: SowingPlan, entries: NewEntry[] = [], place = garden()): Reminder[] {
  const known = { garden: place, history: historyOf(place, log(...entries)), handbook: handbook() }
  return remindersFor(aPlan(on, sowing), known, day(on))
}

function one(
  kind: ReminderKind,
  on: string,
  sowing: SowingPlan,
  entries: NewEntry[] = [],
  place = garden(),
): Reminder | undefined {
  return remindersOn(on, sowing, entries, place).find((each) => each.kind === kind)
}

const saw = (what: (Act & { act: "observe" })["what"], on: string) =>
  reply("ines", `${on} 10:00`, [{ act: "observe", bed: "south", species: null, what, on: day(on) }])

describe("what to know of a cover before its seed lies in the ground", () => {
  const notes = { atSowing: ["One cut does not kill red clover: dig it in or tarp it to end it."] }
  const planned = aSowingPlan({
    planned: day("2026-08-28"),
    sow: { from: day("2026-08-28"), by: day("2026-09-10"), why: "" },
    species: [aSpeciesPlan({ id: "red-clover" })],
    ...notes,
  })
  const sown = aSowingPlan({ state: "sown", sown: day("2026-08-28"), ...notes })
  const place = garden({ sowings: [aSowing({ bed: "south", sown: day("2026-08-28") })] })

  it("is said with the time to sow, beside the dust", () => {
    expect(one("sow", "2026-08-28", planned)?.caution).toMatch(/^Mix inoculant .* One cut does not kill red clover/)
  })

  it("is said with the water where no text asked to sow, and not twice", () => {
    const water = (entries: NewEntry[]) => one("water-in", "2026-08-28", sown, entries, place)?.caution
    expect(water([])).toBe(notes.atSowing[0])
    expect(water([sent("ines", "2026-08-20 08:00", told(1, "south:2026-08-28:sow:1"))])).toBeUndefined()
  })
})

describe("sow", () => {
  const planned = aSowingPlan({
    planned: day("2026-08-28"),
    sow: { from: day("2026-08-28"), by: day("2026-09-10"), why: "" },
  })

  it("opens with the window, speaks again two days before it shuts, and lapses with it", () => {
    expect(one("sow", "2026-08-20", planned)).toMatchObject({
      state: "planned",
      opens: "2026-08-28",
      lapses: "2026-09-10",
    })
    expect(one("sow", "2026-08-28", planned)).toMatchObject({ state: "due", call: 1, words: ["SOWED", "SKIP"] })
    expect(one("sow", "2026-09-08", planned)).toMatchObject({ state: "due", call: 2, pressing: true })
    expect(one("sow", "2026-09-11", planned)).toMatchObject({ state: "lapsed", speaks: null })
  })

  it("is settled by sowing", () => {
    const sown = { ...planned, state: "sown" as const, sown: day("2026-08-30"), sow: null }
    expect(one("sow", "2026-08-31", sown)).toMatchObject({ id: "south:2026-08-28:sow:1", state: "done" })
  })

  it("carries the cautions of dust and of weed lists", () => {
    expect(one("sow", "2026-08-28", planned)?.caution).toMatch(/inoculant into damp seed.*list vetch as a weed/)
  })
})

describe("water-in", () => {
  const fresh = aSowingPlan({
    sown: day("2026-08-28"),
    state: "sown",
    species: [aSpeciesPlan({ id: "oats", emergence: range("2026-09-02", "2026-09-04", "2026-09-06") })],
    water: { water_l: 19, why: "" },
  })

  it("speaks once after sowing and lapses when the seed should be up", () => {
    const found = one("water-in", "2026-08-28", fresh)
    expect(found).toMatchObject({ state: "due", opens: "2026-08-28", lapses: "2026-09-06" })
    expect(found?.text).toBe(
      "Keep the top inch of South bed damp: green is likely 2-6 Sep. About 5 gal today unless it rains.",
    )
    expect(one("water-in", "2026-09-07", fresh)?.state).toBe("lapsed")
  })

  it("speaks of no rain under glass, and in litres where the garden is metric", () => {
    expect(one("water-in", "2026-08-28", fresh, [], garden({ kind: "greenhouse" }))?.text).toMatch(/5 gal today\.$/)
    const metric = { ...garden(), place: { ...garden().place, units: "metric" as const } }
    expect(one("water-in", "2026-08-28", fresh, [], metric)?.text).toContain("About 19 litres today")
  })
})

describe("check-emergence and resow", () => {
  const fresh = aSowingPlan({
    state: "sown",
    species: [
      aSpeciesPlan({ id: "hairy-vetch", emergence: range("2025-09-27", "2025-10-01", "2025-10-04") }),
      aSpeciesPlan({ id: "winter-rye", emergence: range("2025-09-25", "2025-09-27", "2025-09-28") }),
    ],
    resowBy: day("2025-10-20"),
  })

  it("asks when the last species should show, with the whole range and the time left", () => {
    const found = one("check-emergence", "2025-10-04", fresh)
    expect(found).toMatchObject({
      state: "due",
      opens: "2025-10-04",
      lapses: "2025-10-20",
      words: ["UP", "PATCHY", "NOT YET"],
    })
    expect(found?.text).toContain("(25 Sep-4 Oct)")
    expect(found?.text).toContain("There is time to resow till about 20 Oct.")
  })

  it("is settled by what was seen; not yet asks again some days on", () => {
    for (const what of ["up", "patchy"] as const)
      expect(one("check-emergence", "2025-10-05", fresh, [saw(what, "2025-10-04")])?.state).toBe("done")
    const notYet = [saw("not-up", "2025-10-04")]
    expect(one("check-emergence", "2025-10-05", fresh, notYet)).toMatchObject({
      state: "snoozed",
      speaks: "2025-10-08",
    })
    expect(one("check-emergence", "2025-10-08", fresh, notYet)).toMatchObject({ state: "due" })
  })

  it("offers to sow again the day after a poor stand was reported, while there is time", () => {
    expect(one("resow", "2025-10-05", fresh)).toBeUndefined()
    const patchy = [saw("patchy", "2025-10-04")]
    const found = one("resow", "2025-10-05", fresh, patchy)
    expect(found).toMatchObject({
      id: "south:2025-09-20:resow:1",
      state: "due",
      opens: "2025-10-05",
      lapses: "2025-10-20",
    })
    expect(found?.text).toContain("came up patchy. There is time to sow the gaps again till about 20 Oct.")
    const sown = reply("ines", "2025-10-06 10:00", [{ act: "sowed", bed: "south", species: [], on: day("2025-10-06") }])
    expect(one("resow", "2025-10-07", fresh, [...patchy, sown])).toBeUndefined()
    expect(one("resow", "2025-10-22", { ...fresh, resowBy: day("2025-10-04") }, patchy)).toBeUndefined()
  })

  it("takes not up before its time for no poor stand", () => {
    expect(one("resow", "2025-09-30", fresh, [saw("not-up", "2025-09-28")])).toBeUndefined()
  })
})

describe("frost", () => {
  const species = [aSpeciesPlan({ id: "oats" }), aSpeciesPlan({ id: "winter-rye" })]
  const warned = aSowingPlan({
    species,
    frost: { opens: day("2025-12-01"), lapses: day("2025-12-08"), species: ["oats"], why: "" },
  })

  it("informs once where a part of the stand goes on", () => {
    const found = one("frost", "2025-12-01", warned)
    expect(found).toMatchObject({ state: "due", pressing: true, speaks: "2025-12-01" })
    expect(found?.text).toContain("The rye should come back.")
  })

  it("names the day that is forecast, and of the season's odds the range, unless that holds two winters", () => {
    const near = { opens: day("2025-12-01"), lapses: day("2025-12-02"), species: ["oats"], why: "" }
    expect(one("frost", "2025-12-01", { ...warned, frost: near })?.text).toContain("forecast for 2 Dec")
    const odds = (late: string) => {
      const when = range("2025-11-20", "2025-12-10", late)
      const kill = { temperature_c: { low: -14, high: -7 }, chance: 0.9, when }
      return { ...warned, species: [aSpeciesPlan({ id: "oats", frostKill: kill }), species[1]!] }
    }
    expect(one("frost", "2025-12-01", odds("2026-01-20"))?.text).toContain("likely 20 Nov-20 Jan")
    expect(one("frost", "2025-12-01", odds("2026-12-01"))?.text).not.toContain("likely")
  })

  it("is left to the weekly mail where frost does all that was left to do", () => {
    const all = aSowingPlan({ ...warned, species: [aSpeciesPlan({ id: "oats" })], noCut: "frost will kill it" })
    expect(one("frost", "2025-12-01", all)).toMatchObject({ state: "due", speaks: null, mailOnly: true })
  })

  it("asks in spring whether it died, as a second reminder settled by either answer", () => {
    const asked = aSowingPlan({
      species,
      springAsk: { opens: day("2026-03-20"), lapses: day("2026-04-10"), species: "oats", why: "" },
    })
    const found = one("frost", "2026-03-20", asked)
    expect(found).toMatchObject({ id: "south:2025-09-20:frost:2", state: "due", words: ["WINTERKILLED", "SURVIVED"] })
    expect(one("frost", "2026-03-21", asked, [saw("frost-killed", "2026-03-21")])?.state).toBe("done")
    expect(one("frost", "2026-03-21", asked, [saw("survived-frost", "2026-03-10")])?.state).toBe("done")
  })
})

describe("a cut whose day rests on a flower that nobody has seen", () => {
  const cut = aCut("2026-05-05", "2026-05-08", "2026-05-14", { setBy: { species: "hairy-vetch", because: "seed" } })
  const blooming = (flower: ReturnType<typeof range>) =>
    aSowingPlan({ cut, species: [aSpeciesPlan({ id: "hairy-vetch", firstFlower: flower })] })

  it("asks for a look, since the range is wide", () => {
    const found = one("cut", "2026-05-05", blooming(range("2026-04-25", "2026-05-10", "2026-05-25")))
    expect(found?.words).toEqual(["DONE", "SNOOZE SAT", "NO BLOOM"])
  })

  it("does not where the range is tight, as after a report", () => {
    const found = one("cut", "2026-05-05", blooming(range("2026-05-01", "2026-05-03", "2026-05-05")))
    expect(found?.words).not.toContain("NO BLOOM")
  })
})

describe("watch-boot and watch-bloom", () => {
  const ask = (species: string) => ({ opens: day("2026-04-25"), lapses: day("2026-05-15"), species, why: "" })
  const standing = aSowingPlan({ watchBoot: ask("winter-rye"), watchBloom: ask("hairy-vetch") })

  it("ask for the stage that the plan wants to know, with its range", () => {
    expect(one("watch-boot", "2026-04-25", standing)?.text).toContain(
      "The rye on South bed may come to boot 25 Apr-15 May.",
    )
    expect(one("watch-bloom", "2026-04-25", standing)?.text).toContain("The vetch on South bed may flower 3-15 May.")
  })

  it("name only the beginning of a range that may run through the winter", () => {
    const mustard = aSpeciesPlan({ id: "hairy-vetch", firstFlower: range("2026-05-03", "2026-05-20", "2026-10-31") })
    const open = { ...standing, species: [mustard] }
    expect(one("watch-bloom", "2026-04-25", open)?.text).toContain("may flower any time from 3 May on.")
    expect(one("watch-bloom", "2026-05-04", open)?.text).toContain("may flower any time now.")
  })

  it("are settled by that stage or a later one, seen since it was sown", () => {
    expect(one("watch-boot", "2026-04-26", standing, [saw("flag-leaf", "2026-04-24")])?.state).toBe("done")
    expect(one("watch-bloom", "2026-04-26", standing, [saw("boot", "2026-04-25")])?.state).toBe("due")
    expect(one("watch-bloom", "2026-04-26", standing, [saw("full-bloom", "2026-04-25")])?.state).toBe("done")
  })

  it("no bloom yet asks again some days on", () => {
    const none = [saw("no-bloom", "2026-04-26")]
    expect(one("watch-bloom", "2026-04-27", standing, none)).toMatchObject({ state: "snoozed", speaks: "2026-05-02" })
  })
})

describe("after the cut", () => {
  const ready = range("2026-05-30", "2026-06-05", "2026-06-14")
  const rest = { transplants: ready, smallSeed: ready, why: "" }
  const cut = aSowingPlan({
    state: "resting",
    wasCut: { on: day("2026-05-10"), then: "leave" },
    regrowthCheck: { opens: day("2026-05-20"), lapses: day("2026-05-30") },
    rest,
    next: aNext("tomato", "2026-05-25", ready),
  })

  it("asks for green regrowth, counting the days since", () => {
    const found = one("check-regrowth", "2026-05-22", cut)
    expect(found?.text).toContain("It is 12 days since you cut South bed.")
    expect(one("check-regrowth", "2026-05-23", cut, [saw("no-regrowth", "2026-05-22")])?.state).toBe("done")
  })

  it("asks for a look at the stems as the range begins, and speaks of planting when it is likely ready", () => {
    expect(one("rest-over", "2026-05-30", cut)).toMatchObject({ state: "due", opens: "2026-05-30" })
    expect(one("plant", "2026-06-04", cut)?.state).toBe("planned")
    const found = one("plant", "2026-06-05", cut)
    expect(found).toMatchObject({ state: "due", words: ["PLANTED", "SNOOZE SAT"] })
    expect(found?.text).toContain("looks ready for the tomatoes, around 5 June (30 May-14 June)")
  })

  it("asks for no look at the stems once planting was spoken of, though the plan has moved later since", () => {
    const spoken = sent("ines", "2026-05-28 08:00", told(1, "south:2025-09-20:plant:1"))
    expect(one("rest-over", "2026-05-30", cut)?.state).toBe("due")
    expect(one("rest-over", "2026-05-30", cut, [spoken])).toBeUndefined()
  })

  it("leaves a rest that is over long before planting is wanted to the weekly mail", () => {
    const later = { ...cut, next: aNext("tomato", "2026-08-25", ready) }
    expect(one("rest-over", "2026-05-30", later)).toMatchObject({ mailOnly: true, speaks: null })
    expect(one("plant", "2026-06-05", later)).toMatchObject({ state: "planned", opens: "2026-08-23" })
  })

  it("says that a bed without a next crop is ready", () => {
    const found = one("rest-over", "2026-06-05", { ...cut, next: null })
    expect(found?.text).toContain("South bed looks rested and ready to plant, around 5 June (30 May-14 June).")
  })

  it("never speaks of planting while the cover stands, however the plan reckons its ready day", () => {
    const standing = {
      ...cut,
      state: "growing" as const,
      wasCut: null,
      regrowthCheck: null,
      cut: aCut("2026-05-06", "2026-05-08", "2026-05-14"),
    }
    for (const on of ["2026-06-05", "2026-06-20", "2026-07-20"])
      for (const kind of ["plant", "rest-over"] as const)
        expect((one(kind, on, standing)?.speaks ?? "9999") > on).toBe(true)
    expect(one("plant", "2026-06-20", standing)?.state).toBe("planned")
  })

  it("says nothing of a cover that is over", () => {
    const over = { ...cut, endedOn: day("2026-06-10"), state: "ended" as const }
    expect(remindersOn("2026-06-12", over).filter((each) => each.speaks !== null)).toEqual([])
  })
})
