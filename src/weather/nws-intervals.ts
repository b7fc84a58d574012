import { addDays, type Day, dayNumber } from "../values/day.ts"
import { asInstant, DAY_MS, HOUR_MS, type Instant, instantOf, MINUTE_MS } from "../values/instant.ts"
import { instantAt, localDay, type Zone } from "../values/zone.ts"

/** A value of a layer, and when it holds. */
export type Spell = { from: Instant; to: Instant; value: number | null }

/** Longer than any value of a forecast holds; a duration beyond it was misread. */
const LONGEST_MS = 10 * DAY_MS
/** A day's rain is known where so much of the day is covered (own choice: six-hour steps may begin up to two hours into a day, and a series within its first hours). */
const ENOUGH_MS = 20 * HOUR_MS

/**
 * Reads `start/duration` or `start/end` of ISO 8601, as `2026-05-14T11:00:00+00:00/P1DT6H`; null for any other form, such as
 * the word NOW.
 */
export function readSpell(text: string): { from: Instant; to: Instant } | null {
  const [start = "", end = ""] = text.split("/")
  const from = asInstant(start)
  if (from === null) return null
  const ms = durationMs(end)
  const to = ms === null ? asInstant(end) : instantOf(from + ms)
  return to === null || to <= from || to - from > LONGEST_MS ? null : { from, to }
}

/** `P7DT21H`, `PT3H`, `PT30M`: days, hours, minutes. null for months and years, which have no length, and for all else. */
function durationMs(text: string): number | null {
  const parts = /^P(?:(\d+)W)?(?:(\d+)D)?(?:T(?:(\d+)H)?(?:(\d+)M)?(?:(\d+)S)?)?$/.exec(text)
  if (!parts || text === "P" || text.endsWith("T")) return null
  const [weeks, days, hours, minutes, seconds] = parts.slice(1).map((each) => Number(each ?? 0)) as [
    number,
    number,
    number,
    number,
    number,
  ]
  return (weeks * 7 + days) * DAY_MS + hours * HOUR_MS + minutes * MINUTE_MS + seconds * 1000
}

/** The day that a spell of highs or lows belongs to: that of its middle, so that a night's low is the morning's. */
export function dayOfMiddle(spell: Spell, zone: Zone): number {
  return dayNumber(localDay(instantOf((spell.from + spell.to) / 2), zone))
}

/**
 * Totals of spells as totals of days: a spell across midnight is split by its hours. A day that is covered in part only has
 * no total.
 */
export function dailyTotals(spells: readonly Spell[], zone: Zone): Map<number, number> {
  const sums = new Map<number, { total: number; covered: number }>()
  for (const spell of spells) {
    if (spell.value === null) continue
    let day: Day = localDay(spell.from, zone)
    for (;;) {
      const next = addDays(day, 1)
      const begins = Math.max(spell.from, instantAt(day, 0, zone))
      const ends = Math.min(spell.to, instantAt(next, 0, zone))
      if (ends > begins) {
        const sum = sums.get(dayNumber(day)) ?? { total: 0, covered: 0 }
        sum.total += (spell.value * (ends - begins)) / (spell.to - spell.from)
        sum.covered += ends - begins
        sums.set(dayNumber(day), sum)
      }
      if (instantAt(next, 0, zone) >= spell.to) break
      day = next
    }
  }
  return new Map([...sums].filter(([, sum]) => sum.covered >= ENOUGH_MS).map(([day, sum]) => [day, sum.total]))
}
