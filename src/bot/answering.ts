import type { NewEntry } from "../garden/entry.ts"
import { understand } from "../replies/understand.ts"
import type { Words } from "../replies/vocabulary.ts"
import { type Day, dayOf } from "../values/day.ts"
import { DAY_MS, type Instant } from "../values/instant.ts"
import { localDay, type Zone } from "../values/zone.ts"
import { PROOF_MAIL, strangerMessage } from "../wording/answer-service.ts"
import { addressOf } from "./deliver.ts"
import type { Incoming, NewOutgoing } from "./needs.ts"
import type { View } from "./view.ts"
import { personRef, type Someone } from "./who.ts"

/** A press on the page is answered by the page, which reads the answer from the log. */
export function leavesByMessage({ via }: Incoming): boolean {
  return via !== "web" && via !== "file" && via !== "cli"
}

export function shownAnswer(
  view: View,
  { garden, person }: Someone,
  { via }: Incoming,
  text: string,
  now: Instant,
): NewEntry {
  return { at: now, garden: garden.id, by: "ryebell", via, kind: "answer", to: person.id, answers: nextSeq(view), text }
}

/** The number that the reply will have in the log. */
function nextSeq(view: View): number {
  return (view.entries.at(-1)?.seq ?? 0) + 1
}

/** The answer leaves the way the words came in. `last`: it still goes to somebody who has just said stop. */
export function answerMessage(
  view: View,
  { garden, person }: Someone,
  incoming: Incoming,
  text: string,
  last: boolean,
  now: Instant,
): NewOutgoing[] {
  if (!leavesByMessage(incoming)) return []
  const channel = incoming.via === "email" ? "mail" : "text"
  return [
    {
      key: `answer:${incoming.id}`,
      garden: garden.id,
      person: person.id,
      kind: last ? "service" : "answer",
      channel,
      to: incoming.via === "terminal" ? personRef(garden.id, person.id) : (addressOf(person, channel) ?? incoming.from),
      ...(channel === "mail" ? headOfAnswer(incoming) : {}),
      text,
      told: [],
      answers: nextSeq(view),
      notBefore: now,
      goodUntil: (now + DAY_MS) as Instant,
    },
  ]
}

/** Subject and headers by which a mail is an answer in the thread of theirs. */
export function headOfAnswer({ extra }: Incoming): Pick<NewOutgoing, "subject" | "headers"> {
  const subject = extra?.subject
  return {
    subject: subject ? (/^re:/i.test(subject) ? subject : `Re: ${subject}`) : "Your garden",
    ...(extra?.messageId
      ? { headers: { "In-Reply-To": extra.messageId, References: extra.references ?? extra.messageId } }
      : {}),
  }
}

/**
 * Under this key leaves whatever is said to an address, or a phone, that nothing proves to be its sender's: one message a day,
 * whatever comes from there.
 */
export function strangerKey(channel: "text" | "mail", from: string, zone: Zone, now: Instant): string {
  return `stranger:${localDay(now, zone)}:${channel}:${from}`
}

/** A mail that names neither a mail of ours nor the address that only its person was told may be anybody's (failure M13). */
export function isUnproven({ via, extra }: Incoming): boolean {
  return via === "email" && extra?.proof === "none"
}

/** Asks a person, once a day at most and at their own address, to answer a mail of ours instead. */
export function proofQuestion({ garden }: View, { person }: Someone, now: Instant): NewOutgoing[] {
  if (person.email === null) return []
  return [
    {
      key: `proof:${localDay(now, person.zone)}:${garden.id}:${person.id}`,
      garden: garden.id,
      person: person.id,
      kind: "answer",
      channel: "mail",
      to: person.email,
      ...PROOF_MAIL,
      told: [],
      notBefore: now,
      goodUntil: (now + DAY_MS) as Instant,
    },
  ]
}

/** Words to which the carrier gives an answer of its own, alone in a text (its docs on opt-out): two voices would be one too many. */
const CARRIER_ANSWERS = /^\s*(?:stop|stopall|unsubscribe|cancel|end|quit|revoke|optout|start|unstop)\s*$/i

/** Has the carrier answered this text itself? Then we stay silent (failure P14). */
export function carrierAnswers({ via, text, extra }: Incoming): boolean {
  return via === "sms" && (extra?.optOut !== undefined || CARRIER_ANSWERS.test(text))
}

/** Whoever says anything like it wants no answer, known or not. */
const ENDING = /\b(?:stop|stopall|unsubscribe|cancel|end|quit|revoke|opt ?out|remove me|leave me)\b/i

/** Does somebody who is not in yet want nothing of us? */
export function isEnding(text: string): boolean {
  return ENDING.test(text)
}

/** Is this a stop as everywhere else, whatever garden it is said to? */
export function saysStop(text: string, words: Words): boolean {
  const now = { day: dayOf(2000, 1, 1) as Day, minutes: 0 }
  const { acts } = understand(text, { now, dates: "month-first", units: "us", beds: [], open: [], words })
  return acts.some((act) => act.act === "stop")
}

/** One polite answer a day to somebody whom nobody knows: by text and by mail only. */
export function strangerAnswer(incoming: Incoming, garden: { id: string; zone: Zone }, now: Instant): NewOutgoing[] {
  if ((incoming.via !== "sms" && incoming.via !== "email") || isEnding(incoming.text)) return []
  const channel = incoming.via === "email" ? "mail" : "text"
  return [
    {
      key: strangerKey(channel, incoming.from, garden.zone, now),
      garden: garden.id,
      person: "unknown",
      kind: "service",
      channel,
      to: incoming.from,
      ...strangerMessage(channel),
      told: [],
      notBefore: now,
      goodUntil: (now + DAY_MS) as Instant,
    },
  ]
}
