import { openChance } from "../faults/chance.ts"

/** So many of them, drawn by a seed, in their own order. */
export function drawn<T>(all: readonly T[], size: number, seed: number): T[] {
  const places = openChance(seed)
    .shuffled([...all.keys()])
    .slice(0, size)
  return places.sort((a, b) => a - b).map((place) => all[place] as T)
}

/** Wilson's 95 % interval of a share (Wilson 1927, J Am Stat Assoc 22:209; from memory). */
export function wilson(hits: number, of: number): { low: number; high: number } {
  if (of === 0) return { low: 0, high: 1 }
  const z = 1.96
  const share = hits / of
  const middle = share + (z * z) / (2 * of)
  const reach = z * Math.sqrt((share * (1 - share)) / of + (z * z) / (4 * of * of))
  const scale = 1 + (z * z) / of
  return { low: Math.max(0, (middle - reach) / scale), high: Math.min(1, (middle + reach) / scale) }
}
