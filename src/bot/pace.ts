import type { Garden, Person } from "../garden/garden.ts"
import { addMs, HOUR_MS, type Instant, MINUTE_MS } from "../values/instant.ts"
import { instantAt, localDay } from "../values/zone.ts"
import type { House } from "./house.ts"
import type { Store } from "./needs.ts"
import { personRef, phonesOf } from "./who.ts"

/** However many there are, a morning's nudge comes within so long of its hour. */
const LONGEST_SPREAD_MS = 2 * HOUR_MS
/** A morning that is over in so many seconds at the sender's rate needs no spreading. */
const SHORT_PEAK_S = 60

/**
 * When a nudge that is due now should leave. Where a sender may send only so many a second and thousands are due at eight,
 * each waits for its own moment of the stretch that they take together: the same share of it every day, drawn from the
 * person's id, so that no garden's people stand before another's. Never past the middle of what is left of their hours.
 */
export function momentFor(
  house: Pick<House, "shelf" | "textRate">,
  garden: Garden,
  person: Person,
  now: Instant,
): Instant {
  const { textRate } = house
  if (!textRate) return now
  const peak_s = phonesOf(house.shelf) / textRate
  if (peak_s <= SHORT_PEAK_S) return now
  const left = instantAt(localDay(now, person.zone), person.texts.to, person.zone) - now
  const stretch = Math.min(peak_s * 1000, LONGEST_SPREAD_MS, Math.max(0, left / 2))
  return addMs(now, Math.floor(stretch * shareOf(personRef(garden.id, person.id))))
}

/** A number from 0 to 1 that depends on the words alone (FNV-1a, then mixed so that ids that differ at their end lie apart). */
function shareOf(words: string): number {
  let hash = 2166136261
  for (let i = 0; i < words.length; i += 1) hash = Math.imul(hash ^ words.charCodeAt(i), 16777619)
  hash = Math.imul(hash ^ (hash >>> 16), 0x85ebca6b)
  hash = Math.imul(hash ^ (hash >>> 13), 0xc2b2ae35)
  return ((hash ^ (hash >>> 16)) >>> 0) / 2 ** 32
}

const COUNT = "paced"
const BASE = "paced base"

/**
 * Keeps all workers together to so many texts a second of one sender, minute by minute: true where another may be claimed. Each
 * takes a tenth of a minute's number at once, so that the store is asked seldom; what a killed worker had taken is lost with
 * its minute.
 */
export function openPace(
  store: Pick<Store, "tally" | "recall" | "remember">,
  rate: number,
): (now: Instant) => Promise<boolean> {
  const budget = Math.max(1, Math.round(rate * 60))
  const block = Math.max(1, Math.floor(budget / 10))
  const own = { minute: -1, left: 0, over: false }
  let asking: Promise<void> | null = null

  async function take(minute: number): Promise<void> {
    const count = await store.tally(COUNT, block)
    const [at, from] = ((await store.recall(BASE)) ?? "").split(" ").map(Number)
    // The first in a new minute says where it began; where two do, they differ by a block.
    const base = at === minute && from !== undefined ? from : count - block
    if (at !== minute) await store.remember(BASE, `${minute} ${base}`)
    if (own.minute !== minute) return
    const allowed = Math.min(block, budget - (count - block - base))
    if (allowed <= 0) own.over = true
    else own.left += allowed
  }

  return async (now) => {
    const minute = Math.floor(now / MINUTE_MS)
    if (own.minute !== minute) Object.assign(own, { minute, left: 0, over: false })
    while (own.left <= 0 && !own.over) {
      asking ??= take(minute).finally(() => {
        asking = null
      })
      await asking
      if (own.minute !== minute) return false
    }
    if (own.left <= 0) return false
    own.left -= 1
    return true
  }
}
