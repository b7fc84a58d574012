import { createHash, randomUUID } from "node:crypto"
import type { Garden, Person } from "../garden/garden.ts"
import { addDays } from "../values/day.ts"
import { addMs, type Instant, instantOf, MINUTE_MS } from "../values/instant.ts"
import { instantAt, localDay } from "../values/zone.ts"
import { digestDay, digestWaits, nextDigest, sendDigests } from "./digests.ts"
import type { House } from "./house.ts"
import { viewNow } from "./known.ts"
import type { ServedGarden } from "./needs.ts"
import { sendOverview } from "./overview.ts"
import { replan } from "./replan.ts"
import { WAITS } from "./waits.ts"

/**
 * Tells the store which gardens are served, where the shelf has changed: those whose file changed are due to be looked after.
 * At the first call of a process all are told; the store knows by their marks which of them changed.
 */
export async function serveGardens(house: House): Promise<void> {
  await house.shelf.refresh?.()
  const { served } = house.memory
  const version = house.shelf.version()
  if (served.version === version) return
  const gardens = house.shelf.all()
  const first = served.version === null
  // Without a name for this edition of program and handbook every start counts as a new one: all gardens are looked after.
  served.edition ??= randomUUID()
  const changed = gardens.filter((garden) => served.gardens.get(garden.id) !== garden)
  const gone = [...served.gardens.keys()].filter((id) => house.shelf.byId(id) === undefined)
  const edition = served.edition
  await house.store.serve(
    changed.map((garden) => markOf(garden, edition)),
    first ? "all others" : gone,
  )
  for (const garden of changed) served.gardens.set(garden.id, garden)
  for (const id of gone) served.gardens.delete(id)
  served.version = version
}

function markOf(garden: Garden, edition: string): ServedGarden {
  const mark = createHash("sha256").update(edition).update(JSON.stringify(garden)).digest("base64url")
  return { id: garden.id, mark: mark.slice(0, 22) }
}

/** Places a garden's reminders anew where it changed; an error of one garden stays with it. False where it could not be planned. */
export async function lookAfter(house: House, id: string, now: Instant): Promise<boolean> {
  const garden = house.shelf.byId(id)
  // Another worker may have newer files: whoever has the garden looks after it.
  if (!garden) return false
  try {
    await replan(house, garden, now)
    house.memory.errors.delete(`garden ${id}`)
    return true
  } catch (error) {
    house.memory.errors.set(`garden ${id}`, error instanceof Error ? error.message : String(error))
    house.log.error({ garden: id, error }, "a garden could not be planned")
    return false
  }
}

/** Queues the weekly mails of a garden that are due; an error of one garden stays with it. */
export async function sendDigestsOf(house: House, id: string, now: Instant): Promise<void> {
  const garden = house.shelf.byId(id)
  if (!garden) return
  try {
    await sendDigests(house, garden, now)
    await sendOverview(house, garden, now)
  } catch (error) {
    house.memory.errors.set(`garden ${id}`, error instanceof Error ? error.message : String(error))
    house.log.error({ garden: id, error }, "a weekly mail could not be made")
  }
}

/** Sets when a garden is due again; an error of one garden stays with it. */
export async function settleLookOf(house: House, id: string, now: Instant): Promise<void> {
  try {
    await settleLook(house, id, now)
  } catch (error) {
    house.memory.errors.set(`garden ${id}`, error instanceof Error ? error.message : String(error))
    house.log.error({ garden: id, error }, "a garden could not be looked after")
  }
}

/** Sets when a garden that was looked after is due again. */
export async function settleLook(house: House, id: string, now: Instant): Promise<void> {
  const garden = house.shelf.byId(id)
  if (!garden) return
  const { entries } = await viewNow(house, garden, now)
  const next = await nextLook(house, garden, now)
  await house.store.lookedAfter(id, entries.at(-1)?.seq ?? 0, next)
}

/**
 * The next moment at which something can be new in a garden although nobody says or changes anything: its next day, the
 * hour of a weekly mail, fresh weather.
 */
async function nextLook(house: House, garden: Garden, now: Instant): Promise<Instant> {
  const { zone } = garden.place
  const midnight = instantAt(addDays(localDay(now, zone), 1), 0, zone)
  const moments: Instant[] = [midnight, ...weatherMoments(house, garden, now)]
  if (house.mail) {
    for (const person of garden.people) {
      const next = nextDigest(person, now)
      if (next !== null) moments.push(next)
    }
    // Nothing is sent now, or its turn has not come.
    if ((await waitingDigests(house, garden, now)).length > 0) moments.push(addMs(now, WAITS.lookAgainMs))
  }
  return instantOf(Math.min(...moments))
}

/** People whose weekly mail is due and not queued yet. */
export async function waitingDigests(house: House, garden: Garden, now: Instant): Promise<Person[]> {
  const waiting: Person[] = []
  if (!house.mail) return waiting
  for (const person of garden.people) {
    const day = digestDay(person, now)
    if (day !== null && (await digestWaits(house, garden, person, day, now))) waiting.push(person)
  }
  return waiting
}

/** When the weather may be another: a service is asked behind our back where what it said is old, and has answered a little later. */
function weatherMoments(house: House, garden: Garden, now: Instant): Instant[] {
  const asOf = house.memory.views.get(garden.id)?.daily?.asOf
  if (!house.weather) return []
  if (asOf === undefined || asOf === null) return [addMs(now, WAITS.weatherAgainMs)]
  const due = addMs(asOf, WAITS.weatherFreshMs)
  if (now < due) return [due]
  const isBeingAsked = now < addMs(due, WAITS.weatherAgainMs)
  return [addMs(now, isBeingAsked ? 5 * MINUTE_MS : WAITS.weatherAgainMs)]
}
