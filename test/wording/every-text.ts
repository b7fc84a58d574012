import type { Stage } from "../../src/garden/acts.ts"
import { REMINDER_KINDS, type ReminderKind } from "../../src/garden/entry.ts"
import type { Garden, Then, Units } from "../../src/garden/garden.ts"
import { KINDS } from "../../src/reminders/index.ts"
import type { Kind, Said } from "../../src/reminders/kind.ts"
import type { Reminder } from "../../src/reminders/reminder.ts"
import type { CutWindow, SowingPlan } from "../../src/season/bed-plan.ts"
import { addDays } from "../../src/values/day.ts"
import { compose } from "../../src/wording/compose.ts"
import {
  aBed,
  aCut,
  aGarden,
  aNext,
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

export const MIXES = [
  ["hairy-vetch", "winter-rye"],
  ["oats", "field-pea"],
  ["sorghum-sudangrass"],
  ["crimson-clover", "annual-ryegrass", "daikon-radish"],
  ["brown-mustard"],
  ["phacelia", "sunn-hemp"],
  ["fava-bean", "lupin"],
  ["subterranean-clover", "berseem-clover", "red-clover", "white-clover"],
]
export const TOPS: Then[] = ["leave", "carry-off", "turn-in", "tarp"]
export const BECAUSE: CutWindow["setBy"]["because"][] = ["seed", "regrowth", "next-crop", "frost"]

/** Plans that between them make every kind of reminder speak. */
export function plansOf(species: string[], then: Then, because: CutWindow["setBy"]["because"]): SowingPlan[] {
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

export type SaidText = { kind: ReminderKind; said: Said; reminder: Reminder; text: string }

/** Every call of every kind, as texts of one thing. */
export function everyText(
  garden: Garden,
  sowings: SowingPlan[],
  seen: { what: Stage; on: string } = { what: "patchy", on: "2026-09-02" },
): SaidText[] {
  const looked = reply("ines", `${seen.on} 09:00`, [
    { act: "observe", bed: "south", species: null, what: seen.what, on: day(seen.on) },
  ])
  const history = historyOf(garden, log(looked))
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

export function gardenOf(name: string, units: Units): Garden {
  const sowings = [aSowing({ bed: "south" }), aSowing({ bed: "south", sown: day("2026-08-24") })]
  return aGarden({ place: { units }, beds: [aBed({ id: "south", name, sowings })] })
}
