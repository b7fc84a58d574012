import type { Garden } from "../garden/garden.ts"
import type { Handbook } from "../handbook/handbook.ts"
import { showDay, showRange } from "../reminders/dates.ts"
import { bedName, capital, cropName, speciesName, speciesNames } from "../reminders/names.ts"
import type { GardenPlan, SowingPlan, SowingState, SpeciesPlan } from "../season/bed-plan.ts"
import { addDays, type Day, earlier, later } from "../values/day.ts"
import type { Range } from "../values/range.ts"

/** What a stretch of a bed's year is. The picture gives each its word, its pattern and its place. */
export const BAND_KINDS = ["sow", "seed", "growing", "flower", "cut", "rest", "ready", "planted"] as const
export type BandKind = (typeof BAND_KINDS)[number]

/** A stretch of days in a bed's row, both ends included; `likely` is drawn as a tick in it. */
export type Band = { what: BandKind; from: Day; to: Day; likely: Day | null }

/** One line of a bed's timeline in words. */
export type Step = { what: string; when: string; why: string | null; seen: boolean; from: Day }

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

/** What a garden row needs to know besides the plan. */
export type Naming = { garden: Garden; handbook: Handbook; on: Day }

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
export function stateWord(state: SowingState): string {
  return STATE_WORDS[state]
}

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

/** The species whose first flower matters: the one that sets the cut if it flowers, else the first expected to. */
export function flowering(sowing: SowingPlan): (SpeciesPlan & { firstFlower: Range }) | null {
  const alive = sowing.species.filter((each): each is SpeciesPlan & { firstFlower: Range } => {
    return each.firstFlower !== null && (!each.gone || each.gone.on > each.firstFlower.likely)
  })
  const setter = alive.find((each) => each.id === sowing.cut?.setBy.species)
  return setter ?? alive.toSorted((a, b) => (a.firstFlower.likely < b.firstFlower.likely ? -1 : 1))[0] ?? null
}

/** Until when the cover stands: cut, dead, planted over, or the last day of its cut window; null: not known. */
export function standsUntil(sowing: SowingPlan): Day | null {
  if (sowing.wasCut) return sowing.wasCut.on
  if (sowing.endedOn) return sowing.endedOn
  if (sowing.species.length > 0 && sowing.species.every((each) => each.gone))
    return sowing.species.reduce((last, each) => later(last, each.gone?.on as Day), "0000-01-01" as Day)
  if (sowing.cut) return sowing.cut.by
  const frost = sowing.species.flatMap((each) => (each.frostKill.when ? [each.frostKill.when.likely] : []))
  return sowing.noCut && frost.length > 0 ? frost.reduce(later) : null
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

function bandsOf(plan: SowingPlan, on: Day): Band[] {
  const bands: Band[] = []
  const start = plan.sown ?? plan.planned ?? plan.sow?.from ?? null
  const until = standsUntil(plan)
  if (plan.sown === null && plan.sow) bands.push({ what: "sow", from: plan.sow.from, to: plan.sow.by, likely: null })
  // A sowing whose time has passed unreported has nothing to come: only its window is drawn.
  if (plan.sown === null && missed(plan, on)) return bands
  if (start) {
    const expected = plan.species.map((each) => each.emergence.likely).reduce(earlier, "9999-12-31" as Day)
    // What should be up and was not seen yet is not drawn as if it were.
    const unseen = plan.state === "sown" || plan.sown === null
    const up = unseen ? later(expected, addDays(on, 1)) : expected
    const end = until ?? ("9999-12-31" as Day)
    if (plan.sown && up > start)
      bands.push({ what: "seed", from: start, to: earlier(addDays(up, -1), end), likely: null })
    if (up < end) bands.push({ what: "growing", from: later(up, start), to: end, likely: null })
    const flower = flowering(plan)?.firstFlower
    // What may flower after its cut will not: the band ends where the stand does.
    if (flower && flower.early <= end && (!plan.wasCut || flower.likely <= plan.wasCut.on))
      bands.push({ what: "flower", from: flower.early, to: earlier(flower.late, end), likely: flower.likely })
  }
  if (plan.wasCut) bands.push({ what: "cut", from: plan.wasCut.on, to: plan.wasCut.on, likely: plan.wasCut.on })
  if (plan.cut) bands.push({ what: "cut", from: plan.cut.from, to: plan.cut.by, likely: plan.cut.best })
  const ready = plan.next?.ready ?? plan.rest?.transplants
  const cutOn = plan.wasCut?.on ?? until
  if (ready && cutOn && plan.state !== "planted") {
    if (ready.early > cutOn) bands.push({ what: "rest", from: cutOn, to: ready.early, likely: null })
    bands.push({ what: "ready", from: later(ready.early, cutOn), to: ready.late, likely: later(ready.likely, cutOn) })
  }
  if (plan.state === "planted" && plan.endedOn)
    bands.push({ what: "planted", from: plan.endedOn, to: "9999-12-31" as Day, likely: null })
  return bands
}

/** Is a sowing still planned although its last good day has passed? */
function missed(plan: SowingPlan, on: Day): boolean {
  return plan.sown === null && plan.sow !== null && plan.sow.by < on
}

function stepsOf(plan: SowingPlan, { handbook, on }: Naming): Step[] {
  const steps: Step[] = []
  const ids = plan.species.map((each) => each.id)
  const add = (what: string, range: Range) =>
    steps.push({
      what,
      when: range.early === range.late ? showDay(range.likely, on) : showAnyDay(range, on),
      why: range.why,
      seen: range.early === range.late && range.late <= on,
      from: range.early,
    })
  if (plan.sown) steps.push({ what: "Sown", when: showDay(plan.sown, on), why: null, seen: true, from: plan.sown })
  else if (plan.sow)
    steps.push({
      what: missed(plan, on) ? "Sow (its time is over)" : "Sow",
      when: showRange(plan.sow.from, plan.sow.by, on),
      why: plan.sow.why,
      seen: false,
      from: plan.sow.from,
    })
  if (missed(plan, on)) return steps
  for (const each of plan.species) {
    const name = capital(speciesName(handbook, each.id, ids))
    const past = plan.wasCut?.on ?? null
    if (each.gone?.how === "not-up") {
      steps.push({
        what: `${name}: did not come up`,
        when: showDay(each.gone.on, on),
        why: null,
        seen: true,
        from: each.gone.on,
      })
      continue
    }
    add(`${name}: seedlings`, each.emergence)
    if (each.gone) {
      steps.push({
        what: `${name}: killed by frost`,
        when: showDay(each.gone.on, on),
        why: null,
        seen: true,
        from: each.gone.on,
      })
      continue
    }
    if (each.heading && (!past || each.heading.early <= past)) add(`${name}: heading`, each.heading)
    if (each.firstFlower && (!past || each.firstFlower.early <= past)) add(`${name}: first flower`, each.firstFlower)
    if (each.viableSeed && !past) add(`${name}: first live seed`, each.viableSeed)
  }
  if (plan.wasCut)
    steps.push({ what: "Cut", when: showDay(plan.wasCut.on, on), why: null, seen: true, from: plan.wasCut.on })
  if (plan.cut)
    steps.push({
      what: plan.cut.ordinal > 1 ? "Cut again" : "Cut",
      when: `${showRange(plan.cut.from, plan.cut.by, on)}, best ${showDay(plan.cut.best, on)}`,
      why: plan.cut.why,
      seen: false,
      from: plan.cut.from,
    })
  else if (plan.noCut && !plan.wasCut)
    steps.push({ what: "Cut", when: "none needed", why: plan.noCut, seen: false, from: "9999-12-31" as Day })
  if (plan.rest && plan.state !== "planted") {
    const why = plan.next?.why ?? plan.rest.why
    const ready = plan.next?.ready ?? plan.rest.transplants
    const crop = plan.next ? `ready for ${cropName(handbook, plan.next.crop)}` : "ready for transplants"
    steps.push({ what: `Rest over, ${crop}`, when: showAbout(ready, on), why, seen: false, from: ready.early })
  }
  if (plan.state === "planted" && plan.endedOn)
    steps.push({ what: "Planted", when: showDay(plan.endedOn, on), why: null, seen: true, from: plan.endedOn })
  return steps
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
      return plan.cut ? cutCaption(plan.cut, on) : plan.noCut ? "no cut needed" : stateWord(plan.state)
  }
}

function cutCaption(cut: { from: Day; by: Day }, on: Day): string {
  return cut.by < on ? `cut overdue since ${showDay(cut.by, on)}` : `cut ${showRange(cut.from, cut.by, on)}`
}

function sentenceOf(name: string, sowings: SowingRow[], on: Day): string {
  if (sowings.length === 0) return `${name}: no cover now.`
  return sowings
    .map((row) => {
      const { plan } = row
      const parts = [`${name}, ${row.cover}: ${row.state}${plan.sown ? `, sown ${showDay(plan.sown, on)}` : ""}.`]
      // What is not sown yet has nothing nearer to tell than its sowing.
      if (plan.sown === null && missed(plan, on))
        return `${parts.join(" ")} The time to sow it was over on ${showDay(plan.sow?.by ?? on, on)}.`
      if (plan.sown === null)
        return [...parts, plan.sow ? `Sow ${showRange(plan.sow.from, plan.sow.by, on)}.` : ""].join(" ").trim()
      const flower = flowering(plan)?.firstFlower
      const before = ["sown", "up", "growing"].includes(plan.state)
      if (flower && before && flower.early !== flower.late)
        parts.push(`First flowers may come ${showAnyDay(flower, on)}.`)
      if (plan.wasCut) parts.push(`Cut ${showDay(plan.wasCut.on, on)}.`)
      if (plan.cut)
        parts.push(
          `${plan.cut.ordinal > 1 ? "Cut again" : "Cut"} ${showRange(plan.cut.from, plan.cut.by, on)}, best ${showDay(plan.cut.best, on)}.`,
        )
      const ready = plan.next?.ready ?? plan.rest?.transplants
      if (ready && plan.state !== "planted" && plan.state !== "ready") parts.push(`Rest until ${showAbout(ready, on)}.`)
      return parts.join(" ")
    })
    .join(" ")
}
