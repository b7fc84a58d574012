import type { Entry } from "../garden/entry.ts"
import type { Garden, Person } from "../garden/garden.ts"
import { addMs, type Instant } from "../values/instant.ts"
import { localDay } from "../values/zone.ts"
import { weekOf } from "../wording/digest.ts"
import { type OverdueCut, type Overview, organiserMail, type Plot, type Reach } from "../wording/organiser-page.ts"
import { stopHeaders } from "../wording/stop-headers.ts"
import { consentOf } from "./consent.ts"
import { digestDay } from "./digests.ts"
import type { House } from "./house.ts"
import { viewNow } from "./known.ts"
import type { View } from "./view.ts"
import { WAITS } from "./waits.ts"

/** So many plots are looked at for one page or mail: each costs a plan. */
const MOST_PLOTS = 500

/** The organiser of a garden that lets others in: the first person of its file. Nobody else has the page or the mail. */
export function organiserOf(house: Pick<House, "shelf">, garden: Garden): Person | null {
  const hosts = garden.invite !== undefined || (house.shelf.guestsOf?.(garden.id) ?? []).length > 0
  return hosts ? (garden.people[0] ?? null) : null
}

/** What an organiser may see: how people are reached, and which cuts are over their limit, plot by plot. */
export async function overviewOf(house: House, host: Garden, now: Instant): Promise<Overview> {
  const guests = [...(house.shelf.guestsOf?.(host.id) ?? [])].sort((a, b) => a.name.localeCompare(b.name, "en"))
  const plots: Plot[] = []
  for (const garden of guests.slice(0, MOST_PLOTS)) plots.push(await plotOf(house, garden, now))
  return {
    garden: host.name,
    invite: host.invite ?? null,
    mail: house.stopAddress,
    on: localDay(now, host.place.zone),
    plots,
    more: Math.max(0, guests.length - MOST_PLOTS),
  }
}

async function plotOf(house: House, garden: Garden, now: Instant): Promise<Plot> {
  try {
    const view = await viewNow(house, garden, now)
    return {
      garden: garden.name,
      people: garden.people.map((person) => reachOf(house, view, person, now)),
      overdue: overdueIn(view),
    }
  } catch (error) {
    house.log.error({ garden: garden.id, error }, "a plot could not be planned for its organiser")
    return { garden: garden.name, people: [], overdue: [], unplanned: true }
  }
}

function reachOf(house: House, view: View, person: Person, now: Instant): Reach {
  const state = view.history.channels.get(person.id) ?? { text: "open", mail: "open" }
  const consent = consentOf(house, view, person, now).is
  const text =
    state.text !== "open" || consent === "given" ? state.text : consent === "ask" ? "not asked" : "not confirmed"
  const day = (entry: Entry | undefined) => (entry ? localDay(entry.at, person.zone) : null)
  const failed = view.entries.findLast((entry) => entry.kind === "failed" && entry.to === person.id)
  return {
    name: person.name,
    text: person.phone === null ? "none" : text,
    mail: person.email === null ? "none" : state.mail,
    lastSent: day(
      view.entries.findLast((entry) => (entry.kind === "sent" || entry.kind === "digest") && entry.to === person.id),
    ),
    lastFailed: failed?.kind === "failed" ? { on: localDay(failed.at, person.zone), code: failed.code } : null,
  }
}

function overdueIn({ plan, garden, on }: View): OverdueCut[] {
  return plan.beds.flatMap(({ bed, sowings }) =>
    sowings.flatMap(({ cut, noCut, state, endedOn }) => {
      const stands = state === "sown" || state === "up" || state === "growing" || state === "blooming"
      if (!cut || noCut !== null || !stands || endedOn !== null || cut.by >= on) return []
      return [{ bed: garden.beds.find((each) => each.id === bed)?.name ?? bed, by: cut.by }]
    }),
  )
}

/** Queues the organiser's weekly mail, on the day of their own weekly mail: once a week, whoever tries and however often. */
export async function sendOverview(house: House, host: Garden, now: Instant): Promise<void> {
  const organiser = organiserOf(house, host)
  if (!house.mail || !organiser?.email) return
  const day = digestDay(organiser, now)
  if (day === null) return
  const key = `overview:${host.id}:${organiser.id}:${weekOf(day)}`
  if ((await house.store.recall(`overview:${host.id}`)) === key) return
  const view = await viewNow(house, host, now)
  if ((view.history.channels.get(organiser.id)?.mail ?? "open") !== "open") return
  const overview = await overviewOf(house, host, now)
  if (overview.plots.length === 0) return
  await house.store.queue([
    {
      key,
      garden: host.id,
      person: organiser.id,
      kind: "service",
      channel: "mail",
      to: organiser.email,
      ...organiserMail(overview, house.overviewLink?.(host, organiser) ?? null),
      headers: stopHeaders(house.links?.(host, organiser) ?? null, house.stopAddress),
      told: [],
      notBefore: now,
      goodUntil: addMs(now, WAITS.digestLateMs),
    },
  ])
  await house.store.remember(`overview:${host.id}`, key)
}
