import type { Entry } from "../../src/garden/entry.ts"
import { asInstant } from "../../src/values/instant.ts"
import type { Carrier } from "./carrier.ts"
import type { CarrierFaults } from "./carrier-faults.ts"
import type { Post, PostFaults } from "./post.ts"
import type { StepName, Strike } from "./steps.ts"

export const TOKEN = "0f1e2d3c4b5a69788796a5b4c3d2e1f0"
export const ACCOUNT = "AC0b0b0b0b0b0b0b0b0b0b0b0b0b0b0b0b"
export const NUMBER = "+17175550100"
export const SENDER = "Ryebell <ryebell@example.net>"
export const SECRET = "a-secret-that-no-log-line-may-hold"
export const START = asInstant("2026-03-20T12:10:00Z") as number

export type WorldOptions = {
  seed: number
  /** The bug to plant, by name. */
  plant?: string | null
  /** Steps to strike at, in this order; each the `nth` time it is passed. */
  strikes: readonly Strike[]
  carrier: CarrierFaults
  post: PostFaults
  /** Stretches of time in which the process stays away after a kill, drawn from these shares. */
  downtime?: boolean
  /** The stretches themselves, one after the other, in milliseconds. */
  downtimes?: readonly number[]
  /** The carrier's list cannot be read to the very end: what was never answered may be lost then. */
  listNever?: boolean
  /** One person says stop on the way. */
  stops?: boolean
  /** The clock of the machine is set wrong now and then. */
  clockJumps?: boolean
  /** Stretches in which the carrier or the mail server answers nothing. */
  outages?: readonly Outage[]
  /** Files of the gardens that are served. */
  gardens?: readonly string[]
  /** Days without any fault at the end, in which everything may settle. */
  quietDays?: number
  /** Days to play where no strike is left. */
  calmDays?: number
}

export type Outage = { who: "carrier" | "post"; fromDay: number; ms: number }

/** All that the judge may look at. */
export type Outcome = {
  seed: number
  gardens: readonly string[]
  listNever: boolean
  /** The longest stretch in which somebody was away: the carrier, the mail server or the program. */
  outageMs: number
  struck: Strike[]
  notReached: StepName[]
  carrier: Pick<Carrier, "book" | "inbox" | "refusedAfterStop">
  post: Pick<Post, "book" | "refused">
  stopped: { phone: string; sid: string }[]
  entries: Record<string, Entry[]>
  /** The plans as the living process had them at the end. */
  plans: unknown
  said: string
  /** What went wrong in a way that nobody asked for. */
  fatal: string[]
  began: number
  ended: number
  /** Longest the process was away, and the texts that each person got on its first day back. */
  returns: { awayMs: number; texts: number }[]
}
