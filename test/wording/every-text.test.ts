import { describe, expect, it } from "vitest"
import { REMINDER_KINDS, type ReminderKind } from "../../src/garden/entry.ts"
import type { Garden, Then, Units } from "../../src/garden/garden.ts"
import { KINDS, remindersFor } from "../../src/reminders/index.ts"
import type { Kind, Said } from "../../src/reminders/kind.ts"
import type { Reminder } from "../../src/reminders/reminder.ts"
import type { CutWindow, SowingPlan } from "../../src/season/bed-plan.ts"
import { addDays } from "../../src/values/day.ts"
import { checkText } from "../../src/wording/check-text.ts"
import { compose } from "../../src/wording/compose.ts"
import { measure } from "../../src/wording/segments.ts"
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
} from "../given.ts"

const NAMES = ["A", "South bed", "Bed 12", "The long bed by the wall", "Grandmother Elizabeth's bed, east end"]
const MIXES = [
  ["hairy-vetch", "winter-rye"],
  ["oats", "field-pea"],
  ["sorghum-sudangrass"],
  ["crimson-clover", "annual-ryegrass", "daikon-radish"],
  ["brown-mustard"],
  ["phacelia", "sunn-hemp"],
  ["fava-bean", "lupin"],
  ["subterranean-clover", "berseem-clover", "red-clover", "white-clover"],
]
const TOPS: Then[] = ["leave", "carry-off", "turn-in", "tarp"]
const BECAUSE: CutWindow["setBy"]["because"][] = ["seed", "regrowth", "next-crop", "frost"]

/** Plans that between them make every kind of reminder speak. */
function plansOf(species: string[], then: Then, because: CutWindow["setBy"]["because"]): SowingPlan[] {
  const ready = range("2026-05-30", "2026-06-05", "2026-06-14")
  const rest = { transplants: ready, smallSeed: ready, why: "stems rot slowly" }
  const next = aNext("tomato", "2026-05-25", ready)
  const kill = {
    temperature_c: { low: -14, high: -9 },
    chance: 0.8,
    when: range("2026-12-28", "2027-01-05", "2027-01-20"),
  }
  const green = range("2025-09-25", "2025-09-29", "2025-10-04")
  const parts = species.map((id) => aSpeciesPlan({ id, frostKill: kill, emergence: green }))
  const fresh = parts.map((part) => ({ ...part, emergence: range("2026-08-28", "2026-09-01", "2026-09-06") }))
  const setBy = { species: species[0] as string, because }
  const common = { species: parts, then }
  return [
    aSowingPlan({
      ...common,
      sown: null,
      planned: day("2026-08-24"),
      sow: { from: day("2026-08-24"), by: day("2026-09-10"), why: "" },
    }),
    aSowingPlan({
      ...common,
      species: fresh,
      sown: day("2026-08-24"),
      state: "sown",
      resowBy: day("2026-09-24"),
      water: { water_l: 19, why: "" },
    }),
    aSowingPlan({
      ...common,
      next,
      rest,
      frost: { opens: day("2026-12-01"), lapses: day("2026-12-09"), species: [species[0] as string], why: "" },
      springAsk: { opens: day("2026-03-20"), lapses: day("2026-04-10"), species: species[0] as string, why: "" },
      watchBoot: { opens: day("2026-04-15"), lapses: day("2026-04-30"), species: species.at(-1) as string, why: "" },
      watchBloom: { opens: day("2026-04-25"), lapses: day("2026-05-15"), species: species[0] as string, why: "" },
      cut: aCut("2026-04-29", "2026-05-08", "2026-05-14", { setBy, carryOff: then === "carry-off" }),
    }),
    aSowingPlan({
      ...common,
      state: "resting",
      wasCut: { on: day("2026-05-09"), then },
      regrowthCheck: { opens: day("2026-05-20"), lapses: day("2026-05-30") },
      rest,
      next: then === "leave" ? next : null,
    }),
  ]
}

/** Every call of every kind, as texts of one thing. */
function everyText(
  garden: Garden,
  sowings: SowingPlan[],
): { kind: ReminderKind; said: Said; reminder: Reminder; text: string }[] {
  const patchy = reply("ines", "2026-09-02 09:00", [
    { act: "observe", bed: "south", species: null, what: "patchy", on: day("2026-09-02") },
  ])
  const history = historyOf(garden, log(patchy))
  return sowings.flatMap((sowing) => {
    const on = day("2026-04-01")
    const record = history.beds.get("south")?.find((each) => each.sowing.id === sowing.sowing) ?? null
    const scene = { sowing, record, garden, handbook: handbook(), history, on }
    return REMINDER_KINDS.flatMap((kind) =>
      (KINDS[kind] as Kind).drafts(scene).flatMap((draft) =>
        draft.calls.flatMap((call) =>
          [call.on, addDays(call.on, 3)].map((when) => {
            const said = call.say(when)
            const words = said.words.map((word) => (word === "SNOOZE" ? "SNOOZE SAT" : word))
            const reminder = { ...blank(kind), ...said, words } as Reminder
            return { kind, said, reminder, text: compose([{ reminder, n: 17 }], null).text }
          }),
        ),
      ),
    )
  })
}

function blank(kind: ReminderKind): Partial<Reminder> {
  return { id: `south:2025-09-20:${kind}:1`, kind, bed: "south", person: "ines", urgency: 1, days: {} }
}

function gardenOf(name: string, units: Units): Garden {
  const sowings = [aSowing({ bed: "south" }), aSowing({ bed: "south", sown: day("2026-08-24") })]
  return aGarden({ place: { units }, beds: [aBed({ id: "south", name, sowings })] })
}

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
