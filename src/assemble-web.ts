import { randomBytes } from "node:crypto"
import { existsSync, mkdirSync, readFileSync } from "node:fs"
import { join } from "node:path"
import { metricsOf } from "./assemble-metrics.ts"
import type { Desk } from "./bot/desk.ts"
import { numbersOf } from "./bot/digests.ts"
import type { House } from "./bot/house.ts"
import { viewNow } from "./bot/known.ts"
import type { Clock } from "./bot/needs.ts"
import { linksRenewed, renewLinks } from "./bot/new-links.ts"
import { organiserOf, overviewOf } from "./bot/overview.ts"
import { feedName } from "./bot/replan.ts"
import type { Someone } from "./bot/who.ts"
import { readPhoto } from "./channels/photos.ts"
import { writeFileAtomically } from "./store/atomic-file.ts"
import { instantText, MINUTE_MS } from "./values/instant.ts"
import { instantAt } from "./values/zone.ts"
import { linksFor, type PersonRef } from "./web/link.ts"
import type { Health, WebNeeds } from "./web/needs.ts"
import { calendarEvents, type FeedMemory, reviseEvents } from "./wording/calendar.ts"
import type { DigestLinks } from "./wording/digest.ts"

/** Ticks come once a minute; without one for so long the scheduler is stuck. */
const TICK_OVERDUE_MS = 3 * MINUTE_MS

/** The key that signs links: as set, else made at the first start and kept beside the data. */
export function secretOf(setting: string | null, folder: string): string {
  if (setting !== null) return setting
  const file = join(folder, "secret.key")
  mkdirSync(folder, { recursive: true })
  if (existsSync(file)) return readFileSync(file, "utf8").trim()
  const made = randomBytes(32).toString("base64url")
  writeFileAtomically(file, `${made}\n`)
  return made
}

/** Signed links of a person below a public address. */
export function linkMaker(base: string, secret: string, clock: Clock): NonNullable<House["links"]> {
  return (garden, person): DigestLinks =>
    linksFor(base, { garden: garden.id, person: person.id }, clock.now(), [secret])
}

export type WebParts = {
  house: House
  desk: Desk
  clock: Clock
  folder: string
  secret: string
  host: string
  port: number
  publicUrl: string | null
  wire: { more: WebNeeds["more"]; trouble(): Record<string, string> }
}

/** What the pages need of the bot. */
export function webNeeds({ house, desk, clock, folder, secret, host, port, publicUrl, wire }: WebParts): WebNeeds {
  const someone = (who: PersonRef): Someone | null => {
    const garden = house.shelf.byId(who.garden)
    const person = garden?.people.find((each) => each.id === who.person)
    return garden && person ? { garden, person } : null
  }
  return {
    host,
    port,
    publicUrl,
    secrets: [secret],
    now: () => clock.now(),
    renewed: (who) => linksRenewed(house, who.garden, who.person),
    async renewLinks(who) {
      const found = someone(who)
      const way = found ? await renewLinks(house, found, clock.now()) : null
      // Whoever pressed waits for them; a message that does not leave now leaves with the next tick.
      if (way) desk.wake()
      return way
    },
    async season(who) {
      const found = someone(who)
      if (!found) return null
      const now = clock.now()
      const { garden, on, plan, reminders, entries, history } = await viewNow(house, found.garden, now)
      const { person } = found
      const own = reminders.filter((reminder) => reminder.person === person.id)
      return {
        garden,
        handbook: house.handbook,
        person,
        on,
        now,
        plan,
        reminders: own,
        entries,
        attribution: house.weather?.attribution ?? null,
        numberOf: numbersOf(history, person.id),
      }
    },
    async overview(who) {
      await house.shelf.refresh?.()
      const found = someone(who)
      const isOrganiser = found !== null && organiserOf(house, found.garden)?.id === found.person.id
      return isOrganiser ? overviewOf(house, found.garden, clock.now()) : null
    },
    photo: async (_, name) => readPhoto(join(folder, "photos"), name),
    async calendar(who) {
      const found = someone(who)
      if (!found) return null
      const { plan, garden, on } = await viewNow(house, found.garden, clock.now())
      const memory = JSON.parse((await house.store.recall(feedName(garden.id, found.person.id))) ?? "{}") as FeedMemory
      const at = instantAt(on, 0, garden.place.zone)
      const { events } = reviseEvents(calendarEvents(plan, garden, house.handbook, found.person), memory, at)
      return { name: garden.name, events }
    },
    async mailOf(who) {
      const found = someone(who)
      return found ? { garden: found.garden.name } : null
    },
    async stopMail(who) {
      const found = someone(who)
      if (!found) return
      const view = await viewNow(house, found.garden, clock.now())
      if (view.history.channels.get(found.person.id)?.mail === "stopped") return
      const { garden, person } = found
      await house.store.append([
        {
          at: clock.now(),
          garden: garden.id,
          by: person.id,
          via: "web",
          kind: "channel",
          person: person.id,
          channel: "mail",
          state: "stopped",
          because: "the link in a mail",
        },
      ])
    },
    receive: (incoming) => desk.take(incoming),
    metrics: () => metricsOf(house, clock),
    health: () => healthOf(house, clock, wire.trouble()),
    ...(wire.more ? { more: wire.more } : {}),
    log: ({ method, path, status, ms }) => house.log.debug({ method, path, status, ms }, "visit"),
    failed: (error) => house.log.error({ error }, "a request failed"),
  }
}

/** Whether the bot does its work: the store takes a probe, ticks come, and what each channel last complained of. */
export async function healthOf(house: House, clock: Clock, trouble: Record<string, string>): Promise<Health> {
  const { lastTick, errors } = house.memory
  const ticking = lastTick !== null && clock.now() - lastTick <= TICK_OVERDUE_MS
  let store = "ok"
  let depth = null
  try {
    await house.store.probe()
    depth = await house.store.depth()
  } catch (error) {
    store = error instanceof Error ? error.message : String(error)
  }
  return {
    ok: ticking && store === "ok" && house.hold.reason === null,
    lastTick: lastTick === null ? null : instantText(lastTick),
    store,
    hold: house.hold.reason,
    queue: depth,
    errors: { ...Object.fromEntries(errors), ...trouble },
    gardens: house.shelf.all().length,
  }
}
