import { z } from "zod"
import type { SpeciesShare } from "../garden/garden.ts"
import { middle } from "../handbook/figure.ts"
import type { Handbook } from "../handbook/handbook.ts"
import { cited, tableReader } from "./table.ts"

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

/** Seed of one species for a bed: pure live seed, and what to weigh out of a usual bag. */
export type SeedAmount = {
  id: string
  g: number
  bag_g: number
  seeds_per_m2: number | null
  inoculant: string | null
}

const seedTableSchema = z.strictObject({
  about: z.string(),
  usualBag: z.strictObject({ purity_percent: z.number(), germination_percent: z.number(), ...cited }),
})

/** `shared/tables/seed.json`. */
const seedTable = tableReader("seed", seedTableSchema)

/** Seed for a bed, by species of the mix, at the middle of the broadcast rates. */
export function seedForBed(mix: readonly SpeciesShare[], area_m2: number, handbook: Handbook): SeedAmount[] {
  const parts = mix.flatMap(({ id, share }) => {
    const found = handbook.species.get(id)
    return found ? [{ found, share, full_g_per_m2: middle(found.seeding.broadcast_g_per_m2) }] : []
  })
  if (parts.length === 0) return []
  const grams = partByWeight(
    mixRate(parts) * area_m2,
    parts.map((part) => part.share),
  )
  return parts.map(({ found }, i) => {
    const g = grams[i]!
    const count = found.seeding.seeds_per_g
    return {
      id: found.id,
      g,
      bag_g: bulkSeed(g, seedTable(handbook).usualBag),
      seeds_per_m2: count ? seedsPerM2(g / area_m2, middle(count)) : null,
      inoculant: found.inoculant ?? null,
    }
  })
}
