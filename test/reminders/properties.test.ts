import fc from "fast-check"
import { describe, expect, it } from "vitest"
import type { NewEntry } from "../../src/garden/entry.ts"
import { remindersFor } from "../../src/reminders/index.ts"
import type { Reminder } from "../../src/reminders/reminder.ts"
import type { SowingPlan } from "../../src/season/bed-plan.ts"
import { addDays, type Day } from "../../src/values/day.ts"
import {
  aCut,
  aGarden,
  aNext,
  aPerson,
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

const start = day("2026-03-01")
const ID = "south:2025-09-20"
const KINDS = ["cut", "watch-bloom", "watch-boot", "check-regrowth", "plant", "rest-over", "check-emergence"] as const

const anyDay = fc.integer({ min: 0, max: 120 }).map((shift) => addDays(start, shift))

/** Plans in which anything may be open, done or dropped. */
const anyPlan: fc.Arbitrary<SowingPlan> = fc
  .record({
    from: anyDay,
    length: fc.integer({ min: 0, max: 30 }),
    hasCut: fc.boolean(),
    asks: fc.boolean(),
    cutOn: fc.option(anyDay, { nil: null }),
    hasNext: fc.boolean(),
    ended: fc.option(anyDay, { nil: null, freq: 6 }),
  })
  .map(({ from, length, hasCut, asks, cutOn, hasNext, ended }) => {
    const by = addDays(from, length)
    const ready = range(addDays(by, 10), addDays(by, 20), addDays(by, 32))
    const ask = { opens: from, lapses: by, species: "hairy-vetch", why: "" }
    return aSowingPlan({
      state: cutOn ? "resting" : "growing",
      cut: hasCut ? aCut(from, addDays(from, Math.floor(length / 2)), by) : null,
      watchBloom: asks ? ask : null,
      watchBoot: asks ? ask : null,
      wasCut: cutOn ? { on: cutOn, then: "leave" } : null,
      regrowthCheck: cutOn ? { opens: addDays(cutOn, 10), lapses: addDays(cutOn, 20) } : null,
      rest: { transplants: ready, smallSeed: ready, why: "" },
      next: hasNext ? aNext("tomato", addDays(by, 15), ready) : null,
      endedOn: ended,
    })
  })

/** What may have been said and answered; numbers go with the kinds. */
const anyEntry: fc.Arbitrary<NewEntry> = fc
  .record({
    on: anyDay,
    kind: fc.constantFrom(...KINDS),
    what: fc.integer({ min: 0, max: 4 }),
    until: anyDay,
    who: fc.constantFrom("ines", "tom"),
  })
  .map(({ on, kind, what, until, who }) => {
    const n = KINDS.indexOf(kind) + 1
    if (what <= 1) return sent(who, `${on} 08:00`, told(n, `${ID}:${kind}:1`, {}, what === 0 ? 1 : undefined))
    if (what === 2) return reply(who, `${on} 09:00`, [{ act: "done", n: [n], on }])
    if (what === 3) return reply(who, `${on} 09:00`, [{ act: "snooze", n: [n], until }])
    return reply(who, `${on} 09:00`, [{ act: "observe", bed: "south", species: null, what: "bloom", on }])
  })

const garden = aGarden({ people: [aPerson(), aPerson({ id: "tom", name: "Tom", phone: "+17175550143" })] })

function rows(plan: SowingPlan, entries: NewEntry[], on: Day): Reminder[] {
  const ordered = entries.toSorted((a, b) => a.at - b.at)
  const known = { garden, history: historyOf(garden, log(...ordered)), handbook: handbook() }
  return remindersFor(aPlan(on, plan), known, on)
}

describe("reminders of 400 random plans and logs (seeded)", () => {
  const all = fc.tuple(anyPlan, fc.array(anyEntry, { maxLength: 12 }), anyDay)
  const check = (what: (found: Reminder[], on: Day, plan: SowingPlan, entries: NewEntry[]) => void) =>
    fc.assert(
      fc.property(all, ([plan, entries, on]) => {
        what(rows(plan, entries, on), on, plan, entries)
      }),
      { numRuns: 400, seed: 11 },
    )

  it("are one for each id and person, with the same days for all people", () => {
    check((found) => {
      expect(new Set(found.map((each) => `${each.id} ${each.person}`)).size).toBe(found.length)
      for (const [, both] of Map.groupBy(
        found.filter((each) => each.text !== ""),
        (each) => each.id,
      ))
        expect(new Set(both.map((each) => each.opens)).size).toBe(1)
    })
  })

  it("speak only while they are open, and never after they lapse", () => {
    check((found, on) => {
      for (const each of found) {
        expect(each.opens <= each.lapses).toBe(true)
        if (["done", "skipped", "lapsed"].includes(each.state)) expect(each.speaks).toBeNull()
        if (each.speaks !== null) {
          expect(each.speaks <= each.lapses).toBe(true)
          expect(on <= each.lapses).toBe(true)
          expect(each.text).not.toBe("")
        }
        if (each.state === "snoozed" || each.state === "planned")
          expect(each.speaks === null || each.speaks > on).toBe(true)
      }
    })
  })

  it("follow from plan, log and day alone, and one done settles it for both people", () => {
    check((found, on, plan, entries) => {
      expect(rows(plan, entries, on)).toEqual(found)
      for (const [, both] of Map.groupBy(found, (each) => each.id)) {
        const settled = both.map((each) => each.state === "done" || each.state === "skipped")
        expect(new Set(settled).size).toBe(1)
      }
    })
  })
})
