/** Wrong links that one address may try in a minute before it is told to wait. */
const MOST_MISSES = 20
const WINDOW_MS = 60_000
/** Addresses that are remembered at most; past that the oldest is forgotten, so that memory stays bounded. */
const MOST_ADDRESSES = 10_000

/**
 * Counts wrong links by socket address. Forwarded addresses are not believed: anyone can write them. The count keeps
 * guessers from costing us work; what keeps them out is the signature, so a right link is served whatever the count.
 */
export function countMisses(): { miss(address: string, now: number): "miss" | "too many" } {
  const seen = new Map<string, { since: number; count: number }>()
  return {
    miss(address, now) {
      const known = seen.get(address)
      const current = known && now - known.since < WINDOW_MS ? known : { since: now, count: 0 }
      current.count += 1
      seen.delete(address)
      seen.set(address, current)
      if (seen.size > MOST_ADDRESSES) seen.delete(seen.keys().next().value as string)
      return current.count > MOST_MISSES ? "too many" : "miss"
    },
  }
}
