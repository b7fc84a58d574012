import type { Incoming } from "../../src/bot/needs.ts"
import type { Entry } from "../../src/garden/entry.ts"
import { type Instant, instant } from "../../src/values/instant.ts"
import { linksFor } from "../../src/web/link.ts"
import type { Visit, WebNeeds } from "../../src/web/needs.ts"
import { calendarEvents, reviseEvents } from "../../src/wording/calendar.ts"
import type { SeasonView } from "../../src/wording/season-page-view.ts"
import { BEDS, ENTRIES, garden, namesOnly, ON, person, plan, REMINDERS } from "../wording/long-acre.ts"

export const SECRET = "a key of the tests, long enough"
export const INES = { garden: "long-acre", person: "ines" }
export const NOW = instant("2026-05-10T09:00:00-04:00")

/** Numbers that Ines was told; the look for regrowth was not said yet. */
const NUMBERS: Record<string, number> = {
  "south:2025-09-20:watch-bloom:1": 1,
  "kitchen:2026-04-25:check-emergence:1": 2,
  "south:2025-09-20:cut:1": 3,
}

/** A small JPEG header: enough to be handed out as it is. */
export const PHOTO = new Uint8Array([0xff, 0xd8, 0xff, 0xe0, 0, 16, 0x4a, 0x46, 0x49, 0x46])

/**
 * The pages' needs over a garden made by hand. It keeps what comes through the door as the bot does: the same id once; a
 * press is answered and stands in the log.
 */
export function pages(over: Partial<WebNeeds> = {}, viewOver: Partial<SeasonView> = {}) {
  const entries: Entry[] = [...ENTRIES]
  const received: Incoming[] = []
  const stopped: string[] = []
  const visits: Visit[] = []
  const errors: unknown[] = []
  const clock = { now: NOW as Instant }
  const renewed: { at: Instant | null } = { at: null }
  const view = (): SeasonView => ({
    garden: garden(BEDS),
    handbook: namesOnly(),
    person: person("ines"),
    on: ON,
    now: clock.now,
    plan: plan(),
    reminders: REMINDERS,
    entries,
    numberOf: (id) => NUMBERS[id] ?? null,
    ...viewOver,
  })
  const known = (who: { garden: string; person: string }) => who.garden === INES.garden && who.person === INES.person
  const needs: WebNeeds = {
    host: "127.0.0.1",
    port: 0,
    publicUrl: null,
    secrets: [SECRET],
    now: () => clock.now,
    renewed: async () => renewed.at,
    renewLinks: async () => {
      renewed.at = clock.now
      return "mail"
    },
    season: async (who) => (known(who) ? view() : null),
    photo: async (_, name) => (name === "2026-05-06-a1b2c3.jpg" ? { type: "image/jpeg", bytes: PHOTO } : null),
    calendar: async (who) => {
      if (!known(who)) return null
      const { plan: seen, garden: g, handbook, person: p } = view()
      const at = instant("2026-05-10T00:00:00-04:00")
      return { name: `${g.name} season`, events: reviseEvents(calendarEvents(seen, g, handbook, p), {}, at).events }
    },
    mailOf: async (who) => (known(who) ? { garden: "Long Acre" } : null),
    stopMail: async (who) => void stopped.push(who.person),
    receive: async (incoming) => {
      if (received.some((each) => each.id === incoming.id)) return
      received.push(incoming)
      const seq = (entries.at(-1)?.seq ?? 0) + 1
      const common = { at: clock.now, garden: "long-acre", via: "web" as const }
      entries.push({ ...common, seq, by: "ines", kind: "reply", text: incoming.text, acts: [], message: incoming.id })
      entries.push({
        ...common,
        seq: seq + 1,
        by: "ryebell",
        kind: "answer",
        to: "ines",
        text: `Noted: ${incoming.text}`,
      })
    },
    health: async () => ({ ok: true, lastTick: "2026-05-10T13:00:00Z" }),
    log: (visit) => void visits.push(visit),
    failed: (error) => void errors.push(error),
    ...over,
  }
  const links = (base = "http://localhost") => linksFor(base, INES, clock.now, [SECRET])
  /** All that could be changed by a visit. */
  const state = () => JSON.stringify({ entries, received, stopped, renewed })
  return { needs, links, received, stopped, visits, errors, entries, clock, view, state }
}

/** The value of a field of the first form of a page whose action ends so. */
export function field(page: string, action: string, name: string): string {
  const form = page.split("<form").find((each) => each.includes(`${action}"`)) ?? ""
  return new RegExp(`name="${name}" value="([^"]*)"`).exec(form)?.[1] ?? ""
}
