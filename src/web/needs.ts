/** What the pages need of the bot, as narrow as they use it. `main.ts` hands it in; the pages decide nothing. */
import type { HttpBindings } from "@hono/node-server"
import type { Hono } from "hono"
import type { Incoming } from "../bot/needs.ts"
import type { Instant } from "../values/instant.ts"
import type { RevisedEvent } from "../wording/calendar.ts"
import type { Overview } from "../wording/organiser-page.ts"
import type { SeasonView } from "../wording/season-page-view.ts"
import type { PersonRef } from "./link.ts"

export type { PersonRef } from "./link.ts"

/** The routes of this house. */
export type App = Hono<{ Bindings: HttpBindings }>

/** One figure for a monitor. `counter`: only ever rises while the process lives; `gauge`: stands as it is. */
export type Metric = {
  name: string
  help: string
  is: "counter" | "gauge"
  values: readonly { labels?: Record<string, string>; value: number }[]
}

/** A photo that was sent with a reply. */
export type Photo = { type: string; bytes: Uint8Array<ArrayBuffer> }

/** What the calendar feed of a person holds. */
export type CalendarView = { name: string; events: readonly RevisedEvent[] }

export type Health = { ok: boolean } & Record<string, unknown>

/** One line for the operator's log. Tokens never stand in `path`: it reads `/season/***`. */
export type Visit = { method: string; path: string; status: number; ms: number }

export type WebNeeds = {
  /** Where to listen; port 0 takes any that is free. */
  host: string
  port: number
  /** The address that links are made with; its origin is the only one that forms are taken from. null: as served. */
  publicUrl: string | null
  /** Keys that sign links; the first signs, all are taken. So a key can be changed without breaking every link at once. */
  secrets: readonly [string, ...string[]]
  now(): Instant
  /** When this person last had new links made: those made before are dead. null: never. */
  renewed(who: PersonRef): Promise<Instant | null>
  /** Ends all older links of a person and sends them new ones; null: there is no way to send them, and nothing changed. */
  renewLinks(who: PersonRef): Promise<"mail" | "text" | null>
  /** null: there is no such person (any more). Reading it changes nothing. */
  season(who: PersonRef): Promise<SeasonView | null>
  /** What an organiser sees of the gardens of their club; null: this person is no organiser (any more). */
  overview?(who: PersonRef): Promise<Overview | null>
  photo(who: PersonRef, name: string): Promise<Photo | null>
  calendar(who: PersonRef): Promise<CalendarView | null>
  /** Name of the garden whose mails would end; null: no such person. Reading it changes nothing. */
  mailOf(who: PersonRef): Promise<{ garden: string } | null>
  /** Ends a person's mails. Twice is the same as once. */
  stopMail(who: PersonRef): Promise<void>
  /** The same door that texts and mails come through: keeps the words, understands them, answers. Throws where they were not kept. */
  receive(incoming: Incoming): Promise<void>
  health(): Promise<Health>
  /** Figures for a monitor; absent: none. */
  metrics?(): Promise<Metric[]>
  log?(visit: Visit): void
  /** Tells the operator of something that went wrong in a request. */
  failed?(error: unknown): void
  /** Adds routes of others, such as a carrier's webhooks, which bring their own checks. */
  more?(app: Hono<{ Bindings: HttpBindings }>): void
}
