import { DateTime, IANAZone } from "luxon"
import { type Day, dayFromNumber, dayNumber } from "./day.ts"
import { DAY_MS, HOUR_MS, type Instant, MINUTE_MS } from "./instant.ts"

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
  return dayFromNumber(Math.floor(wallMs(at, z) / DAY_MS))
}

/** Minutes after midnight on the wall clock of a zone at an instant. */
export function localMinutes(at: Instant, z: Zone): Minutes {
  const wall = wallMs(at, z)
  return Math.floor((wall - Math.floor(wall / DAY_MS) * DAY_MS) / MINUTE_MS)
}

/**
 * The instant at which a zone's wall clock shows this time on this day. A time that the clock skips gives the first
 * instant after the gap; a time that comes twice gives the first of the two.
 */
export function instantAt(d: Day, minutes: Minutes, z: Zone): Instant {
  const wall = dayNumber(d) * DAY_MS + minutes * MINUTE_MS
  // No clock was ever changed by more than a day: the offsets a day before and after are all that can hold here.
  const offsets = [offsetMinutes((wall - DAY_MS) as Instant, z), offsetMinutes((wall + DAY_MS) as Instant, z)]
  const shown = offsets.map((offset) => wall - offset * MINUTE_MS).filter((at) => wallMs(at as Instant, z) === wall)
  if (shown.length > 0) return Math.min(...shown) as Instant
  const [year, month, dayOfMonth] = d.split("-").map(Number) as [number, number, number]
  const local = { year, month, day: dayOfMonth, hour: Math.floor(minutes / 60), minute: minutes % 60 }
  return firstAfterGap(DateTime.fromObject(local, { zone: z }))
}

/** RFC 3339 text of an instant with the offset that a zone has then. */
export function localText(at: Instant, z: Zone): string {
  return DateTime.fromMillis(at, { zone: z }).toISO({ suppressMilliseconds: true }) as string
}

/** Offset from UTC in minutes that a zone has at an instant (positive east of Greenwich). */
export function offsetMinutes(at: Instant, z: Zone): number {
  const hour = Math.floor(at / HOUR_MS)
  const known = knownOffsets(z)
  const kept = known.get(hour)
  if (kept !== undefined) return kept
  const offset = zoneOf(z).offset(at)
  // Kept for the hour where no clock changes inside it.
  const start = zoneOf(z).offset(hour * HOUR_MS)
  if (start === offset && zoneOf(z).offset((hour + 1) * HOUR_MS - 1) === offset) known.set(hour, offset)
  return offset
}

/** So many hours of a zone are remembered before they are forgotten together. */
const MOST_HOURS = 50_000
const offsets = new Map<Zone, Map<number, number>>()
const zones = new Map<Zone, IANAZone>()

function knownOffsets(z: Zone): Map<number, number> {
  const known = offsets.get(z)
  if (known && known.size < MOST_HOURS) return known
  const fresh = new Map<number, number>()
  offsets.set(z, fresh)
  return fresh
}

function zoneOf(z: Zone): IANAZone {
  const known = zones.get(z) ?? IANAZone.create(z)
  zones.set(z, known)
  return known
}

/** The wall clock of a zone, as milliseconds since its own 1970-01-01 00:00. */
function wallMs(at: Instant, z: Zone): number {
  return at + offsetMinutes(at, z) * MINUTE_MS
}

/** Walks back from a moment past a gap of the wall clock to the first minute after it. */
function firstAfterGap(past: DateTime): Instant {
  let at = past.startOf("minute")
  const offset = at.offset
  while (at.minus({ minutes: 1 }).offset === offset) at = at.minus({ minutes: 1 })
  return at.toMillis() as Instant
}
