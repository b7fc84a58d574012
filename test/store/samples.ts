import type { Incoming, NewOutgoing, SendOutcome } from "../../src/bot/needs.ts"
import type { NewEntry, Told } from "../../src/garden/entry.ts"
import { day } from "../../src/values/day.ts"
import { type Instant, instant, instantOf } from "../../src/values/instant.ts"

/** The instant at which the tests of the store begin; `plus(n)` is n minutes later. */
export const START = instant("2026-05-13T12:00:00Z")
export const plus = (minutes: number): Instant => instantOf(START + minutes * 60_000)
export const LEASE = 60_000
export const GARDEN = "long-acre"
export const CUT = "south:2025-09-20:cut:1"
export const BLOOM = "south:2025-09-20:watch-bloom:1"
export const SENT: SendOutcome = { is: "sent", carrierId: "SM1" }

/** A reply of Ines, as the log takes it. */
export function reply(text: string, garden = GARDEN, at = START): NewEntry {
  return {
    at,
    garden,
    by: "ines",
    via: "sms",
    kind: "reply",
    text,
    acts: [{ act: "done", n: [1], on: day("2026-05-13") }],
  }
}

export function sent(text: string, garden = GARDEN, at = START): NewEntry {
  return {
    at,
    garden,
    by: "ryebell",
    via: "sms",
    kind: "sent",
    to: "ines",
    text,
    told: [told(CUT)],
  }
}

export function told(id: string, n = 1): Told {
  return { n, id, kind: "cut", bed: "south" }
}

export function nudge(key: string, more: Partial<NewOutgoing> = {}): NewOutgoing {
  return {
    key,
    garden: GARDEN,
    person: "ines",
    kind: "nudge",
    channel: "text",
    to: "+17175550142",
    text: "1 Cut South bed by Fri 14 May, before seed drops.",
    told: [told(CUT)],
    notBefore: START,
    goodUntil: plus(600),
    ...more,
  }
}

export function incoming(id: string, text = "done 1", at = START): Incoming {
  return { id, via: "sms", from: "+17175550142", to: "+17175550100", text, at, media: [] }
}
