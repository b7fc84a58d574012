import type { Garden } from "../garden/garden.ts"
import type { Handbook } from "../handbook/handbook.ts"
import { showDay, showRange } from "../reminders/dates.ts"
import { capital, cropName, speciesName } from "../reminders/names.ts"
import type { SowingPlan, SpeciesPlan } from "../season/bed-plan.ts"
import type { Day } from "../values/day.ts"
import type { Range } from "../values/range.ts"
import { frostBefore, missed } from "./season-chart-bands.ts"

/** One line of a bed's timeline in words. */
export type Step = {
  what: string
  when: string
  why: string | null
  from: Day
  /** It happened, and this is its day. */
  seen: boolean
  /** What the gardener does, or what the plants do. */
  whose: "gardener" | "plants"
  /** It was expected, its days have passed, and nobody told: the plan goes on as if it had come. */
  passed: boolean
}

/** What a garden row needs to know besides the plan. */
export type Naming = { garden: Garden; handbook: Handbook; on: Day }

/** `about 5 June (30 May-14 June)`; the bare day where it was seen. */
export function showAbout(range: Range, on: Day): string {
  if (range.early === range.late) return showDay(range.likely, on)
  return `about ${showDay(range.likely, on)} (${showRange(range.early, range.late, on)})`
}

/** `any day 3-15 May, likely 8 May`; the bare day where it was seen. */
export function showAnyDay(range: Range, on: Day): string {
  if (range.early === range.late) return showDay(range.likely, on)
  return `any day ${showRange(range.early, range.late, on)}, likely ${showDay(range.likely, on)}`
}

/** A sowing's timeline, from its seed to the next crop. */
export function stepsOf(plan: SowingPlan, naming: Naming): Step[] {
  const { handbook, on } = naming
  if (missed(plan, on)) return sowSteps(plan, on)
  const steps = [...sowSteps(plan, on), ...plan.species.flatMap((each) => speciesSteps(each, plan, naming))]
  if (plan.wasCut) steps.push(done("Cut", plan.wasCut.on, on))
  if (plan.cut) {
    const { from, by, best, why, ordinal } = plan.cut
    const when = `${showRange(from, by, on)}, ideally ${showDay(best, on)}`
    steps.push({ ...todo(ordinal > 1 ? "Cut again" : "Cut", when, from), why })
  } else if (plan.noCut && !plan.wasCut)
    steps.push({ ...todo("Cut", "none needed", "9999-12-31" as Day), why: plan.noCut })
  if (plan.rest && plan.state !== "planted") {
    const ready = plan.next?.ready ?? plan.rest.transplants
    const crop = plan.next ? `ready for ${cropName(handbook, plan.next.crop)}` : "ready for transplants"
    const why = plan.next?.why ?? plan.rest.why
    steps.push({ ...todo(`Rest over, ${crop}`, showAbout(ready, on), ready.early), why })
  }
  if (plan.state === "planted" && plan.endedOn) steps.push(done("Planted", plan.endedOn, on))
  return steps
}

function sowSteps(plan: SowingPlan, on: Day): Step[] {
  if (plan.sown) return [done("Sown", plan.sown, on)]
  if (!plan.sow) return []
  const { from, by, why } = plan.sow
  return [{ ...todo(missed(plan, on) ? "Sow (its time is over)" : "Sow", showRange(from, by, on), from), why }]
}

/** What a species does: only what it will live to do, and what was not cut off before. */
function speciesSteps(species: SpeciesPlan, plan: SowingPlan, { handbook, on }: Naming): Step[] {
  const ids = plan.species.map((each) => each.id)
  const name = capital(speciesName(handbook, species.id, ids))
  const { emergence, heading, firstFlower, viableSeed, gone } = species
  if (gone?.how === "not-up") return [done(`${name}: did not come up`, gone.on, on, "plants")]
  const steps = [expected(`${name}: seedlings`, emergence, on)]
  if (gone) return [...steps, done(`${name}: killed by frost`, gone.on, on, "plants")]
  const cut = plan.wasCut?.on ?? null
  const comes = (range: Range | null): range is Range =>
    range !== null && (cut === null || range.early <= cut) && !frostBefore(species, range.likely)
  if (comes(heading)) steps.push(expected(`${name}: heading`, heading, on))
  if (comes(firstFlower)) steps.push(expected(`${name}: first flower`, firstFlower, on))
  if (comes(viableSeed) && cut === null) steps.push(expected(`${name}: first live seed`, viableSeed, on))
  const frost = cut === null ? frostBefore(species) : null
  if (frost) {
    const often = Math.min(9, Math.round(frost.chance * 10))
    steps.push(expected(`${name}: frost may kill it (about ${often} in 10)`, frost.when, on))
  }
  return steps
}

function expected(what: string, range: Range, on: Day): Step {
  const isSeen = range.early === range.late && range.late <= on
  return {
    what,
    when: showAnyDay(range, on),
    why: range.why,
    from: range.early,
    seen: isSeen,
    whose: "plants",
    passed: !isSeen && range.late < on,
  }
}

function todo(what: string, when: string, from: Day): Step {
  return { what, when, why: null, from, seen: false, whose: "gardener", passed: false }
}

function done(what: string, day: Day, on: Day, whose: Step["whose"] = "gardener"): Step {
  return { what, when: showDay(day, on), why: null, from: day, seen: true, whose, passed: false }
}
