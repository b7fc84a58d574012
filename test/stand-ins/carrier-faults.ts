/** How the stand-in of the carrier is told to fail, and what people text it. */
import type { Instant } from "../../src/values/instant.ts"
import type { Description } from "./openapi.ts"

/** What befalls a text that we are asked to send. `taken`: it is in the book all the same. */
export type Fault =
  | { is: "refuse"; code: number; status?: number }
  | { is: "too-many"; retryAfter?: string }
  | { is: "broken"; taken: boolean; status?: number }
  | { is: "lost"; taken: boolean }
  | { is: "hang"; taken: boolean }
  | { is: "late"; ms: number }
  | { is: "garbled"; taken: boolean }
  /** The report comes before the answer does. */
  | { is: "report-first" }

/** How often things go wrong by themselves, 0 to 1, drawn from the seed; all 0 at first. */
export type Knobs = {
  lostBefore: number
  lostAfter: number
  tooMany: number
  broken: number
  /** Answers come up to so many milliseconds late. */
  lateMs: number
  reportTwice: number
  reportShuffled: number
  reportFirst: number
  reportNever: number
  inboundTwice: number
  /** A person's stop that only the carrier knows of. */
  stopSilently: number
  /** A text waits six hours at the carrier, or until its validity ends. */
  held: number
  listFails: number
  /** The list shows a text only so long after it was taken, by the carrier's clock. */
  listLagMs: number
}

export type Heard = {
  from: string
  body: string
  to?: string
  sid?: string
  at?: Instant
  pictures?: { type: string; bytes: Uint8Array }[]
  /** Further keys of the webhook. */
  extra?: Record<string, string>
  /** false: it only stands in the list, as after a webhook that failed. */
  post?: boolean
}

export type CarrierOptions = {
  accountSid?: string
  authToken?: string
  number?: string
  seed?: number
  now?: () => Instant
  /** null: requests are not held against a description. */
  api?: Description | null
}

/** A carrier without faults. */
export function calm(): Knobs {
  return {
    lostBefore: 0,
    lostAfter: 0,
    tooMany: 0,
    broken: 0,
    lateMs: 0,
    reportTwice: 0,
    reportShuffled: 0,
    reportFirst: 0,
    reportNever: 0,
    inboundTwice: 0,
    stopSilently: 0,
    held: 0,
    listFails: 0,
    listLagMs: 0,
  }
}

/** Words alone in a text that the carrier itself heeds, in any case (Twilio docs, Advanced Opt-Out; START words from memory). */
const STOPS = new Set(["STOP", "STOPALL", "UNSUBSCRIBE", "CANCEL", "END", "QUIT", "REVOKE", "OPTOUT"])
const STARTS = new Set(["START", "YES", "UNSTOP"])

/** After a stop word the carrier texts that number no more, after a start word again. */
export function heedStop({ from, body }: Pick<Heard, "from" | "body">, stopped: Set<string>): void {
  const word = body.trim().toUpperCase()
  if (STOPS.has(word)) stopped.add(from)
  if (STARTS.has(word)) stopped.delete(from)
}

/** What the carrier refuses by itself, by its code; null: it takes the text. */
export function refusalOf(form: URLSearchParams, number: string, stopped: ReadonlySet<string>): number | null {
  const to = form.get("To") ?? ""
  const body = form.get("Body") ?? ""
  const validity = Number(form.get("ValidityPeriod") ?? 36_000)
  if (!form.has("From") && !form.has("MessagingServiceSid")) return 21603
  if (form.has("From") && form.get("From") !== number) return 21606
  if (!/^\+[1-9]\d{6,14}$/.test(to)) return 21211
  if (body === "") return 21602
  if (body.length > 1600) return 21617
  if (!(validity >= 1 && validity <= 36_000)) return 90007
  return stopped.has(to) ? 21610 : null
}
