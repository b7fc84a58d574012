import type { SowingPlan, SpeciesPlan } from "../season/bed-plan.ts"
import { addDays, type Day, earlier, later } from "../values/day.ts"
import type { Range } from "../values/range.ts"

/** What a stretch of a bed's year is. The picture gives each its word, its pattern and its place. */
export const BAND_KINDS = ["sow", "seed", "growing", "flower", "cut", "rest", "ready", "planted"] as const
export type BandKind = (typeof BAND_KINDS)[number]

/** A stretch of days in a bed's row, both ends included; `likely` is drawn as a tick in it. */
export type Band = { what: BandKind; from: Day; to: Day; likely: Day | null }

const NEVER = "9999-12-31" as Day
/** From this chance on, a frost that kills is what one goes by. */
const LIKELY = 0.5

/**
 * The frost that will probably kill a species before a day (any day, where none is given), with its chance; null where it
 * will probably live, or is gone already.
 */
export function frostBefore(species: SpeciesPlan, before: Day = NEVER): { when: Range; chance: number } | null {
  const { when, chance } = species.frostKill
  return when && !species.gone && chance >= LIKELY && when.likely < before ? { when, chance } : null
}

/** The species whose first flower matters: the one that sets the cut if it flowers, else the first expected to. */
export function flowering(sowing: SowingPlan): (SpeciesPlan & { firstFlower: Range }) | null {
  const alive = sowing.species.filter((each): each is SpeciesPlan & { firstFlower: Range } => {
    if (each.firstFlower === null || frostBefore(each, each.firstFlower.likely)) return false
    return !each.gone || each.gone.on > each.firstFlower.likely
  })
  const setter = alive.find((each) => each.id === sowing.cut?.setBy.species)
  return setter ?? alive.toSorted((a, b) => (a.firstFlower.likely < b.firstFlower.likely ? -1 : 1))[0] ?? null
}

/** Until when the cover stands: cut, dead, planted over, or the last day of its cut window; null: not known. */
function standsUntil(sowing: SowingPlan): Day | null {
  if (sowing.wasCut) return sowing.wasCut.on
  if (sowing.endedOn) return sowing.endedOn
  if (sowing.species.length > 0 && sowing.species.every((each) => each.gone))
    return sowing.species.reduce((last, each) => later(last, each.gone?.on as Day), "0000-01-01" as Day)
  if (sowing.cut) return sowing.cut.by
  const frost = sowing.species.flatMap((each) => (each.frostKill.when ? [each.frostKill.when.likely] : []))
  return sowing.noCut && frost.length > 0 ? frost.reduce(later) : null
}

/** Is its cut past the limit and not made? Then it still stands, whatever the plan was. */
export function isOverdue(plan: SowingPlan, on: Day): boolean {
  return plan.cut !== null && plan.cut.by < on && ["up", "growing", "blooming"].includes(plan.state)
}

/** What a picture shows of a sowing on a day. */
export function bandsOf(plan: SowingPlan, on: Day): Band[] {
  const bands: Band[] = []
  const start = plan.sown ?? plan.planned ?? plan.sow?.from ?? null
  const until = isOverdue(plan, on) ? on : standsUntil(plan)
  if (plan.sown === null && plan.sow) bands.push({ what: "sow", from: plan.sow.from, to: sowUntil(plan), likely: null })
  // A sowing whose time has passed unreported has nothing to come: only its window is drawn.
  if (plan.sown === null && missed(plan, on)) return bands
  if (start) {
    const expected = plan.species.map((each) => each.emergence.likely).reduce(earlier, NEVER)
    // What should be up and was not seen yet is not drawn as if it were.
    const unseen = plan.state === "sown" || plan.sown === null
    const up = unseen ? later(expected, addDays(on, 1)) : expected
    const end = until ?? NEVER
    if (plan.sown && up > start)
      bands.push({ what: "seed", from: start, to: earlier(addDays(up, -1), end), likely: null })
    // On the day of its cut it stands no more.
    if (up < end)
      bands.push({ what: "growing", from: later(up, start), to: plan.wasCut ? addDays(end, -1) : end, likely: null })
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
    // The last day of a window still belongs to it.
    const from = plan.wasCut ? cutOn : addDays(cutOn, 1)
    if (ready.early > from) bands.push({ what: "rest", from, to: ready.early, likely: null })
    // A bed that has become ready stays so until it is planted: the band runs on to today.
    const to = plan.endedOn ? ready.late : later(ready.late, on)
    bands.push({ what: "ready", from: later(ready.early, cutOn), to, likely: later(ready.likely, cutOn) })
  }
  if (plan.state === "planted" && plan.endedOn)
    bands.push({ what: "planted", from: plan.endedOn, to: NEVER, likely: null })
  return bands
}

/** A later sowing moves all that follows it: its window is drawn as far as what follows from its first day leaves room. */
function sowUntil({ sow, cut }: SowingPlan): Day {
  const by = sow?.by ?? NEVER
  return cut && cut.from > (sow?.from ?? NEVER) ? earlier(by, addDays(cut.from, -1)) : by
}

/** Is a sowing still planned although its last good day has passed? */
export function missed(plan: SowingPlan, on: Day): boolean {
  return plan.sown === null && plan.sow !== null && plan.sow.by < on
}
