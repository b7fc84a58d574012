import type { Entry } from "../garden/entry.ts"
import type { Garden, Person } from "../garden/garden.ts"
import type { Handbook } from "../handbook/handbook.ts"
import type { Reminder } from "../reminders/reminder.ts"
import type { GardenPlan } from "../season/bed-plan.ts"
import type { Day } from "../values/day.ts"
import type { Instant } from "../values/instant.ts"
import type { Attribution } from "./digest-facts.ts"

/** What a person sees of their garden: the plan, what is due, the log. */
export type SeasonView = {
  garden: Garden
  handbook: Handbook
  person: Person
  on: Day
  now: Instant
  plan: GardenPlan
  reminders: readonly Reminder[]
  entries: readonly Entry[]
  /** Whose weather the estimates rest on, where a service gave it. */
  attribution?: Attribution | null
  /** The number under which this person knows a reminder; null: it has none yet. */
  numberOf(id: string): number | null
}

/** Addresses of the page's own links and forms, and the mark its forms carry. */
export type SeasonPaths = { base: string; calendar: string | null; form: string }
