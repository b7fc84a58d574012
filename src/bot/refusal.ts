import type { Entry } from "../garden/entry.ts"
import { addMs, DAY_MS, type Instant, instantText, MINUTE_MS } from "../values/instant.ts"
import { PART_OF_TALK } from "./bed-talk.ts"
import type { House } from "./house.ts"
import { viewNow } from "./known.ts"
import type { Outgoing, SendOutcome } from "./needs.ts"
import type { View } from "./view.ts"
import { elsewhere, phonesOf } from "./who.ts"

/**
 * How many messages may leave: two machines that answer each other, or strangers who make us text, run into these
 * (failures P28 and X9). Nobody who tends beds does.
 */
const MOST = {
  /** Answers to one person in ten minutes to texts in which nothing was told or asked that we know. */
  vagueAnswers: 3,
  vagueWithinMs: 10 * MINUTE_MS,
  /** Answers to one person in a day. */
  answersADay: 20,
  /** Answers to numbers that nobody knows, in a day, all together. */
  strangersADay: 10,
  /** Texts in a day (of UTC), all together: so many, and so many for each person with a phone. */
  textsADay: { base: 20, each: 20 },
} as const

/**
 * Why a message is not sent now, looked at in the last moment: null where it goes. A stop and a hold count here, whenever
 * they came; a service text (the answer to STOP) still goes.
 */
export async function refusalOf(house: House, message: Outgoing, now: Instant): Promise<SendOutcome | null> {
  const garden = house.shelf.byId(message.garden)
  if (!garden) return isBoundElsewhere(house, message) ? null : tooManyTexts(house, message, now)
  if (message.person === "unknown")
    return (await tooManyTexts(house, message, now)) ?? tooManyStrangers(house, message, now)
  if (nothingNew(message)) return tooManyTexts(house, message, now)
  const view = await viewNow(house, garden, now)
  const state = view.history.channels.get(message.person) ?? { text: "open", mail: "open" }
  if (message.kind !== "service") {
    const here = state[message.channel]
    if (here === "stopped") return { is: "dropped", code: "stopped", text: "the person said stop" }
    if (here === "held" && message.kind !== "answer")
      return { is: "dropped", code: "held", text: "the channel is on hold after a permanent failure" }
  }
  if (message.kind === "answer" && (await tooManyAnswers(house, view, message, now)))
    return { is: "dropped", code: "too-many-answers", text: "so many answers in so short a time look like a loop" }
  return tooManyTexts(house, message, now)
}

/** A nudge was made for a channel that was open, and nobody has said anything since. */
function nothingNew({ kind, seen, logAt }: Outgoing): boolean {
  return kind === "nudge" && seen !== undefined && seen === logAt
}

/**
 * Loops are told by what they bring: nothing that we know. Whoever tells or asks something is answered all day. One phone in
 * several gardens is one person: the answers of all of them count.
 */
async function tooManyAnswers(house: House, view: View, message: Outgoing, now: Instant): Promise<boolean> {
  const person = view.garden.people.find((each) => each.id === message.person)
  const others = person ? elsewhere(house.shelf, view.garden, person) : []
  const logs = [
    { entries: view.entries, to: message.person },
    ...(await Promise.all(
      others.map(async (other) => ({
        entries: (await viewNow(house, other.garden, now)).entries,
        to: other.person.id,
      })),
    )),
  ]
  const via = message.channel === "text" ? "sms" : "email"
  const given = logs.flatMap(({ entries, to }) =>
    entries
      .filter((entry) => entry.kind === "answer")
      .filter((entry) => entry.to === to && entry.via === via && entry.at > now - DAY_MS)
      .map((entry) => ({ at: entry.at, isVague: isVague(entries, entry.answers) })),
  )
  if (given.length >= MOST.answersADay) return true
  if (!isVague(view.entries, message.answers)) return false
  const lately = given.filter((each) => each.isVague && each.at > now - MOST.vagueWithinMs)
  return lately.length >= MOST.vagueAnswers
}

/** Does an answer go to words in which nothing was told or asked that we know, and that are no part of a talk either? */
function isVague(entries: readonly Entry[], answers: number | undefined): boolean {
  if (answers === undefined) return false
  const reply = entries.find((entry) => entry.seq === answers)
  if (reply?.kind !== "reply") return true
  return reply.acts.length === 0 && reply.ignored !== PART_OF_TALK
}

async function tooManyStrangers(house: House, message: Outgoing, now: Instant): Promise<SendOutcome | null> {
  const name = `strangers ${dayOf(now)}`
  if ((await house.store.tally(name, 0)) >= MOST.strangersADay)
    return { is: "dropped", code: "too-many-strangers", text: "so many unknown numbers were answered today already" }
  if (message.attempts === 1) await house.store.tally(name, 1)
  return null
}

/** Past the number of texts that a day may cost the rest waits, and health says so. */
async function tooManyTexts(house: House, message: Outgoing, now: Instant): Promise<SendOutcome | null> {
  if (message.channel !== "text" || house.text?.via !== "sms") return null
  const texts = textsOf(house, now)
  if ((await knownTexts(house, texts)) + texts.mine < mostTexts(house)) return null
  const tomorrow = (Math.floor(now / DAY_MS) + 1) * DAY_MS
  return {
    is: "later",
    dueAt: addMs(now, tomorrow - now),
    code: "daily-number",
    text: "as many texts as a day may cost have gone out",
  }
}

/** The day's texts as the store counts them; of many that want to know at once one asks. */
async function knownTexts({ store }: House, texts: House["memory"]["texts"]): Promise<number> {
  if (texts.known !== null) return texts.known
  texts.asking ??= store.tally(`texts ${texts.day}`, 0).finally(() => {
    texts.asking = null
  })
  const known = await texts.asking
  texts.known ??= known
  return texts.known
}

/**
 * Somebody who is about to join has no garden yet, and a club's first day is all of those: how many may begin in a day is
 * bound where they begin (join.ts). Against a limit that the owner set they count like all others.
 */
function isBoundElsewhere({ shelf, textsADay }: House, { garden }: Outgoing): boolean {
  return textsADay === undefined && shelf.byId(garden) === undefined
}

/** Counts a text that the carrier took, or may have taken. The store is told in bundles: a count too low by a thousandth does no harm. */
export async function countText(house: House, message: Outgoing, outcome: SendOutcome, now: Instant): Promise<void> {
  if (message.channel !== "text" || house.text?.via !== "sms") return
  if ((outcome.is !== "sent" && outcome.is !== "unknown") || isBoundElsewhere(house, message)) return
  const texts = textsOf(house, now)
  texts.mine += 1
  if (texts.mine < mostTexts(house) / 1000) return
  const { mine } = texts
  texts.mine = 0
  texts.known = await house.store.tally(`texts ${texts.day}`, mine)
}

function mostTexts({ shelf, textsADay }: House): number {
  return textsADay ?? MOST.textsADay.base + MOST.textsADay.each * phonesOf(shelf)
}

/** The count of a day; a new day begins a new one. */
function textsOf({ memory }: House, now: Instant): House["memory"]["texts"] {
  const day = dayOf(now)
  if (memory.texts.day !== day) memory.texts = { day, known: null, mine: 0, asking: null }
  return memory.texts
}

function dayOf(now: Instant): string {
  return instantText(now).slice(0, 10)
}
