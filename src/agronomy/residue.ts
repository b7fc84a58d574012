import type { Placement, ResidueTable } from "./residue-table.ts"

/** Where residue lies: worked into the soil, or on top of it. */
export type Lies = "turned-in" | "surface"

/**
 * Speed of decay at a soil temperature in C, 1 at the reference of 15 C and 0 at or below freezing.
 * Source: residue module of STICS 8 (parameters FTEMr, FTEMra, TREFr), in `shared/tables/residue-decay.json`.
 */
export function temperatureFactor(soil_c: number, table: ResidueTable): number {
  if (soil_c <= 0) return 0
  const { ceiling, steepness_per_c, reference_c } = table.temperature
  return ceiling / (1 + (ceiling - 1) * Math.exp(steepness_per_c * (reference_c - soil_c)))
}

/** Speed of decay at a soil water content given as a share of field capacity: 0 at the dry end, 1 when moist. Source: STICS 8 (hminm, hoptm). */
export function moistureFactor(waterShare: number, table: ResidueTable): number {
  const { dry_share, moist_share } = table.moisture
  return Math.min(1, Math.max(0, (waterShare - dry_share) / (moist_share - dry_share)))
}

/**
 * Decay rate of residue carbon per decay-day, from its C:N. `pieces` is the speed of its pieces, 1 for finely ground
 * residue. Source: STICS 8; Nicolardot et al. 2001; Justes et al. 2009.
 */
export function decayRate(cn: number, lies: Lies, pieces: number, table: ResidueTable): number {
  const { rate } = placementOf(lies, table)
  return (rate.base + rate.perNitrogen / cn) * (lies === "surface" ? 1 : pieces)
}

/** Under a tarp residue decays at the mean of the slow turned-in and the surface rate (our own, for want of a source). */
export function tarpRate(cn: number, table: ResidueTable): number {
  return (decayRate(cn, "turned-in", table.pieces.late, table) + decayRate(cn, "surface", 1, table)) / 2
}

/** Share of the residue's carbon that is still there after some decay-days. */
export function carbonLeft(rate: number, decayDays: number): number {
  return Math.exp(-rate * decayDays)
}

/** Decay-days until only a share of the carbon is left. */
export function decayDaysUntil(rate: number, share: number): number {
  return -Math.log(share) / rate
}

/** Where residue carbon has gone after some decay-days, each per gram of carbon put down. */
export type CarbonFate = { residue: number; microbes: number; humus: number; respired: number }

/** Closed form of the residue module with one residue, one microbe and one humus pool (algebra our own, held against stepwise integration). */
export function carbonFate(cn: number, lies: Lies, pieces: number, decayDays: number, table: ResidueTable): CarbonFate {
  const part = placementOf(lies, table)
  const k = decayRate(cn, lies, pieces, table)
  const kb = part.microbeDecay
  const grown = table.growthYield.value
  const residue = carbonLeft(k, decayDays)
  const microbes =
    Math.abs(k - kb) < 1e-6
      ? grown * k * decayDays * Math.exp(-k * decayDays)
      : ((grown * k) / (k - kb)) * (Math.exp(-kb * decayDays) - residue)
  const humus = humusShare(cn, part) * (grown * (1 - residue) - microbes)
  return { residue, microbes, humus, respired: 1 - residue - microbes - humus }
}

/** Nitrogen set free (negative: tied up) after some decay-days, in g per g of residue carbon. Source: as `carbonFate`. */
export function nitrogenFreed(cn: number, lies: Lies, pieces: number, decayDays: number, table: ResidueTable): number {
  const part = placementOf(lies, table)
  const fate = carbonFate(cn, lies, pieces, decayDays, table)
  return (1 - fate.residue) / cn - fate.microbes / microbesCn(cn, part) - table.humusNitrogen.value * fate.humus
}

/** The deepest tie-up of nitrogen: how much (g per g of residue carbon, 0 or less) and after how many decay-days. */
export function deepestTieUp(cn: number, pieces: number, table: ResidueTable): { nitrogen: number; decayDays: number } {
  let deepest = { nitrogen: 0, decayDays: 0 }
  for (let decayDays = 1; decayDays <= 120; decayDays += 1) {
    const nitrogen = nitrogenFreed(cn, "turned-in", pieces, decayDays, table)
    if (nitrogen < deepest.nitrogen) deepest = { nitrogen, decayDays }
  }
  return deepest
}

/** Part of a mixture: dry matter in any unit, its C:N, and its carbon share where the parts differ in it. */
export type Part = { dry: number; cn: number; carbon?: number }

/** C:N of a mixture: all carbon over all nitrogen, never the mean of the ratios. Source: definition. */
export function mixedCn(parts: readonly Part[]): number {
  let carbon = 0
  let nitrogen = 0
  for (const part of parts) {
    const held = part.dry * (part.carbon ?? 1)
    carbon += held
    nitrogen += held / part.cn
  }
  return carbon / nitrogen
}

function placementOf(lies: Lies, table: ResidueTable): Placement {
  return lies === "surface" ? table.surface : table.turnedIn
}

function microbesCn(cn: number, part: Placement): number {
  return Math.max(part.microbes.least, part.microbes.base + part.microbes.perNitrogen / cn)
}

function humusShare(cn: number, part: Placement): number {
  return 1 - (part.humus.ceiling * cn) / (part.humus.half + cn)
}
