import type { Person } from "../garden/garden.ts"
import type { Day } from "../values/day.ts"
import { addMs, DAY_MS, type Instant, MINUTE_MS } from "../values/instant.ts"
import { instantAt, localDay, localMinutes } from "../values/zone.ts"
import type { Given } from "../wording/numbers.ts"
import { type Parcel, parcel } from "../wording/parcel.ts"
import { stopHeaders } from "../wording/stop-headers.ts"
import { untilLogStands } from "./again.ts"
import { askForConsent, type Consent, consentOf } from "./consent.ts"
import { type House, type Memory, nudgeWays } from "./house.ts"
import { seenIn } from "./known.ts"
import type { DuePerson, NewOutgoing } from "./needs.ts"
import { asInAllGardens, isToldElsewhere, noteNudge, nudgesSoFar, toldElsewhere } from "./one-phone.ts"
import { momentFor } from "./pace.ts"
import { replan } from "./replan.ts"
import type { View } from "./view.ts"
import { WAITS } from "./waits.ts"
import { personRef } from "./who.ts"

/**
 * Turns what is due into messages, a person at a time so that all that is due to one makes one text. Nothing is sent
 * here: the messages are durable rows first. A person whose garden cannot be planned is passed over; the others go on.
 */
export async function deliver(house: House, now: Instant): Promise<void> {
  for (let taken = 0; taken < WAITS.perTick; taken += 1) if (!(await deliverNext(house, now))) return
}

/** Puts what is due to one person into words; false where nothing is due to anybody. */
export async function deliverNext(house: House, now: Instant): Promise<boolean> {
  const due = await house.store.claimPerson(now, WAITS.personLeaseMs)
  if (!due) return false
  try {
    await untilLogStands(() => deliverTo(house, due, now))
  } catch (error) {
    house.memory.errors.set(`garden ${due.garden}`, error instanceof Error ? error.message : String(error))
    house.log.error({ garden: due.garden, error }, "what is due to a person could not be put into words")
  }
  return true
}

async function deliverTo(house: House, due: DuePerson, now: Instant): Promise<void> {
  // Somebody may have joined at another worker a moment ago.
  if (!house.shelf.byId(due.garden)) await house.shelf.refresh?.()
  const garden = house.shelf.byId(due.garden)
  const listed = garden?.people.find((each) => each.id === due.person)
  if (!garden || !listed) {
    await house.store.settlePerson(due, [], movedTo(due, null), [])
    return
  }
  const person = asInAllGardens(house.shelf, garden, listed, now)
  const view = await replan(house, garden, now)
  const consent = consentOf(house, view, person, now)
  const ways = openWays(person, view, house.memory, consent, now)
  const ref = personRef(garden.id, person.id)
  const asks = consent.is === "ask" && nudgeWays(person).includes("text") && isOpen(view, person, "text")
  const sofar = await nudgesSoFar(house, garden, person)
  const waits = () => house.store.settlePerson(due, [], movedTo(due, addMs(now, MINUTE_MS)), [])
  if (await isToldElsewhere(house, garden, person, now)) return void (await waits())
  const elsewhere = await toldElsewhere(house, garden, person, now)
  const sayBy = (way: "text" | "mail") => say(house, view, person, elsewhere, way, now)
  const said = ways.length === 0 && !asks ? null : sayBy(ways[0] ?? "text")
  if (said === null) {
    await house.store.settlePerson(due, [], laterDays(view, due, person, now), [])
    return
  }
  if (said.is === "wait") {
    await house.store.settlePerson(
      due,
      [],
      movedTo(due, instantAt(said.until.day, said.until.minutes, person.zone)),
      [],
    )
    return
  }
  const messages = ways.map((way) =>
    nudge(house, view, person, way, way === ways[0] ? said : (sayBy(way) as Parcel), now),
  )
  if (asks) messages.push(askForConsent(view, person, consent, now))
  const moved = ways.length === 0 ? laterDays(view, due, person, now) : movedAfter(due, said, person)
  const first = messages[0]
  if (first && !(await noteNudge(house, garden, person, { key: first.key, sofar }, now))) return void (await waits())
  if (await house.store.settlePerson(due, messages, moved, [], seenIn(view))) house.memory.away.delete(ref)
}

function say(
  house: House,
  view: View,
  person: Person,
  elsewhere: readonly Given[],
  channel: "text" | "mail",
  now: Instant,
): ReturnType<typeof parcel> {
  const today = localDay(now, person.zone)
  return parcel({
    person,
    local: { day: today, minutes: localMinutes(now, person.zone) },
    reminders: view.reminders.filter((reminder) => reminder.person === person.id),
    history: view.history,
    forecast: view.weather.forecast,
    answered: answeredToday(view, person, today, now),
    away: awayFor(house, view, person),
    channel,
    elsewhere,
  })
}

/** Days the bot was away, where the person has heard nothing since; else null. */
function awayFor({ memory }: House, { garden, entries }: View, person: Person): number | null {
  const days = memory.away.get(personRef(garden.id, person.id)) ?? null
  const back = memory.backSince
  if (days === null || back === null) return days
  const isTold = entries.some(
    (entry) => entry.at >= back && (entry.kind === "sent" || entry.kind === "answer") && entry.to === person.id,
  )
  return isTold ? null : days
}

/** Minutes of today at which the person's replies were answered. */
function answeredToday(view: View, person: Person, today: Day, now: Instant): number[] {
  const minutes: number[] = []
  for (let i = view.entries.length - 1; i >= 0; i -= 1) {
    const entry = view.entries[i]!
    if (entry.at < now - DAY_MS) break
    if (entry.kind === "answer" && entry.to === person.id && localDay(entry.at, person.zone) === today) {
      minutes.push(localMinutes(entry.at, person.zone))
    }
  }
  return minutes
}

/**
 * The ways that are open to a person now. Texts that cannot go (the phone is of no use, its owner has not said yes yet, or
 * the carrier has been down for hours) are mails instead, where there is an address; a stop is no such case.
 */
function openWays(person: Person, view: View, memory: Memory, consent: Consent, now: Instant): ("text" | "mail")[] {
  const wanted = nudgeWays(person)
  const stopped = view.history.channels.get(person.id)?.text === "stopped"
  const down = memory.textDownSince !== null && now - memory.textDownSince >= WAITS.mailInsteadMs
  const mayText = isOpen(view, person, "text") && consent.is === "given" && !down
  const ways = wanted.filter((way) => (way === "text" ? mayText : isOpen(view, person, way)))
  if (ways.length > 0 || !wanted.includes("text") || stopped) return ways
  return isOpen(view, person, "mail")
    ? ["mail"]
    : down && consent.is === "given" && isOpen(view, person, "text")
      ? ["text"]
      : []
}

function isOpen(view: View, person: Person, way: "text" | "mail"): boolean {
  return (view.history.channels.get(person.id)?.[way] ?? "open") === "open" && addressOf(person, way) !== null
}

/** Where a message of that way goes; null where the person gave no such address. */
export function addressOf(person: Person, way: "text" | "mail"): string | null {
  return way === "text" ? person.phone : person.email
}

function nudge(
  house: House,
  view: View,
  person: Person,
  way: "text" | "mail",
  said: Parcel,
  now: Instant,
): NewOutgoing {
  const today = localDay(now, person.zone)
  const what = said.told.map((told) => `${told.id}#${told.call ?? 1}`).join(",")
  return {
    key: `nudge:${view.garden.id}:${person.id}:${today}:${way}:${what}`,
    garden: view.garden.id,
    person: person.id,
    kind: "nudge",
    channel: way,
    to: addressOf(person, way) ?? "",
    subject: said.subject,
    text: said.text,
    ...(way === "mail" ? { headers: stopHeaders(house.links?.(view.garden, person) ?? null, house.stopAddress) } : {}),
    told: said.told,
    seen: seenIn(view).seq,
    notBefore: way === "text" ? momentFor(house, view.garden, person, now) : now,
    goodUntil: instantAt(today, person.texts.to, person.zone),
  }
}

function movedTo(due: DuePerson, speaksAt: Instant | null): { id: string; person: string; speaksAt: Instant | null }[] {
  return due.reminders.map((id) => ({ id, person: due.person, speaksAt }))
}

/** Nothing is due after all: what the fresh plan has for a later day waits for it, the rest is closed. */
function laterDays(
  view: View,
  due: DuePerson,
  person: Person,
  now: Instant,
): { id: string; person: string; speaksAt: Instant | null }[] {
  return due.reminders.map((id) => {
    const speaks = view.reminders.find((each) => each.id === id && each.person === person.id)?.speaks ?? null
    const at = speaks === null ? null : instantAt(speaks, person.texts.from, person.zone)
    return { id, person: person.id, speaksAt: at !== null && at > now ? at : null }
  })
}

/** What was said waits for its next call, what was held for its day; the rest that was due comes at the next slot. */
function movedAfter(
  due: DuePerson,
  said: Parcel,
  person: Person,
): { id: string; person: string; speaksAt: Instant | null }[] {
  const next = new Map<string, Day | null>([
    ...said.held.map((held): [string, Day | null] => [held.id, held.until]),
    ...said.saying.map((each): [string, Day | null] => [each.id, each.speaksNext]),
  ])
  return due.reminders.map((id) => {
    const day = next.get(id) ?? null
    return { id, person: due.person, speaksAt: day === null ? null : instantAt(day, person.texts.from, person.zone) }
  })
}
