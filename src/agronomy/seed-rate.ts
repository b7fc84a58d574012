import type { SpeciesShare } from "../garden/garden.ts"
import { middle } from "../handbook/figure.ts"
import type { Species } from "../handbook/species.ts"

/** Exact by definition: the international pound, foot and acre. */
const G_PER_LB = 453.59237
const G_PER_OZ = G_PER_LB / 16
const M2_PER_SQFT = 0.3048 ** 2
const SQFT_PER_ACRE = 43_560

/** Grams per m2 of a rate in pounds per acre. */
export function fromLbPerAcre(lb: number): number {
  return (lb * G_PER_LB) / (SQFT_PER_ACRE * M2_PER_SQFT)
}

/** Grams per m2 of a rate in pounds per 1,000 square feet. */
export function fromLbPer1000SqFt(lb: number): number {
  return (lb * G_PER_LB) / (1000 * M2_PER_SQFT)
}

/** Grams as avoirdupois ounces. */
export function ounces(g: number): number {
  return g / G_PER_OZ
}

/** What the label on a bag of seed says, in percent. Hard or dormant seed counts as alive. */
export type SeedLabel = { purity_percent: number; germination_percent: number; hard_percent?: number }

/** Share of a bag that is pure live seed, 0 to 1: purity times (germination and hard seed). */
export function pureLiveSeed(label: SeedLabel): number {
  return (label.purity_percent / 100) * ((label.germination_percent + (label.hard_percent ?? 0)) / 100)
}

/** Seed from the bag that holds this much pure live seed. */
export function bulkSeed(pureLive_g: number, label: SeedLabel): number {
  return pureLive_g / pureLiveSeed(label)
}

/** Seeds per m2 of a rate in g per m2. */
export function seedsPerM2(g_per_m2: number, seedsPerG: number): number {
  return g_per_m2 * seedsPerG
}

/** Each species at a share of its own full rate (shares may add up to more than 1), g for an area. */
export function seedByRateShares(
  parts: readonly { full_g_per_m2: number; share: number }[],
  area_m2: number,
): number[] {
  return parts.map((part) => part.full_g_per_m2 * part.share * area_m2)
}

/** A weight of mixed seed parted by shares of weight. */
export function partByWeight(total_g: number, shares: readonly number[]): number[] {
  const all = shares.reduce((sum, share) => sum + share, 0)
  return shares.map((share) => (total_g * share) / all)
}

/**
 * Weight of a mix in g per m2 whose shares are of seed weight: so much that the parts of the full rates add up to one full
 * stand. Common practice (proportional replacement); no source.
 */
export function mixRate(parts: readonly { full_g_per_m2: number; share: number }[]): number {
  const all = parts.reduce((sum, part) => sum + part.share, 0)
  const stand = parts.reduce((sum, part) => sum + part.share / all / part.full_g_per_m2, 0)
  return 1 / stand
}

/** Seed of one species for a bed. */
export type SeedAmount = { id: string; g: number; inoculant: string | null }

/** Pure live seed for a bed, by species of the mix, at the middle of the broadcast rates. */
export function seedForBed(
  mix: readonly SpeciesShare[],
  area_m2: number,
  species: ReadonlyMap<string, Species>,
): SeedAmount[] {
  const parts = mix.flatMap(({ id, share }) => {
    const found = species.get(id)
    return found ? [{ found, share, full_g_per_m2: middle(found.seeding.broadcast_g_per_m2) }] : []
  })
  if (parts.length === 0) return []
  const grams = partByWeight(
    mixRate(parts) * area_m2,
    parts.map((part) => part.share),
  )
  return parts.map((part, i) => ({ id: part.found.id, g: grams[i]!, inoculant: part.found.inoculant ?? null }))
}
