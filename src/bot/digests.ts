import type { Garden, Person, Weekday } from "../garden/garden.ts"
import type { History } from "../garden/history.ts"
import { hushedKinds } from "../reminders/index.ts"
import { addDays, type Day, weekday } from "../values/day.ts"
import { addMs, type Instant } from "../values/instant.ts"
import { instantAt, localDay, localMinutes } from "../values/zone.ts"
import { type Digest, digest, weekOf } from "../wording/digest.ts"
import type { House } from "./house.ts"
import { seenIn, viewNow } from "./known.ts"
import type { NewOutgoing } from "./needs.ts"
import { seenSince } from "./replan.ts"
import type { View } from "./view.ts"
import { WAITS } from "./waits.ts"

const WEEKDAYS: readonly Weekday[] = ["monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"]

/**
 * Queues the weekly mail of everyone (or one) of a garden whose day and hour have come, once a week each: the key is person and
 * week, so neither a restart nor a clock set back makes a second one. Where the hour was missed it goes up to three days late.
 */
export async function sendDigests(house: House, garden: Garden, now: Instant, only?: string): Promise<void> {
  if (!house.mail) return
  for (const person of garden.people.filter((each) => only === undefined || each.id === only)) {
    const day = digestDay(person, now)
    if (day === null || !(await digestWaits(house, garden, person, day, now))) continue
    const view = await viewNow(house, garden, now)
    await house.store.queue([await digestMessage(house, view, person, day, now)])
    await house.store.remember(markOf(garden, person), weekOf(day))
  }
}

/** Is the mail of that day still to be queued? Not where the person wants none. */
export async function digestWaits(
  house: House,
  garden: Garden,
  person: Person,
  day: Day,
  now: Instant,
): Promise<boolean> {
  if (await alreadyQueued(house, garden, person, day)) return false
  // A week that was over before the garden was first seen has nothing to tell.
  if (day < (await seenSince(house, garden, localDay(now, garden.place.zone)))) return false
  const view = await viewNow(house, garden, now)
  return view.history.channels.get(person.id)?.mail === "open"
}

/** The day whose mail is due now: this week's, from its hour on, for as long as it is worth sending; else null. */
export function digestDay(person: Person, now: Instant): Day | null {
  if (!person.digest || person.email === null) return null
  const today = localDay(now, person.zone)
  const back = (weekday(today) - (WEEKDAYS.indexOf(person.digest.day) + 1) + 7) % 7
  const day =
    back === 0 && localMinutes(now, person.zone) < person.digest.at ? addDays(today, -7) : addDays(today, -back)
  const due = instantAt(day, person.digest.at, person.zone)
  return now >= due && now - due <= WAITS.digestLateMs ? day : null
}

/** The next moment at which a weekly mail falls due; null where the person has none. */
export function nextDigest(person: Person, now: Instant): Instant | null {
  if (!person.digest || person.email === null) return null
  const today = localDay(now, person.zone)
  const ahead = (WEEKDAYS.indexOf(person.digest.day) + 1 - weekday(today) + 7) % 7
  const next = instantAt(addDays(today, ahead), person.digest.at, person.zone)
  return next > now ? next : instantAt(addDays(today, ahead + 7), person.digest.at, person.zone)
}

async function alreadyQueued(house: House, garden: Garden, person: Person, day: Day): Promise<boolean> {
  return ((await house.store.recall(markOf(garden, person))) ?? "") >= weekOf(day)
}

function markOf(garden: Garden, person: Person): string {
  return `digest:${garden.id}:${person.id}`
}

async function digestMessage(house: House, view: View, person: Person, day: Day, now: Instant): Promise<NewOutgoing> {
  const mail = digestFor(house, view, person)
  return {
    key: `digest:${view.garden.id}:${person.id}:${weekOf(day)}`,
    garden: view.garden.id,
    person: person.id,
    kind: "digest",
    channel: "mail",
    to: person.email ?? "",
    subject: mail.subject,
    text: mail.text,
    html: mail.html,
    enclosures: await house.pictures(mail),
    headers: mail.headers,
    told: mail.told,
    seen: seenIn(view).seq,
    notBefore: now,
    goodUntil: addMs(instantAt(day, person.digest?.at ?? 0, person.zone), WAITS.digestLateMs),
  }
}

/** A person's weekly mail as of the view's day. */
export function digestFor(
  house: Pick<House, "handbook" | "weather" | "links" | "stopAddress">,
  view: View,
  person: Person,
): Digest {
  return digest({
    garden: view.garden,
    handbook: house.handbook,
    person,
    on: view.on,
    plan: view.plan,
    reminders: view.reminders.filter((reminder) => reminder.person === person.id),
    entries: view.entries,
    orphans: view.history.orphans,
    weather: view.weather,
    attribution: house.weather?.attribution ?? null,
    links: house.links?.(view.garden, person) ?? null,
    stopAddress: house.stopAddress,
    numberOf: numbersOf(view.history, person.id),
    hushed: [...(hushedKinds({ garden: view.garden, history: view.history }).get(person.id) ?? [])],
  })
}

/** The number under which a person last heard of each reminder. */
export function numbersOf(history: History, person: string): (id: string) => number | null {
  return (id) => history.reminders.get(id)?.said.findLast((said) => said.to === person)?.n ?? null
}
