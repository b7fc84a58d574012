import { describe, expect, it } from "vitest"
import { REMINDER_KINDS, type ReminderKind } from "../../src/garden/entry.ts"
import type { Then } from "../../src/garden/garden.ts"
import { remindersFor } from "../../src/reminders/index.ts"
import type { Reminder } from "../../src/reminders/reminder.ts"
import { checkText } from "../../src/wording/check-text.ts"
import { compose } from "../../src/wording/compose.ts"
import { measure } from "../../src/wording/segments.ts"
import { aPlan, day, handbook, historyOf } from "../given.ts"
import { BECAUSE, everyText, gardenOf, MIXES, plansOf, TOPS } from "./every-text.ts"

const NAMES = ["A", "South bed", "Bed 12", "The long bed by the wall", "Grandmother Elizabeth's bed, east end"]

describe("every text that the bot can send of its own accord", () => {
  for (const units of ["us", "metric"] as const)
    for (const name of NAMES)
      it(`keeps the rules of wording: ${units}, ${JSON.stringify(name)}`, () => {
        const kinds = new Set<ReminderKind>()
        for (const mix of MIXES)
          for (const then of TOPS)
            for (const because of BECAUSE)
              for (const { kind, said, text } of everyText(gardenOf(name, units), plansOf(mix, then, because))) {
                kinds.add(kind)
                const several = said.caution !== undefined || mix.length > 3 || name.length > 30
                expect(checkText(text, { several }), text).toEqual([])
                expect(text).toContain(name)
              }
        expect(REMINDER_KINDS.filter((kind) => !kinds.has(kind))).toEqual([])
      })

  it("keeps its range or limit when a long name pushes the reason out", () => {
    for (const { said, text } of everyText(
      gardenOf(NAMES[4] as string, "us"),
      plansOf(MIXES[0] as string[], "leave", "seed"),
    )) {
      const days = said.text.match(/\d{1,2}(?: \w+)?-\d{1,2} \w+|\b(?:by|till|past)(?: about)? \d{1,2} \w+/g) ?? []
      if (days.length > 0)
        expect(
          days.some((each) => text.includes(each)),
          `${said.text}\n${text}`,
        ).toBe(true)
    }
  })

  it("says the caution of the work and of the species with the first text of a season that asks for it", () => {
    const cutText = (species: string[], then: Then) =>
      everyText(gardenOf("South bed", "us"), plansOf(species, then, "seed")).find((each) => each.kind === "cut")?.text
    expect(cutText(["brown-mustard"], "turn-in")).toContain("fumes that sting: stay upwind")
    expect(cutText(["brown-mustard"], "leave")).not.toContain("fumes")
    expect(cutText(["phacelia"], "leave")).toContain("The hairs can irritate skin: wear gloves and sleeves.")
    expect(cutText(["fava-bean"], "leave")).toContain("G6PD")
    expect(cutText(["hairy-vetch"], "leave")).toContain("The tops can harm animals")
    for (const species of MIXES) expect(cutText(species, "leave")).toMatch(/Mind the blade/)
  })

  it("puts any of them beside any other into two segments", () => {
    const all = everyText(gardenOf("The long bed by the wall", "us"), plansOf(MIXES[3] as string[], "leave", "seed"))
    for (const one of all)
      for (const other of all) {
        const { text } = compose(
          [one, other].map(({ reminder }, index) => ({ reminder, n: 98 + index })),
          null,
        )
        expect(measure(text).segments).toBeLessThanOrEqual(2)
        expect(checkText(text, { several: true }), text).toEqual([])
      }
  })

  it("says the same after days away in two segments, for up to all eleven kinds", () => {
    const texts = everyText(gardenOf("South bed", "us"), plansOf(MIXES[0] as string[], "leave", "seed"))
    const lines = REMINDER_KINDS.map((kind, index) => ({
      reminder: texts.find((each) => each.kind === kind)?.reminder as Reminder,
      n: index + 1,
    }))
    for (let count = 1; count <= lines.length; count += 1) {
      const { text, said, left } = compose(lines.slice(0, count), { days: 9, restIn: "Sunday's mail" })
      expect(said.length + left.length).toBe(count)
      expect(checkText(text, { several: true }), text).toEqual([])
    }
  })

  it("has a title without a capital for each, to be listed by", () => {
    const garden = gardenOf("South bed", "us")
    const all = plansOf(MIXES[0] as string[], "leave", "seed").flatMap((sowing) =>
      remindersFor(
        aPlan("2026-04-01", sowing),
        { garden, history: historyOf(garden), handbook: handbook() },
        day("2026-04-01"),
      ),
    )
    expect(all.length).toBeGreaterThan(8)
    for (const { title, id } of all.filter((each) => each.state !== "done")) expect(title, id).toMatch(/^[a-z].*[^.]$/)
  })
})
