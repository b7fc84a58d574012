import type { Day } from "../values/day.ts"
import type { Instant } from "../values/instant.ts"
import type { Measure, Stage } from "./acts.ts"
import type { ReminderKind } from "./entry.ts"
import type { Sowing, Then } from "./garden.ts"

/** Something that happened to a sowing, as the gardener told it; `seq` is the log entry it comes from. */
export type Fact =
  | { fact: "sowed"; on: Day; species: readonly string[]; seq: number }
  | { fact: "observed"; what: Stage; species: string | null; on: Day; seq: number }
  | { fact: "measured"; what: Measure; value: number; species: string | null; on: Day; seq: number }
  | { fact: "cut"; species: readonly string[]; then: Then | null; on: Day; seq: number }
  | { fact: "watered"; on: Day; seq: number }
  | { fact: "planted"; crop: string | null; on: Day; seq: number }
  | { fact: "want"; crop: string | null; on: Day; seq: number }
export type FactName = Fact["fact"]
export type FactOf<Name extends FactName> = Extract<Fact, { fact: Name }>

/** A sowing with all that is known to have happened to it, oldest first. */
export type SowingRecord = {
  sowing: Sowing
  /** The day it was really sown: from the log where it says so, else from the garden file. */
  sown: Day | null
  facts: readonly Fact[]
}

/** What the log says about one reminder. */
export type ReminderRecord = {
  id: string
  kind: ReminderKind
  bed: string
  settled: { how: "done" | "skipped"; on: Day; by: string; at: Instant; seq: number } | null
  /** The last snooze that is not taken back. */
  snoozed: { until: Day; by: string; times: number; seq: number } | null
  lapsed: { seq: number; because: string } | null
  /** Every time it was said, oldest first. */
  said: readonly {
    to: string
    at: Instant
    n: number
    seq: number
    days: Readonly<Record<string, Day>>
    /** Which of its calls it was, where the log tells. */
    call?: number
  }[]
}

/** The log read as facts: undo applied, numbers turned into reminders, acts filed under their sowing. */
export type History = {
  /** By bed id, oldest sowing first. */
  beds: ReadonlyMap<string, readonly SowingRecord[]>
  reminders: ReadonlyMap<string, ReminderRecord>
  /** Rain measured without a bed. */
  rain: readonly { value_mm: number; on: Day; seq: number }[]
  /** By person: no nudges until that day, or without end. */
  paused: ReadonlyMap<string, { until: Day | null; seq: number }>
  /** By person and channel: stopped, held or confirmed. */
  channels: ReadonlyMap<string, { text: ChannelState; mail: ChannelState }>
  /** Entries whose bed or sowing is not in the garden file any more, with the nearest sowing there is. */
  orphans: readonly { seq: number; named: string; nearest: string | null }[]
}
export type ChannelState = "open" | "stopped" | "held"
