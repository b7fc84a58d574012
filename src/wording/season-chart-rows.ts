import { showDay, showRange } from "../reminders/dates.ts"
import { bedName, speciesNames } from "../reminders/names.ts"
import type { GardenPlan, SowingPlan, SowingState } from "../season/bed-plan.ts"
import type { Day } from "../values/day.ts"
import { type Band, bandsOf, flowering, isOverdue, missed } from "./season-chart-bands.ts"
import { type Naming, type Step, showAbout, showAnyDay, stepsOf } from "./season-chart-steps.ts"

/** One sowing in words and bands. */
export type SowingRow = {
  plan: SowingPlan
  /** `vetch and rye`. */
  cover: string
  state: string
  bands: Band[]
  steps: Step[]
}

/** A bed as the picture, its table twin and its sentences show it. */
export type BedRow = {
  bed: string
  name: string
  /** The next thing in few words: `cut 8-14 May`. */
  caption: string
  sowings: SowingRow[]
  /** The row in one or two sentences, complete without the picture. */
  sentence: string
}

const STATE_WORDS: Record<SowingState, string> = {
  planned: "to be sown",
  sown: "not up yet",
  up: "up",
  growing: "growing",
  blooming: "in flower",
  cut: "cut",
  resting: "resting",
  ready: "ready to plant",
  planted: "planted",
  ended: "over",
}

/** The state of a sowing in words. */
function stateWord(state: SowingState): string {
  return STATE_WORDS[state]
}

/** The rows of every bed of a plan, in the plan's order; `beds` narrows it to those a person minds (null: all). */
export function bedRows(plan: GardenPlan, naming: Naming, beds: readonly string[] | null = null): BedRow[] {
  return plan.beds
    .filter((each) => beds === null || beds.includes(each.bed))
    .map((each) => {
      const name = bedName(naming.garden, each.bed)
      const sowings = each.sowings.filter((sowing) => sowing.state !== "ended").map((sowing) => rowOf(sowing, naming))
      const shown = sowings.find((row) => row.plan.state !== "planted") ?? sowings.at(-1)
      return {
        bed: each.bed,
        name,
        caption: shown ? captionOf(shown.plan, naming) : "no cover now",
        sowings,
        sentence: sentenceOf(name, sowings, naming.on),
      }
    })
}

function rowOf(plan: SowingPlan, naming: Naming): SowingRow {
  return {
    plan,
    cover: speciesNames(
      naming.handbook,
      plan.species.map((each) => each.id),
    ),
    state: stateWord(plan.state),
    bands: bandsOf(plan, naming.on),
    steps: stepsOf(plan, naming),
  }
}

function captionOf(plan: SowingPlan, { on }: Naming): string {
  const ready = plan.next?.ready ?? plan.rest?.transplants
  switch (plan.state) {
    case "planned":
      if (missed(plan, on)) return `time to sow was over ${showDay(plan.sow?.by ?? on, on)}`
      return plan.sow ? `sow ${showRange(plan.sow.from, plan.sow.by, on)}` : "to be sown"
    case "sown":
      return plan.species[0]
        ? `up ${showRange(plan.species[0].emergence.early, plan.species[0].emergence.late, on)}`
        : "sown"
    case "cut":
    case "resting":
      if (plan.cut) return cutCaption(plan.cut, on)
      return ready ? `rest to about ${showDay(ready.likely, on)}` : "resting"
    case "ready":
      return plan.cut ? cutCaption(plan.cut, on) : "ready to plant"
    case "planted":
    case "ended":
      return plan.endedOn ? `${stateWord(plan.state)} ${showDay(plan.endedOn, on)}` : stateWord(plan.state)
    default:
      if (plan.cut) return cutCaption(plan.cut, on)
      if (!plan.noCut) return stateWord(plan.state)
      if (!ready) return "no cut needed"
      return ready.late < on
        ? `ready since about ${showDay(ready.likely, on)}`
        : `ready about ${showDay(ready.likely, on)}, no cut`
  }
}

function cutCaption(cut: { from: Day; by: Day }, on: Day): string {
  return cut.by < on ? `cut was due by ${showDay(cut.by, on)}` : `cut ${showRange(cut.from, cut.by, on)}`
}

function sentenceOf(name: string, sowings: SowingRow[], on: Day): string {
  if (sowings.length === 0) return `${name}: no cover now.`
  return sowings
    .map((row, i) => {
      const { plan } = row
      const parts = [
        `${i === 0 ? `${name},` : "Then"} ${row.cover}: ${row.state}${plan.sown ? `, sown ${showDay(plan.sown, on)}` : ""}.`,
      ]
      // What is not sown yet has nothing nearer to tell than its sowing.
      if (plan.sown === null && missed(plan, on))
        return `${parts.join(" ")} The time to sow it was over on ${showDay(plan.sow?.by ?? on, on)}.`
      if (plan.sown === null)
        return [...parts, plan.sow ? `Sow ${showRange(plan.sow.from, plan.sow.by, on)}.` : ""].join(" ").trim()
      const flower = flowering(plan)?.firstFlower
      const before = ["sown", "up", "growing"].includes(plan.state)
      if (flower && before && flower.early !== flower.late && flower.late >= on)
        parts.push(`First flowers may come ${showAnyDay(flower, on)}.`)
      if (plan.wasCut) parts.push(`Cut ${showDay(plan.wasCut.on, on)}.`)
      if (plan.cut && isOverdue(plan, on)) parts.push(`The limit of its cut was ${showDay(plan.cut.by, on)}.`)
      else if (plan.cut)
        parts.push(
          `${plan.cut.ordinal > 1 ? "Cut again" : "Cut"} ${showRange(plan.cut.from, plan.cut.by, on)}, ideally ${showDay(plan.cut.best, on)}.`,
        )
      else if (plan.noCut && !plan.wasCut && before) parts.push("No cut needed.")
      const ready = plan.next?.ready ?? plan.rest?.transplants
      if (ready && plan.state !== "planted" && plan.state !== "ready")
        parts.push(`${ready.late < on ? "Rest was over" : "Rest until"} ${showAbout(ready, on)}.`)
      return parts.join(" ")
    })
    .join(" ")
}
