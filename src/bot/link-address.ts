import { randomInt } from "node:crypto"
import type { NewEntry } from "../garden/entry.ts"
import { readFirstName } from "../garden/join-answers.ts"
import { withContact, withPerson } from "../garden/new-garden.ts"
import { readMail } from "../garden/read-words.ts"
import { addMs, DAY_MS, type Instant } from "../values/instant.ts"
import {
  askNameText,
  codeMail,
  codeUnknownText,
  inFileText,
  inviteCodeText,
  mailCodeText,
  mailLinkedText,
  memberText,
  noMailText,
  notMailText,
  phoneCodeText,
  phoneLinkedText,
} from "../wording/join.ts"
import { answerMessage, isEnding, isUnproven } from "./answering.ts"
import { consentRecord } from "./consent.ts"
import { freshPersonId, keepGuest } from "./guest-garden.ts"
import type { House } from "./house.ts"
import { viewNow } from "./known.ts"
import type { Incoming, KeptGarden, NewOutgoing } from "./needs.ts"
import { replyEntry } from "./read-reply.ts"
import type { View } from "./view.ts"
import type { Someone } from "./who.ts"

/** A code is worth something for so long. */
const CODE_MS = 2 * DAY_MS
/** So many wrong codes a phone may send in a day, and so many codes a person may ask for: guessing a million takes longer than a life. */
const MOST_TRIES = 5
const MOST_CODES = 5

/** What a code is for. `until`: milliseconds of the instant at which it ends. */
type Code = { garden: string; until: number } & (
  | { for: "member" }
  | { for: "mail"; person: string; email: string }
  | { for: "phone"; person: string }
)

/** What follows from a text: entries, messages that leave, and what is forgotten once those are written. */
type Follows = { entries: NewEntry[]; outgoing: NewOutgoing[]; after?: () => Promise<void> }

const NOT_UNDERSTOOD = "about who is in the garden"

/**
 * Takes a text or mail as being about who is in a garden and by which address: `INVITE` asks for a code for the rest of a
 * household, `MAIL sam@example.org` for one that proves a mailbox, `PHONE` in a mail for one that proves a phone, and `LINK
 * 482913` is that code. Whoever gives a code has proved both ends. False where it is none of these.
 */
export async function links(
  house: House,
  incoming: Incoming,
  senders: readonly Someone[],
  now: Instant,
): Promise<boolean> {
  const words = incoming.text.trim()
  const found =
    (await asks(house, incoming, senders, words, now)) ?? (await gives(house, incoming, senders, words, now))
  if (!found) return false
  await house.store.settleIncoming(incoming.id, found.entries, found.outgoing)
  await found.after?.()
  return true
}

const ASKS_INVITE = /^\W*invite\W*$/i
const ASKS_MAIL = /^\W*(?:my\s+)?e?-?mail(?:\s+is)?\s*[:,]?\s+(\S+@\S+?)[.,]?$/i
const ASKS_PHONE = /^\W*(?:link\s+)?(?:my\s+)?phone\W*$/i

/** Somebody whom we know asks for a code. */
async function asks(
  house: House,
  incoming: Incoming,
  senders: readonly Someone[],
  words: string,
  now: Instant,
): Promise<Follows | null> {
  const email = ASKS_MAIL.exec(words)?.[1]
  const bySms = incoming.via === "sms" || incoming.via === "terminal"
  const byMail = incoming.via === "email" && !isUnproven(incoming)
  const first = words.split("\n")[0] ?? ""
  const isPhone = byMail && ASKS_PHONE.test(first)
  const isInvite = (bySms && ASKS_INVITE.test(words)) || (byMail && ASKS_INVITE.test(first))
  const asked = isInvite ? "member" : bySms && email ? "mail" : isPhone ? "phone" : null
  const sender = senders[0]
  if (!asked || !sender) return null
  const view = await viewNow(house, sender.garden, now)
  const say = (text: string, more: NewOutgoing[] = []) => told(view, sender, incoming, text, more, now)
  if (!house.shelf.keptAs?.(sender.garden.id)) return say(inFileText(sender.garden.name))
  const { garden, person } = sender
  if (asked === "mail" && (!email || "wrong" in readMail(email))) return say(notMailText(email ?? ""))
  if (asked === "mail" && !house.mail) return say(noMailText)
  const day = Math.floor(now / DAY_MS)
  if ((await house.store.tally(`codes for ${garden.id}/${person.id} ${day}`, 1)) > MOST_CODES)
    return say(codeUnknownText)
  const until = now + CODE_MS
  if (asked === "member") return say(inviteCodeText(await newCode(house, { for: "member", garden: garden.id, until })))
  if (asked === "phone")
    return say(phoneCodeText(await newCode(house, { for: "phone", garden: garden.id, person: person.id, until })))
  const code = await newCode(house, { for: "mail", garden: garden.id, person: person.id, email: email ?? "", until })
  const mail: NewOutgoing = {
    key: `code:${incoming.id}`,
    garden: garden.id,
    person: person.id,
    kind: "service",
    channel: "mail",
    to: email ?? "",
    ...codeMail(code, garden.name),
    told: [],
    notBefore: now,
    goodUntil: addMs(now, CODE_MS),
  }
  return say(mailCodeText(email ?? ""), [mail])
}

/** A fresh code of six digits. Where the message comes again another is made: the first one runs out unused. */
async function newCode(house: House, code: Code): Promise<string> {
  const digits = String(randomInt(1_000_000)).padStart(6, "0")
  await house.store.remember(`code:${digits}`, JSON.stringify(code))
  return digits
}

/** Somebody gives a code, by text. */
async function gives(
  house: House,
  incoming: Incoming,
  senders: readonly Someone[],
  words: string,
  now: Instant,
): Promise<Follows | null> {
  if (incoming.via !== "sms") return null
  const waiting = (await house.store.recall(waitingName(incoming.from))) ?? ""
  const digits = /^\W*link\s+(\d{3})\s?(\d{3})\W*$/i.exec(words)?.slice(1).join("")
  if (digits === undefined) return waiting === "" ? null : named(house, incoming, waiting, words, now)
  const tries = `codes from ${incoming.from} ${Math.floor(now / DAY_MS)}`
  const code = (await house.store.tally(tries, 0)) < MOST_TRIES ? await codeOf(house, digits, now) : null
  if (code) await house.shelf.refresh?.()
  const kept = code && house.shelf.keptAs?.(code.garden)
  if (!code || !kept) {
    await house.store.tally(tries, 1)
    return toPhone(incoming, senders[0]?.garden.id ?? house.shelf.all()[0]?.id ?? "", codeUnknownText, now)
  }
  const garden = house.shelf.byId(code.garden)
  if (code.for === "member") {
    if (senders.some((each) => each.garden.id === code.garden))
      return toPhone(incoming, code.garden, codeUnknownText, now)
    await house.store.remember(waitingName(incoming.from), digits)
    return toPhone(incoming, code.garden, askNameText(garden ?? { name: "this garden" }), now)
  }
  const person = garden?.people.find((each) => each.id === code.person)
  // Whoever gives the code that went to a mailbox must be the one who asked for it.
  const isSender = senders.some((each) => each.garden.id === code.garden && each.person.id === code.person)
  if (
    !garden ||
    !person ||
    (code.for === "mail" && !isSender) ||
    (code.for === "phone" && person.phone !== null && person.phone !== incoming.from)
  )
    return toPhone(incoming, code.garden, codeUnknownText, now)
  const text =
    code.for === "mail"
      ? withContact(kept.text, person.id, "email", code.email)
      : withContact(kept.text, person.id, "phone", incoming.from)
  await change(house, kept, text)
  const answer = code.for === "mail" ? mailLinkedText(code.email) : phoneLinkedText(person.name, garden.name)
  return {
    ...toPhone(incoming, garden.id, answer, now, code.for === "mail" ? null : person.id, person.id),
    after: () => house.store.remember(`code:${digits}`, ""),
  }
}

const waitingName = (phone: string) => `coming in:${phone}`

/** The first name of somebody who gave a code of their household. */
async function named(
  house: House,
  incoming: Incoming,
  digits: string,
  words: string,
  now: Instant,
): Promise<Follows | null> {
  const code = await codeOf(house, digits, now)
  const kept = code && house.shelf.keptAs?.(code.garden)
  const garden = code && house.shelf.byId(code.garden)
  if (!kept || !garden || isEnding(words)) {
    await house.store.remember(waitingName(incoming.from), "")
    return null
  }
  const there = garden.people.find((person) => person.phone === incoming.from)
  const name = readFirstName(words)
  if (!there && !("value" in name)) return toPhone(incoming, garden.id, askNameText(garden), now)
  const person = there ?? {
    id: freshPersonId(garden, "value" in name ? name.value : ""),
    name: "value" in name ? name.value : "",
    phone: incoming.from,
  }
  if (!there) await change(house, kept, withPerson(kept.text, { ...person, phone: incoming.from }))
  return {
    ...toPhone(incoming, garden.id, memberText(person.name, garden.name), now, person.id, person.id),
    async after() {
      await house.store.remember(`code:${digits}`, "")
      await house.store.remember(waitingName(incoming.from), "")
    },
  }
}

async function codeOf(house: House, digits: string, now: Instant): Promise<Code | null> {
  const said = (await house.store.recall(`code:${digits}`)) ?? ""
  const code = said === "" ? null : (JSON.parse(said) as Code)
  return code && now <= code.until ? code : null
}

async function change(house: House, kept: KeptGarden, text: string | null): Promise<void> {
  if (text !== null && text !== kept.text) await keepGuest(house, { id: kept.id, host: kept.host, text }, kept.edition)
}

/** An answer to somebody who is in the garden. */
function told(
  view: View,
  sender: Someone,
  incoming: Incoming,
  text: string,
  more: readonly NewOutgoing[],
  now: Instant,
): Follows {
  const entry: NewEntry = { ...replyEntry(incoming, sender, now), ignored: NOT_UNDERSTOOD }
  return { entries: [entry], outgoing: [...answerMessage(view, sender, incoming, text, true, now), ...more] }
}

/** An answer to a phone that may not be anybody's yet; `consents`: the person whose yes it is. */
function toPhone(
  incoming: Incoming,
  garden: string,
  text: string,
  now: Instant,
  consents: string | null = null,
  person = "unknown",
): Follows {
  const common = { garden, by: person, via: incoming.via }
  const entry: NewEntry = {
    ...common,
    at: incoming.at <= now ? incoming.at : now,
    kind: "reply",
    text: incoming.text,
    acts: [],
    message: incoming.id,
    ignored: NOT_UNDERSTOOD,
  }
  const consent = consents ? [consentRecord({ ...common, at: now }, consents, incoming.from, "confirmed")] : []
  return {
    entries: [entry, ...consent],
    outgoing: [
      {
        key: `answer:${incoming.id}`,
        garden,
        person,
        kind: "service",
        channel: "text",
        to: incoming.from,
        text,
        told: [],
        notBefore: now,
        goodUntil: addMs(now, DAY_MS),
      },
    ],
  }
}
