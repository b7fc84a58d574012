import type { Stage } from "../garden/acts.ts"
import type { Garden } from "../garden/garden.ts"
import type { Fact, History, SowingRecord } from "../garden/history.ts"
import type { Handbook } from "../handbook/handbook.ts"
import { showDay, showRange } from "../reminders/dates.ts"
import { bedName, speciesName, speciesNames } from "../reminders/names.ts"
import type { GardenPlan, SowingPlan } from "../season/bed-plan.ts"
import { addDays, type Day, daysBetween, later, partsOf } from "../values/day.ts"
import type { Range } from "../values/range.ts"

/** A stage that can be held against what was predicted. */
export const COMPARED = ["emergence", "heading", "first flower", "cut", "planted"] as const
export type Compared = (typeof COMPARED)[number]

/** What was predicted, what was seen, how far off. */
export type Comparison = {
  bed: string
  sowing: string
  /** The year the cover is judged in: that of its cut or planting, else of its sowing. */
  year: number
  cover: string
  what: Compared
  species: string | null
  /** As it stood `AHEAD_DAYS` before it was seen (or at sowing, if that was later); null: nothing was predicted. */
  predicted: { early: Day; likely: Day; late: Day; knownOn: Day } | null
  seen: Day
  /** Days from the likely day to the day seen: positive where it came later than predicted. */
  off: number | null
  /** Did it fall between early and late? */
  inside: boolean | null
}

/** A prediction counts as one where it stood this long before the event: a month ahead is when plans are made. */
export const AHEAD_DAYS = 28

const SEEN: Partial<Record<Stage, Compared>> = { up: "emergence", heading: "heading", bloom: "first flower" }

export type YearInput = {
  garden: Garden
  handbook: Handbook
  history: History
  /** The plan as it was known at the end of a day: with the log up to then and nothing later. */
  planOn(day: Day): GardenPlan
}

/** Every event of every sowing that was both predicted and seen, oldest first. */
export function comparisons(input: YearInput): Comparison[] {
  const found = [...input.history.beds].flatMap(([bed, records]) =>
    records.flatMap((record) => ofSowing(bed, record, input)),
  )
  return found.toSorted((a, b) => (a.seen < b.seen ? -1 : a.seen > b.seen ? 1 : a.sowing < b.sowing ? -1 : 1))
}

/** How predictions of a kind did over many events: for the foot of the summary. */
export function score(list: readonly Comparison[]): { events: number; inside: number; meanOff: number } | null {
  const judged = list.filter((each) => each.off !== null)
  if (judged.length === 0) return null
  const sum = judged.reduce((total, each) => total + Math.abs(each.off ?? 0), 0)
  return { events: judged.length, inside: judged.filter((each) => each.inside).length, meanOff: sum / judged.length }
}

function ofSowing(bed: string, record: SowingRecord, input: YearInput): Comparison[] {
  const firsts = firstOfEach(record.facts)
  const sown = record.sown
  if (sown === null) return []
  const ids = record.sowing.species.map((each) => each.id)
  const over = record.facts.findLast((fact) => fact.fact === "cut" || fact.fact === "planted")?.on ?? sown
  return firsts.map(({ what, species, on }): Comparison => {
    const ahead = addDays(on, -AHEAD_DAYS)
    const knownOn = later(ahead, sown)
    const then = planOf(input.planOn(knownOn), record.sowing.id)
    const range = then && knownOn < on ? rangeFor(then, what, species) : null
    return {
      bed,
      sowing: record.sowing.id,
      year: partsOf(over).year,
      cover: speciesNames(input.handbook, ids),
      what,
      species: species ? speciesName(input.handbook, species, ids) : null,
      predicted: range ? { early: range.early, likely: range.likely, late: range.late, knownOn } : null,
      seen: on,
      off: range ? daysBetween(range.likely, on) : null,
      inside: range ? on >= range.early && on <= range.late : null,
    }
  })
}

type First = { what: Compared; species: string | null; on: Day }

/** The first time that each stage was reported, species by species; the first cut, the first planting. */
function firstOfEach(facts: readonly Fact[]): First[] {
  const found = new Map<string, First>()
  for (const fact of facts) {
    const what = comparedOf(fact)
    if (!what) continue
    const species = fact.fact === "observed" ? fact.species : null
    const key = `${what}:${species ?? ""}`
    const before = found.get(key)
    if (!before || fact.on < before.on) found.set(key, { what, species, on: fact.on })
  }
  return [...found.values()]
}

function comparedOf(fact: Fact): Compared | undefined {
  if (fact.fact === "observed") return SEEN[fact.what]
  if (fact.fact === "cut") return "cut"
  return fact.fact === "planted" ? "planted" : undefined
}

function planOf(plan: GardenPlan, sowing: string): SowingPlan | undefined {
  return plan.beds.flatMap((each) => each.sowings).find((each) => each.sowing === sowing)
}

/** The prediction of an event. A report without a species is held against the species that was expected first. */
function rangeFor(plan: SowingPlan, what: Compared, species: string | null): Range | null {
  const of = plan.species.filter((each) => species === null || each.id === species)
  const first = (ranges: (Range | null)[]) =>
    ranges.filter((each) => each !== null).toSorted((a, b) => (a.likely < b.likely ? -1 : 1))[0] ?? null
  switch (what) {
    case "emergence":
      return first(of.map((each) => each.emergence))
    case "heading":
      return first(of.map((each) => each.heading))
    case "first flower":
      return first(of.map((each) => each.firstFlower))
    case "cut":
      return plan.cut ? { early: plan.cut.from, likely: plan.cut.best, late: plan.cut.by, why: plan.cut.why } : null
    case "planted":
      return plan.next?.ready ?? plan.rest?.transplants ?? null
    default:
      return what satisfies never
  }
}

/** `predicted 3-15 May, likely 8 May; seen 6 May, 2 days early`. */
export function comparisonWords(each: Comparison): { predicted: string; seen: string; off: string } {
  const on = `${each.year}-07-01` as Day
  const seen = showRange(each.seen, each.seen, on)
  if (!each.predicted) return { predicted: "nothing", seen, off: "" }
  const { early, likely, late } = each.predicted
  return {
    predicted: `${showRange(early, late, on)}, likely ${showDay(likely, early)}`,
    seen,
    off: `${offWords(each.off ?? 0)}${each.inside ? "" : ", outside the range"}`,
  }
}

function offWords(off: number): string {
  if (off === 0) return "on the day"
  const days = Math.abs(off)
  return `${days} ${days === 1 ? "day" : "days"} ${off > 0 ? "later" : "earlier"}`
}

/** The name of a bed for a heading. */
export function headingOf(garden: Garden, bed: string): string {
  return bedName(garden, bed)
}
