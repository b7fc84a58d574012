import { DateTime, IANAZone } from "luxon"
import type { Day } from "./day.ts"
import type { Instant } from "./instant.ts"

/** The name of a time zone of the IANA database, such as `America/New_York`. This is the only file with luxon. */
declare const zoneMark: unique symbol
export type Zone = string & { readonly [zoneMark]: true }

/** A time of day as minutes after local midnight, 0 to 1439. */
export type Minutes = number

/** Reads a zone name; null where the zone database of the run-time does not know it. */
export function asZone(name: string): Zone | null {
  return IANAZone.isValidZone(name) ? (name as Zone) : null
}

/** A zone name that is known to be right; throws a RangeError on any other. */
export function zone(name: string): Zone {
  const found = asZone(name)
  if (!found) throw new RangeError(`not a zone of the IANA database: ${JSON.stringify(name)}`)
  return found
}

/** The day of the calendar that an instant falls on in a zone. */
export function localDay(at: Instant, z: Zone): Day {
  return DateTime.fromMillis(at, { zone: z }).toFormat("yyyy-MM-dd") as Day
}

/** Minutes after midnight on the wall clock of a zone at an instant. */
export function localMinutes(at: Instant, z: Zone): Minutes {
  const local = DateTime.fromMillis(at, { zone: z })
  return local.hour * 60 + local.minute
}

/**
 * The instant at which a zone's wall clock shows this time on this day. A time that the clock skips gives the first
 * instant after the gap; a time that comes twice gives the first of the two.
 */
export function instantAt(d: Day, minutes: Minutes, z: Zone): Instant {
  const [year, month, dayOfMonth] = d.split("-").map(Number) as [number, number, number]
  const hour = Math.floor(minutes / 60)
  const minute = minutes % 60
  const guess = DateTime.fromObject({ year, month, day: dayOfMonth, hour, minute }, { zone: z })
  const wanted = guess.hour === hour && guess.minute === minute && guess.day === dayOfMonth
  if (!wanted) return firstAfterGap(guess)
  const both = guess.getPossibleOffsets()
  return Math.min(...both.map((each) => each.toMillis())) as Instant
}

/** RFC 3339 text of an instant with the offset that a zone has then. */
export function localText(at: Instant, z: Zone): string {
  return DateTime.fromMillis(at, { zone: z }).toISO({ suppressMilliseconds: true }) as string
}

/** Offset from UTC in minutes that a zone has at an instant (positive east of Greenwich). */
export function offsetMinutes(at: Instant, z: Zone): number {
  return DateTime.fromMillis(at, { zone: z }).offset
}

/** Walks back from a moment past a gap of the wall clock to the first minute after it. */
function firstAfterGap(past: DateTime): Instant {
  let at = past.startOf("minute")
  const offset = at.offset
  while (at.minus({ minutes: 1 }).offset === offset) at = at.minus({ minutes: 1 })
  return at.toMillis() as Instant
}
