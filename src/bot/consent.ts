import type { Entry, NewEntry } from "../garden/entry.ts"
import type { Person } from "../garden/garden.ts"
import { DAY_MS, type Instant } from "../values/instant.ts"
import { instantAt, localDay } from "../values/zone.ts"
import { inviteText, stillYouText } from "../wording/answer-service.ts"
import type { House } from "./house.ts"
import type { Incoming, NewOutgoing } from "./needs.ts"
import type { View } from "./view.ts"
import { WAITS } from "./waits.ts"
import type { Someone } from "./who.ts"

/**
 * Whether texts may go to a person's phone: `given`; `ask`: they are asked first, and `again` says which time it is;
 * `waiting` for their word; `silent`: they were asked as often as is polite.
 */
export type Consent =
  | { is: "given" }
  | { is: "ask"; question: "join" | "still"; again: number }
  | { is: "waiting" }
  | { is: "silent" }

const GIVEN: Consent = { is: "given" }
/** How often a number that never answered is asked; then it stays quiet and the organiser is told (failure P1). */
const MOST_INVITES = 2
/** Without a word for so long the number may be somebody else's by now: it is asked once (failure P2). */
const STILL_AFTER_MS = 365 * DAY_MS

/** The consent of a person to texts, as the log tells it. Channels that are no carrier's need none. */
export function consentOf(house: Pick<House, "text">, { entries }: View, person: Person, now: Instant): Consent {
  if (house.text?.via !== "sms" || person.phone === null) return GIVEN
  const confirmed = entries.findLast((entry) => isConfirmed(entry, person))
  if (!confirmed) return asked(entries, person, "join", 0, now, MOST_INVITES)
  const heard = entries.findLast((entry) => entry.kind === "reply" && entry.by === person.id && entry.via === "sms")
  const last = Math.max(confirmed.at, heard?.at ?? 0) as Instant
  return now - last < STILL_AFTER_MS ? GIVEN : asked(entries, person, "still", last, now, 1)
}

/** Consent belongs to a phone, not to a name: a number that is mended in the garden file is asked anew. */
function isConfirmed(entry: Entry, person: Person): boolean {
  return (
    entry.kind === "channel" &&
    entry.person === person.id &&
    entry.channel === "text" &&
    (entry.state === "confirmed" || entry.state === "started") &&
    entry.because.endsWith(endOf(person))
  )
}

/** As much of a phone as the log needs to tell one from another. */
function endOf({ phone }: Pick<Person, "phone">): string {
  return `from the phone ending in ${phone?.slice(-4)}`
}

function asked(
  entries: readonly Entry[],
  person: Person,
  question: "join" | "still",
  since: number,
  now: Instant,
  most: number,
): Consent {
  const asks = entries.filter(
    (entry) =>
      entry.kind === "sent" &&
      entry.to === person.id &&
      entry.at >= since &&
      entry.message?.startsWith(keyOf(entry.garden, person, question)),
  )
  const last = asks.at(-1)
  if (last && now - last.at < WAITS.inviteAgainMs) return { is: "waiting" }
  return asks.length >= most ? { is: "silent" } : { is: "ask", question, again: asks.length + 1 }
}

function keyOf(garden: string, person: Person, question: "join" | "still"): string {
  return `${question}:${garden}:${person.id}:${person.phone?.slice(-4)}:`
}

/** The text that asks: it tells no reminder, and goes within the person's hours like any other. */
export function askForConsent(view: View, person: Person, consent: Consent & { is: "ask" }, now: Instant): NewOutgoing {
  const today = localDay(now, person.zone)
  return {
    key: `${keyOf(view.garden.id, person, consent.question)}${today}`,
    garden: view.garden.id,
    person: person.id,
    kind: "nudge",
    channel: "text",
    to: person.phone ?? "",
    text: consent.question === "join" ? inviteText(view.garden) : stillYouText(person, view.garden),
    told: [],
    notBefore: now,
    goodUntil: instantAt(today, person.texts.to, person.zone),
  }
}

/** A plain yes to the text that asked. Anything that is told or asked of the bot says the same by being said. */
const YES = /^\W*(?:y|ya|yes|yep|yeah|yup|ok|okay|sure|please|fine|join|start|si|ja|oui)\b/i

/** Is this a yes to the text that asked? */
export function saysYes(text: string): boolean {
  return YES.test(text)
}

/** The record of what a phone's owner said about texts to it. */
export function consentRecord(
  common: { at: Instant; garden: string; by: string; via: NewEntry["via"] },
  person: string,
  phone: string | null,
  state: "started" | "confirmed",
): NewEntry {
  return { ...common, kind: "channel", person, channel: "text", state, because: `a text ${endOf({ phone })}` }
}

/**
 * The record of consent that a text of theirs is: whoever tells the bot something, joins or says yes wants its texts. Null
 * where nothing is to be recorded.
 */
export function consentGiven(
  house: Pick<House, "text">,
  view: View,
  { garden, person }: Someone,
  incoming: Incoming,
  acts: readonly { act: string }[],
  now: Instant,
): NewEntry | null {
  if (incoming.via !== "sms" || acts.some((act) => act.act === "stop")) return null
  const stopped = view.history.channels.get(person.id)?.text === "stopped"
  const back = acts.some((act) => act.act === "start" || act.act === "join")
  if (stopped ? !back : consentOf(house, view, person, now).is === "given") return null
  if (acts.every((act) => act.act === "help") && !saysYes(incoming.text)) return null
  const common = { at: now, garden: garden.id, by: person.id, via: incoming.via }
  return consentRecord(common, person.id, person.phone, stopped ? "started" : "confirmed")
}
