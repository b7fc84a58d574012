import { indexIn } from "../agronomy/weather-course.ts"
import { addDays, type Day, dayNumber, daysBetween, earlier, later, weekday } from "../values/day.ts"
import type { Range } from "../values/range.ts"
import type { CutWindow } from "./bed-plan.ts"
import { type KilledFrom, killedFrom, podsFrom, seedLimit } from "./member-stages.ts"
import type { Setting } from "./setting.ts"
import { factsOf, type Member, type Stand, upOn } from "./stand.ts"
import { dayWords, sentence, speciesWord, speciesWords } from "./words.ts"

/** What a day of cutting would lead to: asked for every day that may be the best one. */
export type Outlook = {
  /** When the bed would be ready for the crop wanted, if cut on a day; null where nothing is wanted. */
  readyIfCut(on: Day): Range | null
  wanted: Day | null
  /** The crop wanted, in words. */
  crop: string
  /** How hungry the crop would find the bed if it were cut on a day: 0 not at all. */
  hunger(on: Day): number
}

type Limits = {
  from: Day
  by: Day
  setBy: CutWindow["setBy"]
  member: Member
  rests: "seed" | "first-flower" | "second" | "none"
}

/**
 * The window in which a stand is to be cut: from when a cut kills every member that a cut can kill, to the day before the
 * first member may carry live seed, or before the crop wanted would come too late. `standing` are the members to be cut.
 */
export function cutWindow(
  stand: Stand,
  standing: readonly Member[],
  outlook: Outlook,
  setting: Setting,
): CutWindow | null {
  if (standing.length === 0) return null
  const limits = limitsOf(standing, setting)
  const next = lastCutForCrop(limits, outlook, setting)
  const main = standing.reduce((a, b) => (b.share > a.share ? b : a))
  const by = next ?? limits.by
  const setBy = next === null ? limits.setBy : { species: main.species.id, because: "next-crop" as const }
  const from = earlier(limits.from, by)
  const best = bestDay(stand, standing, from, by, outlook, setting)
  const survivors = standing.filter((member) => survives(member, best, setting)).map((member) => member.species.id)
  return {
    from,
    best,
    by,
    setBy,
    why: whyWindow(standing, limits, next, outlook, setting),
    ordinal: cutDays(stand).length + 1,
    survivors,
    carryOff: tooRipe(standing, setting.on > limits.by ? setting.on : best, limits.by, setting),
  }
}

/** The days on which anything of a stand was cut. */
function cutDays(stand: Stand): Day[] {
  return [...new Set(factsOf(stand, "cut").map((fact) => fact.on))]
}

/** The days that the plants themselves set. */
function limitsOf(standing: readonly Member[], setting: Setting): Limits {
  const { cutting } = setting
  const main = standing.reduce((a, b) => (b.share > a.share ? b : a))
  const back = standing.filter((member) => member.regrownOn !== null)
  const seeds = standing
    .filter((member) => member.regrownOn === null)
    .flatMap((member) => {
      const limit = seedLimit(member, cutting)
      return limit ? [{ member, ...limit }] : []
    })
    .sort((a, b) => (a.by < b.by ? -1 : a.by > b.by ? 1 : 0))
  const first = seeds[0]
  if (back.length > 0) {
    const seen = back.reduce((day, member) => later(day, member.regrownOn!), back[0]!.regrownOn!)
    const by = addDays(seen, cutting.secondCut.by_days)
    if (!first || by <= first.by) {
      const setBy = { species: back[0]!.species.id, because: "regrowth" as const }
      return { from: seen, by, setBy, member: back[0]!, rests: "second" }
    }
  }
  const from = killFrom(standing, setting)
  if (!first) {
    const start = later(from, addDays(upOn(main), cutting.noBloomFrom_days.value))
    const by = addDays(start, cutting.noBloomWindow_days.value)
    return { from: start, by, setBy: { species: main.species.id, because: "regrowth" }, member: main, rests: "none" }
  }
  const setBy = { species: first.member.species.id, because: "seed" as const }
  // Where seed may come before a cut kills, the last week before seed is the time, and regrowth is looked for.
  const start = from <= addDays(first.by, -3) ? from : addDays(first.by, -cutting.leastWindow_days.value)
  return { from: earlier(start, first.by), by: first.by, setBy, member: first.member, rests: first.rests }
}

/** From when one cut kills all that one cut can kill; where none can be killed so, from when the cut is worth its work. */
function killFrom(standing: readonly Member[], setting: Setting): Day {
  let from: Day | null = null
  let useful: Day | null = null
  for (const member of standing) {
    const kill = killedFrom(member, setting.cutting)
    const flower = member.stages.firstFlower
    const worth = addDays(upOn(member), setting.cutting.usefulFrom_days.value)
    const bud = flower ? addDays(flower.likely, -setting.cutting.budBeforeFlower_days.value) : worth
    if (kill.is === "stage") from = from ? later(from, kill.likely) : kill.likely
    else useful = useful ? later(useful, later(worth, bud)) : later(worth, bud)
  }
  return from ?? (useful as Day)
}

/** The last day on which a cut still makes the bed ready for the crop in time; null where none does or seed comes first. */
function lastCutForCrop(limits: Limits, outlook: Outlook, setting: Setting): Day | null {
  if (outlook.wanted === null) return null
  const start = later(limits.from, setting.on)
  for (let d = limits.by; d >= start; d = addDays(d, -1)) {
    const ready = outlook.readyIfCut(d)
    if (ready && ready.likely <= outlook.wanted) return d < limits.by ? d : null
  }
  return null
}

/** The day that has least against it: what would regrow, seed, a late or hungry bed, rain, days the gardener does not use. */
function bestDay(
  stand: Stand,
  standing: readonly Member[],
  from: Day,
  by: Day,
  outlook: Outlook,
  setting: Setting,
): Day {
  const start = later(from, setting.on)
  if (start >= by) return by
  const kills = standing.map((member) => killedFrom(member, setting.cutting))
  const usual = usualWeekdays(stand)
  let best = by
  let least = Number.POSITIVE_INFINITY
  for (let d = start; d <= by; d = addDays(d, 1)) {
    const cost = costOf(d, from, by, kills, usual, outlook, setting)
    if (cost < least - 1e-9) {
      least = cost
      best = d
    }
  }
  return best
}

function costOf(
  d: Day,
  from: Day,
  by: Day,
  kills: readonly KilledFrom[],
  usual: readonly number[],
  outlook: Outlook,
  setting: Setting,
): number {
  const { weights } = setting.cutting
  const regrow = Math.max(0, ...kills.map((kill) => stillRegrows(kill, d)))
  const near = Math.max(0, weights.seedNear_days - daysBetween(d, by)) / weights.seedNear_days
  const ready = outlook.wanted === null ? null : outlook.readyIfCut(d)
  const late = ready && outlook.wanted ? Math.max(0, daysBetween(outlook.wanted, ready.likely)) : 0
  return (
    weights.regrowth * regrow +
    weights.seed * near * near +
    weights.latePerDay * late +
    weights.hunger * outlook.hunger(d) +
    (rainTold(d, setting) ? weights.wet : 0) +
    (usual.length > 0 && !usual.includes(weekday(d)) ? weights.unusualDay : 0) +
    weights.waiting * daysBetween(from, d)
  )
}

/** The chance that a cut on a day does not kill: from 1 before the early end of the stage to 0 as far beyond its likely day. */
function stillRegrows(kill: KilledFrom, d: Day): number {
  if (kill.is !== "stage") return 0
  const half = Math.max(1, daysBetween(kill.early, kill.likely))
  return Math.min(1, Math.max(0, (dayNumber(kill.likely) + half - dayNumber(d)) / (2 * half)))
}

function rainTold(d: Day, setting: Setting): boolean {
  const i = indexIn(setting.course, d)
  return setting.course.known[i] === 1 && setting.course.rain_mm[i]! >= setting.watering.rainCounts_mm.value
}

/** Weekdays on which this bed was cut before, where there were two cuts or more. */
function usualWeekdays(stand: Stand): number[] {
  return stand.usualWeekdays.length >= 2 ? [...new Set(stand.usualWeekdays)] : []
}

/** Will a member come back after a cut on a day, as far as it can be told? */
export function survives(member: Member, on: Day, setting: Setting): boolean {
  const kill = killedFrom(member, setting.cutting)
  if (kill.is === "never") return true
  return kill.is === "stage" && member.regrownOn === null && on < kill.likely
}

/** May a cut on a day lay down pods that ripen live seed? */
function tooRipe(standing: readonly Member[], on: Day, limit: Day, setting: Setting): boolean {
  return standing.some((member) => {
    const podded = member.seen.some((one) => one.what === "seed" || one.what === "seed-drop")
    if (podded) return true
    const pods = podsFrom(member, setting.cutting)
    return pods !== null && on > limit && on >= pods
  })
}

function whyWindow(
  standing: readonly Member[],
  limits: Limits,
  next: Day | null,
  outlook: Outlook,
  setting: Setting,
): string {
  const { handbook } = setting
  const name = speciesWord(handbook, limits.member.species.id)
  if (next !== null)
    return `Cut after ${dayWords(next)}, the bed would not be ready for ${outlook.crop} by ${dayWords(outlook.wanted as Day)}.`
  if (limits.rests === "second")
    return `The ${name} came back green on ${dayWords(limits.from)}, and regrown stems flower soon: cut again by ${dayWords(limits.by)}.`
  if (limits.rests === "none")
    return `No flower is expected of the ${name}, so no seed sets a limit; expect regrowth after a cut unless the bed is dug or covered.`
  const last =
    limits.rests === "seed"
      ? `the ${name} may carry live seed after ${dayWords(limits.by)}`
      : `the ${name} should flower by about ${dayWords(limits.by)}. How soon live seed follows is not known`
  const slow = standing.filter((member) => {
    const kill = killedFrom(member, setting.cutting)
    return kill.is === "never" || (kill.is === "stage" && kill.likely > limits.by)
  })
  if (slow.length > 0) {
    const what = speciesWords(
      handbook,
      slow.map((member) => member.species.id),
    )
    return `${sentence(last)}. That is before one cut kills the ${what}, so expect some regrowth.`
  }
  const killed = standing.find((member) => {
    const kill = killedFrom(member, setting.cutting)
    return kill.is === "stage" && kill.likely === limits.from
  })
  if (!killed) return `${sentence(last)}.`
  return `One cut kills the ${speciesWord(handbook, killed.species.id)} from about ${dayWords(limits.from)}, and ${last}.`
}
