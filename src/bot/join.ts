import type { NewEntry } from "../garden/entry.ts"
import type { Garden } from "../garden/garden.ts"
import { readFirstName, type SaidBed, type SaidSowing } from "../garden/join-answers.ts"
import { type NewPerson, newGardenText } from "../garden/new-garden.ts"
import { asId } from "../garden/read-words.ts"
import { addMs, DAY_MS, type Instant } from "../values/instant.ts"
import { localDay } from "../values/zone.ts"
import { inviteText } from "../wording/answer-service.ts"
import {
  ASK_NAME,
  askAgainText,
  askBedText,
  askNameText,
  confirmText,
  inviteMailText,
  joinedText,
  proveText,
} from "../wording/join.ts"
import { carrierAnswers, headOfAnswer, isEnding, isUnproven, saysStop, strangerKey } from "./answering.ts"
import { answerAboutBed, type BedStep, namingOf } from "./bed-talk.ts"
import { consentRecord, saysYes } from "./consent.ts"
import { freshGardenId, keepGuest } from "./guest-garden.ts"
import type { House } from "./house.ts"
import type { GardenShelf, Incoming, NewOutgoing } from "./needs.ts"
import type { Someone } from "./who.ts"

/** A talk that was left is over after so long: whoever comes back begins anew. */
const TALK_MS = 7 * DAY_MS
/** So often the same thing is asked; after that the talk waits for an answer that can be read. */
const MOST_TRIES = 4
/**
 * So many people may begin to join in a day by text, and as many by mail: a word that got about must not cost without bound
 * (failure X9), and mails in the name of others must keep nobody's phone out.
 */
const JOINS_A_DAY = 500
/** So often one phone or address may begin in a day. */
const BEGINNINGS_A_DAY = 5
/** Who writes in the log of a garden that has no people yet. */
const KEEPER = "keeper"

type Step = "confirm" | "name" | BedStep | "joined"

/** How far somebody has come. `last`: the message taken last and what it was answered, so that one that comes again changes nothing. */
type Talk = {
  host: string
  garden: string
  step: Step
  since: Instant
  tries: number
  last: { id: string; answer: string | null }
  /** The message in which they said that they want texts or mails. */
  yes?: string
  name?: string
  bed?: SaidBed
  /** The garden file, once all is known. */
  text?: string
}

/**
 * Takes a text or mail as part of somebody's joining: the invite word of a garden, and the answers to what is asked then. By
 * mail only the word itself may come from anybody: all else must answer a mail of ours. False where it is none; then it is
 * a message like any other.
 */
export async function joins(
  house: House,
  incoming: Incoming,
  senders: readonly Someone[],
  now: Instant,
): Promise<boolean> {
  if (incoming.via !== "sms" && incoming.via !== "email") return false
  const before = await talkWith(house, incoming.from, now)
  const again = before?.last.id === incoming.id
  const talk = again ? before : await follow(house, before, incoming, senders, now)
  if (!talk) return false
  if (!again) await house.store.remember(nameOf(incoming.from), JSON.stringify(talk))
  if (talk.step === "joined" && talk.text !== undefined)
    await keepGuest(house, { id: talk.garden, host: talk.host, text: talk.text }, null)
  await house.store.settleIncoming(incoming.id, entriesOf(talk, incoming, now), answerOf(house, talk, incoming, now))
  return true
}

async function talkWith(house: House, from: string, now: Instant): Promise<Talk | null> {
  const said = (await house.store.recall(nameOf(from))) ?? ""
  const talk = said === "" ? null : (JSON.parse(said) as Talk)
  return talk && now - talk.since < TALK_MS ? talk : null
}

const nameOf = (from: string) => `joining:${from}`

/** What is read of a message: all of a text; of a mail its first own line, since people sign and explain below it. */
function wordsOf({ via, text }: Pick<Incoming, "via" | "text">): string {
  return via === "email" ? (text.split("\n").find((line) => line.trim() !== "") ?? "").trim() : text
}

/** Where the talk stands after a message; null where the message is no part of it. */
async function follow(
  house: House,
  before: Talk | null,
  incoming: Incoming,
  senders: readonly Someone[],
  now: Instant,
): Promise<Talk | null> {
  const words = wordsOf(incoming)
  const host = hostCalled(house.shelf, words)
  const isUnderWay = before !== null && before.host === host?.id && before.step !== "joined"
  if (host && !isUnderWay && !isIn(house, host, senders)) return begin(house, host, incoming, now)
  if (!before || before.step === "joined") return null
  const about = house.shelf.byId(before.host)
  // Later a bed may be the one at the end.
  const isFirst = before.step === "confirm" || before.step === "name"
  if (carrierAnswers(incoming) || (isFirst ? isEnding(words) : saysStop(words, house.words()))) {
    await house.store.remember(nameOf(incoming.from), "")
    return senders.length > 0 ? null : { ...before, step: "joined", last: { id: incoming.id, answer: null } }
  }
  if (isUnproven(incoming)) return about ? unproven(before, about, host !== null, incoming) : null
  return about ? answerStep(house, before, about, incoming, senders.length > 0, now) : null
}

/** A mail that may be anybody's moves no talk: its sender is told, once a day, how it goes on. */
function unproven(talk: Talk, host: Garden, saysWord: boolean, incoming: Incoming): Talk {
  const answer = talk.step === "confirm" && saysWord ? inviteMailText(host) : proveText(host)
  return { ...talk, last: { id: incoming.id, answer } }
}

/** Is this mail of a stranger one that asks to be let in? */
export function asksToJoin(shelf: GardenShelf, text: string): boolean {
  return hostCalled(shelf, wordsOf({ via: "email", text })) !== null
}

/** The garden whose invite word this is, alone or behind "join". */
function hostCalled(shelf: GardenShelf, text: string): Garden | null {
  const word = /^\W*(?:join\s+)?["'“]?([a-z][a-z0-9]{3,19})["'”]?\W*$/i.exec(text.trim())?.[1]?.toLowerCase()
  return word === undefined ? null : (shelf.all().find((garden) => garden.invite === word) ?? null)
}

function isIn(house: House, host: Garden, senders: readonly Someone[]): boolean {
  const guests = new Set(house.shelf.guestsOf?.(host.id) ?? [])
  return senders.some(({ garden }) => garden.id === host.id || guests.has(garden))
}

async function begin(house: House, host: Garden, incoming: Incoming, now: Instant): Promise<Talk | null> {
  const day = localDay(now, host.place.zone)
  const way = incoming.via === "email" ? "joins by mail" : "joins"
  if ((await house.store.tally(`${way} ${day}`, 0)) >= JOINS_A_DAY) {
    house.log.warn({ garden: host.id }, "so many people began to join today that no more are let in")
    return null
  }
  if ((await house.store.tally(`${way} ${day} ${incoming.from}`, 1)) > BEGINNINGS_A_DAY) return null
  await house.store.tally(`${way} ${day}`, 1)
  return {
    host: host.id,
    garden: await freshGardenId(house, host),
    step: "confirm",
    since: now,
    tries: 1,
    last: { id: incoming.id, answer: incoming.via === "email" ? inviteMailText(host) : inviteText(host) },
  }
}

function answerStep(
  house: House,
  talk: Talk,
  host: Garden,
  incoming: Incoming,
  isKnown: boolean,
  now: Instant,
): Talk | null {
  const words = wordsOf(incoming)
  const today = localDay(now, host.place.zone)
  const next = (step: Step, answer: string, more: Partial<Talk> = {}): Talk => ({
    ...talk,
    ...more,
    step,
    tries: 1,
    since: now,
    last: { id: incoming.id, answer },
  })
  // Somebody who tends another garden here may be answering about that one.
  const again = (expected: string, question: string): Talk | null => {
    if (isKnown) return null
    const isOver = talk.tries >= MOST_TRIES
    const answer = isOver ? null : askAgainText(expected, question)
    return { ...talk, tries: talk.tries + 1, last: { id: incoming.id, answer } }
  }
  switch (talk.step) {
    case "confirm":
      return saysYes(words) ? next("name", askNameText(host), { yes: incoming.id }) : again("a yes first", confirmText)
    case "name": {
      const name = readFirstName(words)
      return "value" in name
        ? next("bed", askBedText(name.value, host.place.units), { name: name.value })
        : again(name.expected, ASK_NAME)
    }
    case "bed":
    case "size":
    case "sowing": {
      const about = { place: host.place, handbook: house.handbook, today }
      const said = answerAboutBed(talk.step, talk.bed ?? null, words, about)
      if (said.is === "next") return next(said.step, said.ask, { bed: said.bed })
      if (said.is === "unread") return again(said.expected, said.ask)
      return joined(house, talk, host, incoming, said.bed, said.sowing, now)
    }
    case "joined":
      return null
    default:
      return talk.step satisfies never
  }
}

function joined(
  house: House,
  talk: Talk,
  host: Garden,
  incoming: Incoming,
  bed: { name: string; size: string },
  sowing: SaidSowing | null,
  now: Instant,
): Talk {
  const name = talk.name ?? "Gardener"
  const own = `${name}'s garden`
  const { from, via } = incoming
  const person: NewPerson = {
    id: KEEPER,
    name,
    ...(via === "email" ? { email: from, by: "mail" as const } : { phone: from }),
  }
  const text = newGardenText(host, [...own].length <= 40 ? own : name, person, {
    id: asId(bed.name) || "bed-1",
    name: bed.name,
    size: bed.size,
    sowing,
  })
  const naming = namingOf(house, localDay(now, host.place.zone))
  const answer = joinedText(name, bed.name, sowing, naming, via === "email" ? "mail" : "text")
  return { ...talk, step: "joined", text, since: now, last: { id: incoming.id, answer } }
}

/** Their words, and their yes as the record of consent that a carrier may ask for. */
function entriesOf(talk: Talk, incoming: Incoming, now: Instant): NewEntry[] {
  const common = { garden: talk.garden, by: KEEPER, via: incoming.via } as const
  const reply: NewEntry = {
    ...common,
    at: incoming.at <= now ? incoming.at : now,
    kind: "reply",
    text: incoming.text,
    acts: [],
    message: incoming.id,
    ignored: "part of joining",
  }
  if (talk.yes !== incoming.id) return [reply]
  const yes: NewEntry =
    incoming.via === "email"
      ? {
          ...common,
          at: now,
          kind: "channel",
          person: KEEPER,
          channel: "mail",
          state: "confirmed",
          because: "a mail that answers one of ours to that address",
        }
      : consentRecord({ ...common, at: now }, KEEPER, incoming.from, "confirmed")
  return [reply, yes]
}

function answerOf(house: House, talk: Talk, incoming: Incoming, now: Instant): NewOutgoing[] {
  const { answer } = talk.last
  if (answer === null) return []
  const channel = incoming.via === "email" ? "mail" : "text"
  const zone = house.shelf.byId(talk.host)?.place.zone
  return [
    {
      key: zone && isUnproven(incoming) ? strangerKey(channel, incoming.from, zone, now) : `answer:${incoming.id}`,
      garden: talk.garden,
      person: KEEPER,
      kind: "service",
      channel,
      to: incoming.from,
      ...(channel === "mail" ? headOfAnswer(incoming) : {}),
      text: answer,
      told: [],
      notBefore: now,
      goodUntil: addMs(now, DAY_MS),
    },
  ]
}
