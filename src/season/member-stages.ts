import { RESIDUE_STAGES, type ResidueStage } from "../agronomy/nitrogen.ts"
import type { ThreeEnds } from "../agronomy/table.ts"
import { type Figure, middle } from "../handbook/figure.ts"
import { addDays, type Day, daysBetween, earlier, later } from "../values/day.ts"
import type { Range } from "../values/range.ts"
import type { CuttingTable } from "./cutting-table.ts"
import { type Member, upOn } from "./stand.ts"

/** The day from which one cut kills a member: reckoned, or `never`. `any`: it does not come back at any stage. */
export type KilledFrom =
  | { is: "never" }
  | { is: "any"; useful: Day }
  | { is: "stage"; early: Day; likely: Day; stage: string }

/** When one cut kills. Source: the species' `cut` figures. */
export function killedFrom(member: Member, table: CuttingTable): KilledFrom {
  const { cut } = member.species
  const { stages } = member
  if (cut.killedFrom === "never") return { is: "never" }
  const useful = addDays(upOn(member), table.usefulFrom_days.value)
  if (cut.killedFrom === "any") return { is: "any", useful }
  const flower = stages.firstFlower
  if (cut.killedFrom === "heading" && stages.heading)
    return { is: "stage", early: stages.heading.early, likely: stages.heading.likely, stage: "heading" }
  // Without a flower to come there is no stage that kills: what regrows must be dealt with otherwise.
  if (!flower) return { is: "never" }
  const after = cut.daysAfterFirstFlower
  const [first, last] =
    cut.killedFrom === "bud"
      ? [-table.budBeforeFlower_days.value, -table.budBeforeFlower_days.value]
      : cut.killedFrom === "first-flower" || cut.killedFrom === "heading" || !after
        ? [0, 0]
        : [after.low, middle(after)]
  const full = member.seen.find((one) => one.what === "full-bloom")
  if (full && cut.killedFrom === "full-bloom")
    return { is: "stage", early: full.on, likely: full.on, stage: "full bloom" }
  return {
    is: "stage",
    early: addDays(flower.early, Math.round(first)),
    likely: addDays(flower.likely, Math.round(last)),
    stage: STAGE_WORDS[cut.killedFrom],
  }
}

const STAGE_WORDS = {
  bud: "bud",
  heading: "heading",
  "first-flower": "flower",
  "full-bloom": "full bloom",
  milk: "milk in the grain",
  pods: "first pods",
} as const

/** The last safe day before live seed, and what it rests on. */
export type SeedLimit = { by: Day; rests: "seed" | "first-flower" }

/**
 * The day before a member's first seed can grow with more than the stated chance. Where no cut would kill it by then, the
 * limit moves towards that day, up to a higher stated chance. Where no read source tells how long first flower is before
 * live seed, the limit is first flower and the next free day. Null where no seed is to be expected.
 */
export function seedLimit(member: Member, table: CuttingTable): SeedLimit | null {
  const { firstFlower, viableSeed } = member.stages
  const grade = member.species.viableSeed_days.grade
  if (!firstFlower) return null
  if (viableSeed === null || grade === "none" || grade === "memory")
    return { by: addDays(firstFlower.likely, table.actOnFirstFlower_days.value), rests: "first-flower" }
  const safe = addDays(dayOfChance(viableSeed, table.seedChance.value), -1)
  const kill = killedFrom(member, table)
  if (kill.is !== "stage" || kill.likely < safe) return { by: safe, rests: "seed" }
  const risked = addDays(dayOfChance(viableSeed, table.seedChanceAtMost.value), -1)
  return { by: later(safe, earlier(risked, addDays(kill.likely, 3))), rests: "seed" }
}

/** The day by which a thing has happened with a chance between 0.1 and 0.5, by its range. */
export function dayOfChance(range: Range, chance: number): Day {
  const along = Math.min(1, Math.max(0, (chance - 0.1) / 0.4))
  return addDays(range.early, Math.floor(along * daysBetween(range.early, range.likely) + 1e-9))
}

/** The day from which green pods or grain may stand: cut then, the tops leave the bed. */
export function podsFrom(member: Member, table: CuttingTable): Day | null {
  const seen = member.seen.find((one) => one.what === "seed" || one.what === "seed-drop")
  if (seen) return seen.on
  const { firstFlower, viableSeed } = member.stages
  if (!firstFlower || !viableSeed) return null
  const days = daysBetween(firstFlower.early, viableSeed.early)
  return addDays(firstFlower.early, Math.round(days * table.podsAtShareOfSeed.value))
}

/** How far a member's residue has come on a day. */
export function residueStage(member: Member, on: Day, table: CuttingTable): ResidueStage {
  const { heading, firstFlower, viableSeed } = member.stages
  if (member.secondGrowth !== null && on >= member.secondGrowth) {
    const again = addDays(member.secondGrowth, table.secondGrowth_days.value)
    return on < again ? "vegetative" : "flowering"
  }
  if (!firstFlower) return "vegetative"
  const over = addDays(firstFlower.likely, table.floweringLasts_days.value)
  if (viableSeed && on >= later(over, earlier(viableSeed.likely, addDays(over, 14)))) return "mature"
  if (on >= firstFlower.likely) return "flowering"
  const bud = heading
    ? addDays(heading.likely, -table.bootBeforeHeading_days.value)
    : addDays(firstFlower.likely, -table.budBeforeFlower_days.value)
  return on >= bud ? "bud" : "vegetative"
}

/**
 * C:N of a member's tops at a stage. A figure that was read is taken at its middle for all three ends; one without a
 * source is used wide: its low end for the early, its high end for the late.
 */
export function cnOf(member: Member, stage: ResidueStage): ThreeEnds {
  const figure: Figure = member.species.cn[stage]
  const likely = middle(figure)
  if (figure.grade === "read" || figure.grade === "read+judgement") return { early: likely, likely, late: likely }
  return { early: figure.low, likely, late: figure.high }
}

/** The later of two stages. */
export function laterStage(a: ResidueStage, b: ResidueStage): ResidueStage {
  return RESIDUE_STAGES.indexOf(a) >= RESIDUE_STAGES.indexOf(b) ? a : b
}
