import type { Then } from "../garden/garden.ts"
import type { Species } from "../handbook/species.ts"
import { type Day, dayNumber } from "../values/day.ts"
import { decayDaysUntil, decayRate, type Lies, tarpRate, temperatureFactor } from "./residue.ts"
import type { ResidueTable, WaitsTable } from "./residue-table.ts"
import { ENDS, type End, type Ground } from "./soil-warmth.ts"
import type { ThreeEnds } from "./table.ts"

/** Days from the kill until a bed is ready, for plants set out (and large seed) and for small seed. */
export type RestDays = { transplants: ThreeEnds; smallSeed: ThreeEnds }

/** Least waits of a cover and a method, with what they are for. */
export type Waits = { transplants: ThreeEnds; smallSeed: ThreeEnds; group: string }

export type Breakdown = {
  killedOn: Day
  then: Then
  /** C:N of the green tops when they were killed. */
  cn: ThreeEnds
  waits: Waits
  ground: Ground
}

/** No rest is reckoned longer than this: beyond it the model knows nothing. */
const LONGEST_DAYS = 240

/**
 * How long a killed cover rests, by the residue module and the least waits: the last of rot, mulch and waits, each worked
 * for the early, the likely and the late end. Source: `shared/tables/residue-decay.json`, `rest-waits.json`.
 */
export function restDays(breakdown: Breakdown, table: ResidueTable): RestDays {
  const transplants = each((end) => transplantDays(breakdown, end, table))
  const smallSeed = each((end) => Math.max(transplants[end], smallSeedDays(breakdown, end, table)))
  return { transplants: monotone(transplants), smallSeed: monotone(smallSeed) }
}

/** The least waits for a stand of several species: the longest of its parts, each a fifth of it or more. */
export function waitsFor(parts: readonly { species: Species; share: number }[], then: Then, table: WaitsTable): Waits {
  const big = parts.filter((part) => part.share >= 0.2)
  const found = (big.length > 0 ? big : parts).map((part) => waitsOf(part.species, then, table))
  const longest = found.reduce((a, b) => (b.smallSeed.likely > a.smallSeed.likely ? b : a))
  const most = (want: "transplants" | "smallSeed") => each((end) => Math.max(...found.map((one) => one[want][end])))
  return { transplants: most("transplants"), smallSeed: most("smallSeed"), group: longest.group }
}

/** Does small seed suffer from fresh residue of this species, as from rye? */
export function isStrongAllelopath(species: Species, table: WaitsTable): boolean {
  return table.members["strong-allelopath"].includes(species.id)
}

function waitsOf(species: Species, then: Then, table: WaitsTable): Waits {
  const groups = groupsOf(species, table)
  const row = table.waits.find((wait) => groups.includes(wait.group) && wait.methods.includes(then))!
  return { transplants: ends(row.transplants), smallSeed: ends(row.smallSeed), group: row.group }
}

function groupsOf(species: Species, table: WaitsTable): string[] {
  if (table.members["strong-allelopath"].includes(species.id)) return ["strong-allelopath"]
  if (table.members.tender.includes(species.id)) return ["tender"]
  if (species.kind === "grass") return ["cereal"]
  if (species.kind === "legume") return ["legume", "any"]
  if (species.kind === "brassica") return ["brassica"]
  return ["any"]
}

function transplantDays(breakdown: Breakdown, end: End, table: ResidueTable): number {
  const { then, waits } = breakdown
  const least = waits.transplants[end]
  if (then === "turn-in") return Math.max(least, topsRot(breakdown, end, table.ready.turnedIn.transplants, table))
  const roots = rootsRot(breakdown, end, table.ready.roots.transplants, table)
  if (then === "carry-off") return Math.max(least, roots)
  if (then === "tarp") return Math.max(least, roots, table.ready.tarp_days[end], mulchSettles(breakdown, end, table))
  return Math.max(least, roots, mulchSettles(breakdown, end, table))
}

function smallSeedDays(breakdown: Breakdown, end: End, table: ResidueTable): number {
  const { then, waits } = breakdown
  const least = waits.smallSeed[end]
  if (then === "turn-in") return Math.max(least, topsRot(breakdown, end, table.ready.turnedIn.smallSeed, table))
  // Small seed cannot be sown through mulch: from here on the tops are raked off the row.
  return Math.max(least, rootsRot(breakdown, end, table.ready.roots.smallSeed, table))
}

function topsRot(breakdown: Breakdown, end: End, share: number, table: ResidueTable): number {
  return daysUntil(breakdown, end, "turned-in", rateIn(breakdown.cn[end], end, table), share, table)
}

function rootsRot(breakdown: Breakdown, end: End, share: number, table: ResidueTable): number {
  const cn = breakdown.cn[end] * table.roots.cnFactor
  return daysUntil(breakdown, end, "turned-in", rateIn(cn, end, table), share, table)
}

function mulchSettles(breakdown: Breakdown, end: End, table: ResidueTable): number {
  const cn = breakdown.cn[end]
  const rate = breakdown.then === "tarp" ? tarpRate(cn, table) : decayRate(cn, "surface", 1, table)
  const days = daysUntil(breakdown, end, "surface", rate, table.ready.mulch[end], table)
  return Math.min(days, table.ready.mulchAtMost_days[end])
}

function rateIn(cn: number, end: End, table: ResidueTable): number {
  return decayRate(cn, "turned-in", table.pieces[end], table)
}

/** Whole days until only `share` of the carbon is left, walking the ground day by day from the day after the kill. */
function daysUntil(
  breakdown: Breakdown,
  end: End,
  lies: Lies,
  rate: number,
  share: number,
  table: ResidueTable,
): number {
  const { ground, killedOn, then } = breakdown
  const need = decayDaysUntil(rate, share)
  const soil = ground.soil_c[end]
  const speed = ground.speed[end]
  const start = dayNumber(killedOn) - ground.first
  const warmer = then === "tarp" ? table.soil.underTarp_c : 0
  let sum = 0
  for (let days = 1; days < LONGEST_DAYS; days += 1) {
    const i = Math.min(soil.length - 1, Math.max(0, start + days))
    const wet = then === "tarp" ? 1 : lies === "surface" ? ground.surfaceWet[i]! : ground.soilWet[i]!
    sum += (warmer === 0 ? speed[i]! : temperatureFactor(soil[i]! + warmer, table)) * wet
    if (sum >= need - 1e-9) return days
  }
  return LONGEST_DAYS
}

function ends(days: readonly [number, number, number]): ThreeEnds {
  return { early: days[0], likely: days[1], late: days[2] }
}

function each(make: (end: End) => number): ThreeEnds {
  const [early, likely, late] = ENDS.map(make) as [number, number, number]
  return { early, likely, late }
}

function monotone(days: ThreeEnds): ThreeEnds {
  const likely = Math.max(days.early, days.likely)
  return { early: days.early, likely, late: Math.max(likely, days.late) }
}
