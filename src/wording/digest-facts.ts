import type { KnownWeather } from "../agronomy/weather-series.ts"
import type { Entry, ReminderKind, Told } from "../garden/entry.ts"
import type { Garden, Person } from "../garden/garden.ts"
import type { History } from "../garden/history.ts"
import type { Handbook } from "../handbook/handbook.ts"
import type { Reminder } from "../reminders/reminder.ts"
import type { GardenPlan } from "../season/bed-plan.ts"
import type { Day } from "../values/day.ts"
import type { BedRow } from "./season-chart-rows.ts"

/** Where a mail's links lead. All of them only show a page; nothing changes before a button is pressed there. */
export type DigestLinks = {
  /** The person's season page, without a slash at its end. */
  season: string
  /** The calendar feed. */
  calendar: string
  /** The page with the button that ends these mails; also the one-click address of RFC 8058. */
  stop: string
}

/** Who must be named beside figures: a sentence, and addresses for words of it. */
export type Attribution = { words: string; links: readonly Link[] }

/** All that a weekly mail is made of. Equal input gives an equal mail. */
export type DigestInput = {
  garden: Garden
  handbook: Handbook
  person: Person
  on: Day
  plan: GardenPlan
  /** Reminders of the garden; only those of the person are told. */
  reminders: readonly Reminder[]
  entries: readonly Entry[]
  /** Entries that lost their bed or sowing are named in the mail. */
  orphans?: History["orphans"]
  weather: KnownWeather | null
  /** Who must be named, and linked, beside the weather's figures. */
  attribution?: Attribution | null
  /** null: no page is served (no public address); the mail then names reply words only. */
  links: DigestLinks | null
  /** Where a mail that says stop may be sent, for programs that unsubscribe by mail. */
  stopAddress?: string | null
  /** Kinds of reminder whose texts this person let go by, so that they get fewer of them. */
  hushed?: readonly ReminderKind[]
  /** The number under which this person knows a reminder; null: it has none yet. */
  numberOf(id: string): number | null
}

export type Link = { words: string; to: string }

/** One thing told: what it is, what belongs to it, and where a press leads. */
export type Line = { words: string; more?: string[]; links?: Link[] }

export const PARTS = ["week", "changed", "beds", "ahead", "log", "weather", "nitrogen", "how"] as const
export type PartName = (typeof PARTS)[number]
export type Part = { part: PartName; title: string; lines: Line[] }

/** What a weekly mail says, before it becomes text or HTML: both are written from this and hold the same. */
export type DigestFacts = {
  subject: string
  headline: string
  /** `Long Acre, Sunday 10 May 2026`. */
  dateline: string
  /** Nothing to do: the mail is ten lines. */
  quiet: boolean
  parts: Part[]
  rows: BedRow[]
  /** What the picture says, for those who do not see it: the one thing to do, and where the rest stands. */
  alt: string
  /** The reminders it names with their days, for the log: next week's changes are held against them. */
  told: (Omit<Told, "n"> & { n?: number })[]
}
