/** A text to send and a channel on the stand-in, for the tests of the SMS channel. */
import type { Outgoing } from "../../src/bot/needs.ts"
import { type SmsOptions, smsChannel } from "../../src/channels/sms-twilio.ts"
import { addMs, type Instant, instant } from "../../src/values/instant.ts"
import { openCarrier } from "../stand-ins/carrier.ts"
import type { CarrierOptions } from "../stand-ins/carrier-faults.ts"

export const START = instant("2026-05-13T12:00:00Z")
export const INES = "+17175550142"
export const PUBLIC_URL = "https://bot.example.org"
const HOUR_MS = 3_600_000

/** A nudge as it stands in the outbox while it is being sent. */
export function aText(known: Partial<Outgoing> = {}): Outgoing {
  return {
    key: "nudge:acre:ines:2026-05-13:text:south:2025-09-20:cut:1#1",
    garden: "acre",
    person: "ines",
    kind: "nudge",
    channel: "text",
    to: INES,
    text: "1 Cut South bed by Fri 15 May, before seed drops.",
    told: [],
    notBefore: START,
    goodUntil: addMs(START, 8 * HOUR_MS),
    state: "sending",
    attempts: 1,
    dueAt: START,
    carrierId: null,
    fate: null,
    lastError: null,
    ...known,
  }
}

/** A carrier, a clock that both share and that a test moves, and a channel between them. */
export async function aCarrier(known: { carrier?: CarrierOptions; sms?: Partial<SmsOptions> } = {}) {
  const clock = { now: START as Instant }
  const now = () => clock.now
  const notes = new Map<string, string>()
  const carrier = await openCarrier({ now, ...known.carrier })
  const options: SmsOptions = {
    accountSid: carrier.account,
    authToken: carrier.token,
    from: carrier.number,
    apiUrl: carrier.url,
    publicUrl: PUBLIC_URL,
    wait: (attempt) => attempt * 60_000,
    now,
    timeoutMs: 1500,
    notes: {
      recall: async (name) => notes.get(name) ?? null,
      remember: async (name, value) => void notes.set(name, value),
    },
    ...known.sms,
  }
  return {
    carrier,
    clock,
    options,
    notes,
    channel: smsChannel(options),
    /** The same account after a restart: only what was written down is known. */
    again: (more: Partial<SmsOptions> = {}) => smsChannel({ ...options, ...more }),
    later: (ms: number) => {
      clock.now = addMs(clock.now, ms)
    },
  }
}
