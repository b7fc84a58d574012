import { gsm7Units, isGsm7 } from "./gsm7.ts"

/**
 * Lengths of short messages. A message has 140 octets: 160 units of the 7-bit alphabet or 70 of UCS-2; joined ones lose 6
 * octets each to a header. Source: 3GPP TS 23.040 and 23.038, from memory.
 */
const LENGTHS = { gsm7: { single: 160, joined: 153 }, ucs2: { single: 70, joined: 67 } } as const

export type Encoding = keyof typeof LENGTHS

/** How a text travels: `units` are 7-bit units (extension characters count two) or UTF-16 code units. */
export type Measured = { encoding: Encoding; units: number; segments: number }

/** The most that a text of ours may take: two segments of the 7-bit alphabet. */
export const TWO_SEGMENTS = 2 * LENGTHS.gsm7.joined
export const ONE_SEGMENT = LENGTHS.gsm7.single

/**
 * Encoding, units and segments of a text as it is. One character outside the 7-bit alphabet turns all of it into UCS-2.
 * Escape pairs and surrogate pairs are never split between two segments. An empty text has no segment: it is not sent.
 */
export function measure(text: string): Measured {
  const encoding: Encoding = isGsm7(text) ? "gsm7" : "ucs2"
  const costs = [...text].map((character) =>
    encoding === "gsm7" ? (gsm7Units(character) as number) : character.length,
  )
  const units = costs.reduce((sum, cost) => sum + cost, 0)
  return { encoding, units, segments: segmentsOf(costs, units, LENGTHS[encoding]) }
}

function segmentsOf(costs: readonly number[], units: number, { single, joined }: { single: number; joined: number }) {
  if (units === 0) return 0
  if (units <= single) return 1
  let segments = 1
  let filled = 0
  for (const cost of costs) {
    if (filled + cost > joined) {
      segments += 1
      filled = 0
    }
    filled += cost
  }
  return segments
}
