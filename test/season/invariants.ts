import fc from "fast-check"
import { expect } from "vitest"
import type { Act } from "../../src/garden/acts.ts"
import type { Entry, NewEntry } from "../../src/garden/entry.ts"
import { readHistory } from "../../src/garden/history.ts"
import { remindersFor } from "../../src/reminders/index.ts"
import type { Reminder } from "../../src/reminders/reminder.ts"
import type { GardenPlan, SowingPlan } from "../../src/season/bed-plan.ts"
import { planSchema } from "../../src/season/plan-schema.ts"
import { handbook, log } from "../given.ts"
import { anyCase, anyReply, type Case, gardenOf, planAfresh, planOf } from "./random-gardens.ts"

/** A random garden with its log, plan and reminders, and one more reply. */
type Made = {
  one: Case
  entries: Entry[]
  plan: GardenPlan
  sowings: SowingPlan[]
  reminders: Reminder[]
  extra: Entry
}

/** How many gardens; a seed makes them the same every time. */
export type Runs = { numRuns: number; seed?: number }

/** What must hold for the plan of any garden with any log on any day. */
const HOLDS: Readonly<Record<string, (made: Made) => void>> = {
  "what plan --json prints has every key, every range and window in order": ({ plan, reminders }) => {
    const read = planSchema.safeParse(JSON.parse(JSON.stringify({ ...plan, reminders })))
    expect(read.success ? [] : read.error.issues.slice(0, 3)).toEqual([])
  },

  "nothing is to be cut once frost has killed it all, and nothing is asked of what has ended": ({ sowings }) => {
    for (const sowing of sowings) {
      if (isDead(sowing)) expect(sowing.cut).toBeNull()
      if (sowing.endedOn === null) continue
      const nothing = { cut: null, watchBloom: null, watchBoot: null, frost: null, regrowthCheck: null, water: null }
      expect(sowing).toMatchObject(nothing)
    }
  },

  "no reminder asks to cut after a reported frost-kill, or to plant before the bed is likely ready": (made) => {
    const byId = new Map(made.sowings.map((sowing) => [sowing.sowing, sowing]))
    for (const reminder of made.reminders) {
      const sowing = byId.get(reminder.sowing)!
      const open = reminder.state === "planned" || reminder.state === "due"
      if (reminder.kind === "cut" && open) expect(isDead(sowing)).toBe(false)
      if (reminder.kind === "plant" && open) expect(reminder.opens >= sowing.next!.ready.likely).toBe(true)
    }
  },

  "a bed is ready no sooner than its rest, small seed no sooner than plants, rest no sooner than the cut": (made) => {
    for (const { state, rest, next, cut, wasCut } of made.sowings) {
      if (state === "ready") expect((next?.ready.likely ?? rest!.transplants.likely) <= made.one.on).toBe(true)
      if (!rest) continue
      for (const end of ["early", "likely", "late"] as const)
        expect(rest.smallSeed[end] >= rest.transplants[end]).toBe(true)
      if (cut) expect(rest.transplants.early >= cut.best).toBe(true)
      else if (wasCut && state === "cut") expect(rest.transplants.early >= wasCut.on).toBe(true)
      if (next) expect(next.fits).toBe(next.ready.likely <= next.wanted)
      if (next && !next.fits) expect(next.ways.length).toBeGreaterThan(0)
    }
  },

  "a best day to cut never lies in the past while the window is open": ({ sowings, one }) => {
    for (const { cut } of sowings)
      if (cut && one.on <= cut.by) expect(cut.best >= one.on || cut.best === cut.by).toBe(true)
  },

  "the same garden, log, weather and day give the same plan": ({ one, entries, plan }) => {
    expect(JSON.stringify(planAfresh(structuredClone(one), entries))).toBe(JSON.stringify(plan))
  },

  "an undo of any reply restores the plan byte for byte": ({ one, entries, plan, extra }) => {
    const at = Math.max(extra.at, entries.at(-1)?.at ?? 0) as typeof extra.at
    const undo: NewEntry = { at, garden: "acre", by: "ines", via: "sms", kind: "undo", undone: entries.length + 1 }
    const undone = planOf(one, log(...one.entries, { ...extra, at }, undo))
    expect(JSON.stringify(undone)).toBe(JSON.stringify(plan))
  },

  "the plan of a bed hangs on no other bed, but for stages seen there, which teach the garden": ({ one, plan }) => {
    const garden = gardenOf(one)
    for (const bed of garden.beds) {
      const without = (leftOut: (act: Act) => boolean) =>
        one.entries.filter((entry) => entry.kind !== "reply" || !entry.acts.some(leftOut))
      const alone = planOf(one, log(...without((act) => !isFor(act, bed.id))), { ...garden, beds: [bed] })
      const untaught = without((act) => !isFor(act, bed.id) && teaches(act))
      const whole = untaught.length === one.entries.length ? plan : planOf(one, log(...untaught))
      expect(JSON.stringify(alone.beds[0])).toBe(JSON.stringify(whole.beds.find((each) => each.bed === bed.id)))
    }
  },

  "every sentence goes into a text as it is: plain letters, no gap, a full stop": ({ sowings }) => {
    for (const sentence of sowings.flatMap(ownSentences)) {
      expect(sentence).toMatch(/^[\x20-\x7e]+[.]$/)
      expect(sentence).not.toMatch(/undefined|NaN|null|\.\.| {2}/)
      expect(sentence.length, sentence).toBeLessThanOrEqual(260)
    }
  },
}

/** Stages that tell how a species runs in this garden. */
function teaches(act: Act): boolean {
  return act.act === "observe" && ["flag-leaf", "boot", "heading", "bloom"].includes(act.what)
}

/** Runs every invariant on so many random gardens. */
export function holdAll(options: Runs): void {
  const states = new Set<string>()
  const run = (one: Case, extra: Entry) => {
    const entries = log(...one.entries)
    const plan = planOf(one, entries)
    const garden = gardenOf(one)
    const history = readHistory(entries, garden)
    const reminders = remindersFor(plan, { garden, history, handbook: handbook() }, one.on)
    const sowings = plan.beds.flatMap((bed) => bed.sowings)
    for (const sowing of sowings) states.add(sowing.state)
    for (const [name, holds] of Object.entries(HOLDS)) {
      try {
        holds({ one, entries, plan, sowings, reminders, extra })
      } catch (error) {
        throw new Error(`does not hold: ${name}`, { cause: error })
      }
    }
  }
  const oneMore = anyReply.map((entry) => log(entry)[0]!)
  fc.assert(fc.property(anyCase, oneMore, run), options)
  if (options.numRuns >= 5000) expect([...states].sort()).toEqual(ALL_STATES)
}

/** Random gardens reach every state, so that the invariants are held against each of them. */
const ALL_STATES = ["blooming", "cut", "ended", "growing", "planned", "planted", "ready", "resting", "sown", "up"]

function isDead(sowing: SowingPlan): boolean {
  return sowing.species.length > 0 && sowing.species.every((species) => species.gone?.how === "frost-killed")
}

/** Rain that was measured is the weather of every bed. */
function isFor(act: Act, bed: string): boolean {
  if (act.act === "measure" && act.what === "rain_mm") return true
  return !("bed" in act) || act.bed === bed || act.bed === null
}

function ownSentences(sowing: SowingPlan): string[] {
  return [
    sowing.sow?.why,
    sowing.noCut,
    sowing.cut?.why,
    sowing.rest?.why,
    sowing.next?.why,
    sowing.next?.ready.why,
    sowing.nitrogen?.why,
    sowing.water?.why,
    sowing.frost?.why,
    sowing.springAsk?.why,
    ...sowing.hazards.map((hazard) => hazard.why),
    ...sowing.remarks,
  ].filter((sentence) => sentence !== null && sentence !== undefined)
}
