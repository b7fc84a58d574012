/** A moment in time: whole milliseconds since 1970-01-01T00:00Z. Written as RFC 3339 with offset wherever it is kept or shown. */
declare const instantMark: unique symbol
export type Instant = number & { readonly [instantMark]: true }

const RFC3339 = /^\d{4}-\d{2}-\d{2}[Tt]\d{2}:\d{2}(:\d{2}(\.\d{1,9})?)?([Zz]|[+-]\d{2}:\d{2})$/

/** Reads RFC 3339 with an offset (or Z); null for any other text. A local time without offset is no instant. */
export function asInstant(text: string): Instant | null {
  if (!RFC3339.test(text)) return null
  const ms = Date.parse(text)
  return Number.isNaN(ms) ? null : (ms as Instant)
}

/** Reads an RFC 3339 text that is known to be right; throws a RangeError on any other. */
export function instant(text: string): Instant {
  const found = asInstant(text)
  if (found === null) throw new RangeError(`not an instant: ${JSON.stringify(text)}, expected RFC 3339 with offset`)
  return found
}

/** The instant of a number of milliseconds since 1970, as a clock gives it. */
export function instantOf(ms: number): Instant {
  return Math.round(ms) as Instant
}

/** RFC 3339 in UTC, to the millisecond: the form that is stored. */
export function instantText(at: Instant): string {
  return new Date(at).toISOString()
}

/** The instant `ms` milliseconds later. */
export function addMs(at: Instant, ms: number): Instant {
  return (at + ms) as Instant
}

export const MINUTE_MS = 60_000
export const HOUR_MS = 60 * MINUTE_MS
export const DAY_MS = 24 * HOUR_MS
