import { z } from "zod"
import type { Channel, Outgoing, SendOutcome } from "../bot/needs.ts"
import { addMs, HOUR_MS, type Instant, MINUTE_MS } from "../values/instant.ts"
import { type Answered, CarrierRefusal, CarrierSilent, carrierClient } from "./sms-client.ts"
import { codeName, meaningOf, refusedForGood } from "./sms-codes.ts"
import { type Notes, openLedger, type Try } from "./sms-ledger.ts"
import { type CarrierList, findTaken, offBy, readInboundList, readOneInbound } from "./sms-list.ts"
import type { TextAllowed } from "./sms-numbers.ts"

export type SmsOptions = {
  accountSid: string
  authToken: string
  /** The number that sends, E.164. */
  from?: string | null
  /** A messaging service that picks the sender; goes before `from`. */
  messagingServiceSid?: string | null
  /** A stand-in for the carrier. */
  apiUrl?: string | null
  /** Where the carrier reaches us for delivery reports; without it a text's fate after sending stays unknown. */
  publicUrl?: string | null
  /** Milliseconds to wait after the `attempt`-th failure of the message with this key. */
  wait(attempt: number, key: string): number
  now(): Instant
  /** Where the book of tries is kept, so that a restart forgets none of them; absent: in memory alone. */
  notes?: Notes
  /** May this number be texted? Absent: any in E.164. */
  allowed?(to: string): TextAllowed
  timeoutMs?: number
}

/** A channel for texts, and what else only the carrier knows. */
export type SmsChannel = Channel &
  Required<Pick<Channel, "wasTaken">> &
  CarrierList & {
    /** A delivery report named both: that id of the carrier's is that message of ours. */
    confirm(key: string, sid: string): Promise<void>
    /** Why nothing is sent for now (own fault, carrier down); null: all is well. */
    trouble(): string | null
  }

/** Longest a carrier holds a text in its queue, in seconds (its own limit for `ValidityPeriod`; the API description). */
const MOST_VALIDITY_S = 36_000
/** A delivery-report address longer than this is left out: some gateways cut addresses at 2,048 characters (common practice, no source). */
const LONGEST_CALLBACK = 1_900
/** The carrier's list may lag behind what it accepted by up to a minute: only what is missing after that was never taken. */
export const LIST_LAG_MS = 75_000
/** A call that we gave up waiting for may still arrive so much later. */
const ARRIVES_WITHIN_MS = 30_000
/** While the owner must act nothing is tried but one text after each of these waits. */
const OWN_FAULT_WAITS_MS = [15 * MINUTE_MS, HOUR_MS, 6 * HOUR_MS] as const
/** A daily cap ends at a midnight that we do not know: one text is tried this often. */
const CAP_WAIT_MS = 6 * HOUR_MS
/** Two silent calls in a row and the carrier counts as down: the others wait this long instead of running into a time-out each. */
const DOWN_AFTER = 2
const DOWN_WAIT_MS = MINUTE_MS
/** Our clock was set in between where the carrier's is so much further ahead of it, or less far, than before. */
const CLOCK_SET_MS = 30_000
/** A pause that seems to last longer than any we make is a clock that was set back. */
const LONGEST_PAUSE_MS = 25 * HOUR_MS

const created = z.object({ sid: z.string().regex(/^(SM|MM)[0-9a-fA-F]{32}$/) })

/**
 * Texts through Twilio. The text goes as it is: it was brought to the 7-bit alphabet by whoever worded it. Whatever the
 * carrier does is an outcome, never an exception; a call that may have arrived is `unknown`, and only the carrier's list
 * says whether it may go again (failure D1).
 */
export function smsChannel(options: SmsOptions): SmsChannel {
  const { accountSid, authToken, now } = options
  const client = carrierClient({
    accountSid,
    authToken,
    apiUrl: options.apiUrl ?? null,
    ...(options.timeoutMs === undefined ? {} : { timeoutMs: options.timeoutMs }),
  })
  const pause: Pause = { until: null, code: "", text: "" }
  const ledger = openLedger(options.notes ?? null)
  /** How far the carrier's clock was ahead of ours when it last answered. */
  let off: number | null = null
  /** What this process tried and does not know of: by its own clock it knows when that was. */
  const inDoubt = new Set<string>()
  let ownFaults = 0
  let silent = 0

  async function send(message: Outgoing, at: Instant): Promise<SendOutcome> {
    const allowed = options.allowed?.(message.to) ?? "yes"
    if (allowed !== "yes") return { is: "failed", code: "number-not-allowed", text: allowed.why, hold: "held" }
    const left_s = Math.floor((message.goodUntil - at) / 1000)
    if (left_s < 1) return { is: "dropped", code: "too-late", text: "its moment had passed before it could be sent" }
    let before: Awaited<ReturnType<typeof ledger.tryOf>>
    try {
      before = await ledger.tryOf(message.key)
      const open = openAgain(pause, at)
      if (open !== null) return stillInDoubt(before, { is: "later", dueAt: open, code: pause.code, text: pause.text })
      await ledger.begin(message.key, at)
    } catch {
      const dueAt = addMs(at, options.wait(message.attempts, message.key))
      return { is: "later", dueAt, code: "not-recorded", text: "the try could not be written down, so it was not made" }
    }
    const outcome = stillInDoubt(before, await call(message, at, left_s))
    // The outcome goes into the outbox whether or not this can be written.
    await note(message, outcome).catch(() => {})
    return outcome
  }

  function note({ key }: Outgoing, outcome: SendOutcome): Promise<void> {
    if (outcome.is === "unknown") {
      inDoubt.add(key)
      return ledger.doubt(key, now(), off)
    }
    return outcome.is === "sent" && outcome.carrierId !== null
      ? ledger.taken(key, outcome.carrierId, now())
      : ledger.notTaken(key)
  }

  async function call(message: Outgoing, at: Instant, left_s: number): Promise<SendOutcome> {
    const answered: Answered = { date: null }
    try {
      const answer = await (await client(answered)).messages.create({
        to: message.to,
        body: message.text,
        ...(options.messagingServiceSid
          ? { messagingServiceSid: options.messagingServiceSid }
          : { from: options.from ?? "" }),
        ...callbackOf(options, message.key),
        validityPeriod: Math.min(MOST_VALIDITY_S, left_s),
        // The carrier's own replacing of look-alikes turns "1½ oz" into "11/2 oz".
        smartEncoded: false,
      })
      off = offBy(answered, now()) ?? off
      const { sid } = created.parse(answer)
      ownFaults = 0
      silent = 0
      return { is: "sent", carrierId: sid }
    } catch (error) {
      return afterFailure(error, message, at)
    }
  }

  function afterFailure(error: unknown, message: Outgoing, at: Instant): SendOutcome {
    if (error instanceof CarrierRefusal && error.status < 500) {
      silent = 0
      return refused(error, message, at)
    }
    silent += 1
    const code = error instanceof CarrierRefusal ? `http-${error.status}` : silentCode(error)
    const wait = options.wait(message.attempts, message.key)
    if (silent >= DOWN_AFTER) pauseUntil(pause, addMs(at, DOWN_WAIT_MS), "carrier-down", "the carrier does not answer")
    if (error instanceof CarrierSilent && !error.reached)
      return { is: "later", dueAt: addMs(at, wait), code, text: "the carrier could not be reached" }
    // A gateway's 5xx, a time-out, an answer that nobody can read: it may have been taken all the same.
    return {
      is: "unknown",
      dueAt: addMs(at, Math.max(wait, LIST_LAG_MS)),
      code,
      text: "the carrier gave no answer that says whether it took the text",
    }
  }

  function refused(error: CarrierRefusal, message: Outgoing, at: Instant): SendOutcome {
    const meaning = meaningOf(error.code, error.status)
    const code = codeName(meaning, error.code, error.status)
    const forGood = refusedForGood(meaning, code)
    if (forGood) return forGood
    const later = (ms: number): SendOutcome => ({ is: "later", dueAt: addMs(at, ms), code, text: meaning.text })
    const wait = options.wait(message.attempts, message.key)
    switch (meaning.kind) {
      case "own": {
        const ms = OWN_FAULT_WAITS_MS[Math.min(ownFaults, OWN_FAULT_WAITS_MS.length - 1)] as number
        ownFaults += 1
        pauseUntil(pause, addMs(at, ms), code, meaning.text)
        return later(ms)
      }
      case "cap":
        pauseUntil(pause, addMs(at, CAP_WAIT_MS), code, meaning.text)
        return later(CAP_WAIT_MS)
      default: {
        const ms = Math.max(wait, error.retryAfterMs ?? 0)
        if (error.status === 429) pauseUntil(pause, addMs(at, error.retryAfterMs ?? wait), code, meaning.text)
        return later(ms)
      }
    }
  }

  async function wasTaken(message: Outgoing): Promise<{ taken: boolean; carrierId: string | null } | null> {
    // A delivery report that carried our key has come: the carrier has it.
    if (message.fate !== null || message.carrierId !== null) return { taken: true, carrierId: message.carrierId }
    const at = now()
    const known = await ledger.tryOf(message.key)
    if (known === "never") return { taken: false, carrierId: null }
    if (known !== "unknown" && known.sid !== null) return { taken: true, carrierId: known.sid }
    // Cut off by a crash it is not known when the try ended: before this, for all that can be said.
    const told = known === "unknown" || known.ended === null || known.ended > at ? null : known.ended
    const since = known === "unknown" ? message.notBefore : known.began
    const between = { since, until: addMs(told ?? at, ARRIVES_WITHIN_MS) }
    const isOthers = async (sid: string) => ((await ledger.ownerOf(sid)) ?? message.key) !== message.key
    const found = await findTaken(client, message, between, at, isOthers)
    if (found === null) return null
    off = found.off ?? off
    if (found.sid !== null) {
      inDoubt.delete(message.key)
      await ledger.taken(message.key, found.sid, at)
      return { taken: true, carrierId: found.sid }
    }
    const then = known === "unknown" ? null : known.off
    const isSameClock =
      then === null || found.off === null
        ? known === "unknown" || inDoubt.has(message.key)
        : Math.abs(then - found.off) <= CLOCK_SET_MS
    if (told === null || !isSameClock) {
      // The list may still lag behind: how long, is told from now on.
      inDoubt.add(message.key)
      await ledger.doubt(message.key, at, found.off)
      return null
    }
    if (at - told < LIST_LAG_MS) return null
    inDoubt.delete(message.key)
    await ledger.notTaken(message.key)
    return { taken: false, carrierId: null }
  }

  return {
    via: "sms",
    send,
    wasTaken,
    confirm: (key, sid) => ledger.taken(key, sid, now()),
    readInboundList: (after) =>
      readInboundList(client, {
        after,
        to: options.messagingServiceSid ? null : (options.from ?? null),
        apiUrl: options.apiUrl ?? null,
      }),
    readOneInbound: (sid) => readOneInbound(client, sid),
    trouble: () => (openAgain(pause, now()) === null ? null : `${pause.code}: ${pause.text}`),
  }
}

/** A call that did not arrive says nothing of one before it that may have. */
function stillInDoubt(before: Try | "never" | "unknown", outcome: SendOutcome): SendOutcome {
  return outcome.is === "later" && typeof before === "object" ? { ...outcome, is: "unknown" } : outcome
}

type Pause = { until: Instant | null; code: string; text: string }

function pauseUntil(pause: Pause, until: Instant, code: string, text: string): void {
  pause.until = until
  pause.code = code
  pause.text = text
}

/** When a pause ends; null where there is none. */
function openAgain(pause: Pause, at: Instant): Instant | null {
  if (pause.until === null || pause.until <= at || pause.until - at > LONGEST_PAUSE_MS) return null
  return pause.until
}

function silentCode(error: unknown): string {
  if (error instanceof CarrierSilent) return error.reached ? "no-answer" : "no-connection"
  return "answer-unreadable"
}

/** Where the delivery reports of one text go: our own key stands in the address, so a report is known before the answer is (D12). */
function callbackOf(options: SmsOptions, key: string): { statusCallback?: string } {
  if (!options.publicUrl) return {}
  const address = statusAddress(options.publicUrl, key)
  // The carrier refuses the whole text for an address that it cannot reach; only a stand-in reaches this machine.
  const reachable = options.apiUrl || !isOwnMachine(options.publicUrl)
  return reachable && address.length <= LONGEST_CALLBACK ? { statusCallback: address } : {}
}

/** `PUBLIC_URL/twilio/status?key=KEY`; colons and commas stay readable, as a query may hold them (RFC 3986 3.4). */
export function statusAddress(publicUrl: string, key: string): string {
  const written = encodeURIComponent(key).replaceAll("%3A", ":").replaceAll("%2C", ",")
  return `${publicUrl.replace(/\/+$/, "")}/twilio/status?key=${written}`
}

function isOwnMachine(address: string): boolean {
  const { hostname } = new URL(address)
  return (
    hostname === "localhost" || hostname === "[::1]" || hostname.startsWith("127.") || hostname.endsWith(".localhost")
  )
}
