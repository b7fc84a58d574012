import { type RestDays, restDays, type Waits, waitsFor } from "../agronomy/breakdown.ts"
import type { ResidueStage } from "../agronomy/nitrogen.ts"
import { mixedCn } from "../agronomy/residue.ts"
import { ENDS, type Ground, soilOn, warmFrom } from "../agronomy/soil-warmth.ts"
import type { ThreeEnds } from "../agronomy/table.ts"
import type { Then } from "../garden/garden.ts"
import { addDays, type Day, later } from "../values/day.ts"
import { type Range, rangeOf, seenOn } from "../values/range.ts"
import type { RestPlan } from "./bed-plan.ts"
import { cnOf, laterStage, residueStage } from "./member-stages.ts"
import type { Setting } from "./setting.ts"
import { lastSeen, type Member, type Stand } from "./stand.ts"
import { workableFrom } from "./winter.ts"
import { dayWords, sentence, speciesWords, warmth } from "./words.ts"

/** A rest with what it was reckoned from. */
export type Rest = RestPlan & {
  from: Day
  then: Then
  cn: ThreeEnds
  stage: ResidueStage
  waits: Waits | null
  winterKilled: boolean
}

const THEN_WORDS = {
  leave: "left on top",
  "carry-off": "carried off",
  "turn-in": "turned in",
  tarp: "under a tarp",
} as const satisfies Record<Then, string>

/** The rest after a cut of these members on a day. */
export function restAfterCut(
  members: readonly Member[],
  cutOn: Day,
  then: Then,
  ground: Ground,
  setting: Setting,
): Rest {
  const { cn, stage } = residueOf(members, cutOn, setting)
  const waits = waitsFor(shares(members), then, setting.waits)
  const days = restDays({ killedOn: cutOn, then, cn, waits, ground }, setting.residue)
  const why = whyRest(members, cutOn, then, Math.round(cn.likely), stage, ground, setting)
  return { ...ranges(days, cutOn, why), why, from: cutOn, then, cn, stage, waits, winterKilled: false }
}

/**
 * The rest of members that frost killed. Killed while the soil is still warm they rot as if cut and left; else no plant waits
 * once the soil can be worked in spring, and small seed a little.
 */
export function restAfterWinter(members: readonly Member[], killedOn: Day, ground: Ground, setting: Setting): Rest {
  const asCut = restAfterCut(members, killedOn, "leave", ground, setting)
  const workable = setting.residue.soil.workable_c
  if (soilOn(ground, asCut.transplants.likely) >= workable)
    return {
      ...asCut,
      why: `${sentence(names(members, setting))} killed by frost about ${dayWords(killedOn)} will rot as if cut and left.`,
    }
  const { cn, stage } = asCut
  const spring = workableFrom(ground, killedOn, setting)
  const early = later(killedOn, warmFrom(ground, spring, workable, "early") ?? spring)
  const late = warmFrom(ground, spring, workable, "late") ?? spring
  const { transplants, smallSeed } = setting.waits.winterKilled
  const why = `${sentence(names(members, setting))} killed by frost about ${dayWords(killedOn)} will lie soft by spring. Plants can go in once the soil can be worked, about ${dayWords(spring)}.`
  const range = (days: readonly [number, number, number]): Range =>
    rangeOf(addDays(early, days[0]), addDays(spring, days[1]), addDays(later(late, spring), days[2]), why)
  return {
    transplants: range(transplants),
    smallSeed: range(smallSeed),
    why,
    from: killedOn,
    then: "leave",
    cn,
    stage,
    waits: null,
    winterKilled: true,
  }
}

/** A rest that the gardener ended by finding the stems broken down. */
export function endedByReport(rest: Rest, stand: Stand): Rest {
  const seen = lastSeen(stand, "broken-down")
  if (seen === null || seen < rest.from) return rest
  const why = `You found the stems broken down on ${dayWords(seen)}.`
  return { ...rest, transplants: seenOn(seen, why), smallSeed: seenOn(seen, why), why }
}

/** The later of two rests in every end: a bed is ready when all of it is. */
export function laterRest(a: Rest, b: Rest): Rest {
  const most = (want: "transplants" | "smallSeed"): Range => {
    const main = a[want].likely >= b[want].likely ? a : b
    return rangeOf(
      later(a[want].early, b[want].early),
      later(a[want].likely, b[want].likely),
      later(a[want].late, b[want].late),
      main.why,
    )
  }
  const main = a.transplants.likely >= b.transplants.likely ? a : b
  return { ...main, transplants: most("transplants"), smallSeed: most("smallSeed") }
}

/** C:N of the mixed tops and the stage that they are spoken of in. Seed shares stand for shares of the dry matter. */
export function residueOf(
  members: readonly Member[],
  on: Day,
  setting: Setting,
): { cn: ThreeEnds; stage: ResidueStage } {
  const parts = members.map((member) => {
    const stage = residueStage(member, on, setting.cutting)
    return { dry: member.share, stage, cn: cnOf(member, stage) }
  })
  const [early, likely, late] = ENDS.map((end) => mixedCn(parts.map((part) => ({ dry: part.dry, cn: part.cn[end] }))))
  return {
    cn: { early: early!, likely: likely!, late: late! },
    stage: parts.reduce<ResidueStage>((stage, part) => laterStage(stage, part.stage), "vegetative"),
  }
}

/** The shares of some members, adding up to 1. */
export function shares(members: readonly Member[]): { species: Member["species"]; share: number }[] {
  const all = members.reduce((sum, member) => sum + member.share, 0)
  return members.map((member) => ({ species: member.species, share: member.share / all }))
}

function ranges(days: RestDays, from: Day, why: string): { transplants: Range; smallSeed: Range } {
  const range = (ends: ThreeEnds) =>
    rangeOf(addDays(from, ends.early), addDays(from, ends.likely), addDays(from, ends.late), why)
  return { transplants: range(days.transplants), smallSeed: range(days.smallSeed) }
}

const STAGE_WORDS = {
  vegetative: "cut young",
  bud: "cut in bud",
  flowering: "cut in flower",
  mature: "cut as straw",
} as const satisfies Record<ResidueStage, string>

function whyRest(
  members: readonly Member[],
  cutOn: Day,
  then: Then,
  cn: number,
  stage: ResidueStage,
  ground: Ground,
  setting: Setting,
): string {
  const soil = warmth(soilOn(ground, addDays(cutOn, 10)), setting.garden.place.units)
  return `${sentence(names(members, setting))} ${STAGE_WORDS[stage]} (C:N about ${cn}), ${THEN_WORDS[then]}, in soil of about ${soil}.`
}

function names(members: readonly Member[], setting: Setting): string {
  return speciesWords(
    setting.handbook,
    members.map((member) => member.species.id),
  )
}
