import type { Fact, History, SowingRecord } from "../garden/facts.ts"
import type { Garden } from "../garden/garden.ts"
import type { Handbook } from "../handbook/handbook.ts"
import type { SowingPlan } from "../season/bed-plan.ts"
import { addDays, type Day } from "../values/day.ts"
import { bedName } from "./names.ts"

/** Everything a reminder of one sowing is made of. */
export type Scene = {
  sowing: SowingPlan
  /** What happened to it, where the log or the file knows. */
  record: SowingRecord | null
  garden: Garden
  handbook: Handbook
  history: History
  on: Day
}

/** One call of a reminder put into words; see `Reminder` for its parts. */
export type Said = { text: string; short: string; title: string; words: string[]; caution?: string }

/** `first` and `last` are said to everybody; `middle` and `after` only to people who answer. */
export type CallRole = "first" | "middle" | "last" | "after"

/** One time that a reminder speaks. */
export type Call = {
  call: number
  role: CallRole
  on: Day
  /** The day in the draft's `days` that it is about: it is said anew when that day has moved much later. */
  about: string
  urgency: number
  pressing: boolean
  /** The words, for saying it on this day. */
  say(day: Day): Said
}

/** A reminder as the plan has it, for nobody in particular and before the log is asked what became of it. */
export type Draft = {
  ordinal: number
  opens: Day
  lapses: Day
  /** Facts of this day and later may settle it. */
  since: Day
  /** The days that its words name. */
  days: Record<string, Day>
  calls: Call[]
  /** The plan itself knows that it is done, since this day. */
  settledOn?: Day
  /** The gardener looked and it was not so yet: asked again on `until`. `seq` is the log entry that says so. */
  notYet?: { until: Day; seq: number } | null
  mailOnly?: boolean
}

/** A kind of reminder: when it opens and lapses, when it speaks and what it says, and what settles it. */
export type Kind = {
  /** The reminders of this kind that the plan holds for a sowing; oldest first. */
  drafts(scene: Scene): Draft[]
  /** Is this fact, told after the reminder's moment began, what it asked for? */
  settles(fact: Fact): boolean
}

/** The name of the scene's bed. */
export function bedOfScene(scene: Scene): string {
  return bedName(scene.garden, scene.sowing.bed)
}

/** Ids of the species that are still alive as far as known. */
export function aliveSpecies(sowing: SowingPlan): string[] {
  return sowing.species.filter((species) => !species.gone).map((species) => species.id)
}

/** The day since which a stage counts for what stands now: after the last cut, else since sowing. */
export function standingSince(sowing: SowingPlan, otherwise: Day): Day {
  return sowing.wasCut ? addDays(sowing.wasCut.on, 1) : (sowing.sown ?? otherwise)
}

/** Facts told about the sowing on or after a day. */
export function factsSince(scene: Scene, since: Day): Fact[] {
  return (scene.record?.facts ?? []).filter((fact) => fact.on >= since)
}
