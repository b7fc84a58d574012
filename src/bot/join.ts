import type { NewEntry } from "../garden/entry.ts"
import type { Garden } from "../garden/garden.ts"
import { readBed, readFirstName, readSowing, type SaidSowing } from "../garden/join-answers.ts"
import { newGardenText } from "../garden/new-garden.ts"
import { asId, type Wrong } from "../garden/read-words.ts"
import { showWeekday } from "../reminders/dates.ts"
import { addMs, DAY_MS, type Instant } from "../values/instant.ts"
import { localDay } from "../values/zone.ts"
import { inviteText } from "../wording/answer-service.ts"
import { askAgainText, askBedText, askNameText, askSizeText, askSowingText, joinedText } from "../wording/join.ts"
import { carrierAnswers, isEnding } from "./answering.ts"
import { consentRecord, saysYes } from "./consent.ts"
import { freshGardenId, keepGuest } from "./guest-garden.ts"
import type { House } from "./house.ts"
import type { Incoming, NewOutgoing } from "./needs.ts"
import type { Someone } from "./who.ts"

/** A talk that was left is over after so long: whoever comes back begins anew. */
const TALK_MS = 7 * DAY_MS
/** So often the same thing is asked; after that the talk waits for an answer that can be read. */
const MOST_TRIES = 4
/** So many people may begin to join in a day, all together: a word that got about must not cost without bound (failure X9). */
const JOINS_A_DAY = 500
/** Who writes in the log of a garden that has no people yet. */
const KEEPER = "keeper"

type Step = "confirm" | "name" | "bed" | "size" | "sowing" | "joined"

/** How far somebody has come. `last`: the message taken last and what it was answered, so that one that comes again changes nothing. */
type Talk = {
  host: string
  garden: string
  step: Step
  since: Instant
  tries: number
  last: { id: string; answer: string | null }
  /** The message in which they said that they want texts. */
  yes?: string
  name?: string
  bed?: { name: string; size: string | null }
  /** The garden file, once all is known. */
  text?: string
}

/**
 * Takes a text as part of somebody's joining: the invite word of a garden, and the answers to what is asked then. False
 * where it is none; then it is a text like any other.
 */
export async function joins(
  house: House,
  incoming: Incoming,
  senders: readonly Someone[],
  now: Instant,
): Promise<boolean> {
  if (incoming.via !== "sms") return false
  const before = await talkWith(house, incoming.from, now)
  const again = before?.last.id === incoming.id
  const talk = again ? before : await follow(house, before, incoming, senders, now)
  if (!talk) return false
  if (!again) await house.store.remember(nameOf(incoming.from), JSON.stringify(talk))
  if (talk.step === "joined" && talk.text !== undefined)
    await keepGuest(house, { id: talk.garden, host: talk.host, text: talk.text }, null)
  await house.store.settleIncoming(incoming.id, entriesOf(talk, incoming, now), answerOf(talk, incoming, now))
  return true
}

async function talkWith(house: House, phone: string, now: Instant): Promise<Talk | null> {
  const said = (await house.store.recall(nameOf(phone))) ?? ""
  const talk = said === "" ? null : (JSON.parse(said) as Talk)
  return talk && now - talk.since < TALK_MS ? talk : null
}

const nameOf = (phone: string) => `joining:${phone}`

/** Where the talk stands after a text; null where the text is no part of it. */
async function follow(
  house: House,
  before: Talk | null,
  incoming: Incoming,
  senders: readonly Someone[],
  now: Instant,
): Promise<Talk | null> {
  const host = hostCalled(house, incoming.text)
  const isUnderWay = before !== null && before.host === host?.id && before.step !== "joined"
  if (host && !isUnderWay && !isIn(house, host, senders)) return begin(house, host, incoming, now)
  if (!before || before.step === "joined") return null
  if (isEnding(incoming.text) || carrierAnswers(incoming)) {
    await house.store.remember(nameOf(incoming.from), "")
    return senders.length > 0 ? null : { ...before, step: "joined", last: { id: incoming.id, answer: null } }
  }
  const about = house.shelf.byId(before.host)
  return about ? answerStep(house, before, about, incoming, senders.length > 0, now) : null
}

/** The garden whose invite word this is, alone or behind "join". */
function hostCalled({ shelf }: Pick<House, "shelf">, text: string): Garden | null {
  const word = /^\W*(?:join\s+)?["'“]?([a-z][a-z0-9]{3,19})["'”]?\W*$/i.exec(text.trim())?.[1]?.toLowerCase()
  return word === undefined ? null : (shelf.all().find((garden) => garden.invite === word) ?? null)
}

function isIn(house: House, host: Garden, senders: readonly Someone[]): boolean {
  const guests = new Set(house.shelf.guestsOf?.(host.id) ?? [])
  return senders.some(({ garden }) => garden.id === host.id || guests.has(garden))
}

async function begin(house: House, host: Garden, incoming: Incoming, now: Instant): Promise<Talk | null> {
  const day = localDay(now, host.place.zone)
  if ((await house.store.tally(`joins ${day}`, 1)) > JOINS_A_DAY) {
    house.log.warn({ garden: host.id }, "so many people began to join today that no more are let in")
    return null
  }
  return {
    host: host.id,
    garden: await freshGardenId(house, host),
    step: "confirm",
    since: now,
    tries: 1,
    last: { id: incoming.id, answer: inviteText(host) },
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
  const { units, dates, zone } = host.place
  const today = localDay(now, zone)
  const next = (step: Step, answer: string, more: Partial<Talk> = {}): Talk => ({
    ...talk,
    ...more,
    step,
    tries: 1,
    since: now,
    last: { id: incoming.id, answer },
  })
  // Somebody who tends another garden here may be answering about that one.
  const again = (wrong: Pick<Wrong, "expected">, question: string): Talk | null => {
    if (isKnown) return null
    const isOver = talk.tries >= MOST_TRIES
    const answer = isOver ? null : askAgainText(wrong.expected, question)
    return { ...talk, tries: talk.tries + 1, last: { id: incoming.id, answer } }
  }
  switch (talk.step) {
    case "confirm":
      return saysYes(incoming.text)
        ? next("name", askNameText(host), { yes: incoming.id })
        : again({ expected: "JOIN" }, "Reply JOIN to start, STOP to end.")
    case "name": {
      const name = readFirstName(incoming.text)
      return "value" in name
        ? next("bed", askBedText(name.value, units), { name: name.value })
        : again(name, "What is your first name?")
    }
    case "bed": {
      const bed = readBed(incoming.text)
      if (!("value" in bed)) return again(bed, askSizeText("your bed", units))
      const { name, size } = bed.value
      return size === null
        ? next("size", askSizeText(name, units), { bed: bed.value })
        : next("sowing", askSowingText(name), { bed: bed.value })
    }
    case "size": {
      const said = readBed(incoming.text)
      const name = talk.bed?.name ?? "Bed 1"
      const size = "value" in said ? said.value.size : null
      return size === null
        ? again({ expected: "a size with its unit" }, askSizeText(name, units))
        : next("sowing", askSowingText(name), { bed: { name, size } })
    }
    case "sowing": {
      const sowing = readSowing(incoming.text, house.handbook, today, dates)
      if (!("value" in sowing)) return again(sowing, askSowingText(talk.bed?.name ?? "Bed 1"))
      return joined(house, talk, host, incoming, sowing.value, now)
    }
    default:
      return null
  }
}

function joined(
  house: House,
  talk: Talk,
  host: Garden,
  incoming: Incoming,
  sowing: SaidSowing | null,
  now: Instant,
): Talk {
  const name = talk.name ?? "Gardener"
  const bed = talk.bed ?? { name: "Bed 1", size: null }
  const own = `${name}'s garden`
  const text = newGardenText(
    host,
    [...own].length <= 40 ? own : name,
    { id: KEEPER, name, phone: incoming.from },
    { id: asId(bed.name) || "bed-1", name: bed.name, size: bed.size ?? "1 m2", sowing },
  )
  const today = localDay(now, host.place.zone)
  const answer = joinedText(
    name,
    bed.name,
    sowing,
    (id) => house.handbook.species.get(id)?.names[0] ?? id,
    (day) => showWeekday(day, today),
  )
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
  return talk.yes === incoming.id
    ? [reply, consentRecord({ ...common, at: now }, KEEPER, incoming.from, "confirmed")]
    : [reply]
}

function answerOf(talk: Talk, incoming: Incoming, now: Instant): NewOutgoing[] {
  const { answer } = talk.last
  if (answer === null) return []
  return [
    {
      key: `answer:${incoming.id}`,
      garden: talk.garden,
      person: KEEPER,
      kind: "service",
      channel: "text",
      to: incoming.from,
      text: answer,
      told: [],
      notBefore: now,
      goodUntil: addMs(now, DAY_MS),
    },
  ]
}
