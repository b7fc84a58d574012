import type { EntryOf, NewEntry } from "../garden/entry.ts"
import { saysWrongNumber } from "../replies/wrong-number.ts"
import { DAY_MS, type Instant } from "../values/instant.ts"
import { WRONG_NUMBER_TEXT, whichGardenText, whichPhotoText } from "../wording/answer-service.ts"
import { untilLogStands } from "./again.ts"
import {
  answerMessage,
  carrierAnswers,
  isUnproven,
  leavesByMessage,
  proofQuestion,
  shownAnswer,
  strangerAnswer,
} from "./answering.ts"
import { takeBackBeds, tendsBeds } from "./beds.ts"
import { consentGiven } from "./consent.ts"
import { count, type House } from "./house.ts"
import { joins } from "./join.ts"
import { seenIn, viewNow } from "./known.ts"
import { links } from "./link-address.ts"
import type { Incoming, KeptIncoming } from "./needs.ts"
import { WRONG_NUMBER } from "./organiser.ts"
import { read, repeatOf, replyEntry } from "./read-reply.ts"
import { replan } from "./replan.ts"
import { sameElsewhere } from "./same-elsewhere.ts"
import type { View } from "./view.ts"
import { WAITS } from "./waits.ts"
import { whichGarden, wordsMeant } from "./which-garden.ts"
import { type Someone, whoSent } from "./who.ts"

export { read } from "./read-reply.ts"

/** Keeps a message before anything else is done with it; a message that is known already changes nothing. */
export async function receive(house: House, incoming: Incoming): Promise<"new" | "repeat"> {
  return house.store.keepIncoming(incoming)
}

/**
 * Applies every message that is kept and not applied yet, oldest first: understood, logged and answered in one
 * transaction, then the plan moves. One that fails stays kept and is taken up again by a later tick.
 */
export async function applyIncoming(house: House, now: Instant): Promise<number> {
  let applied = 0
  for (let taken = 0; taken < WAITS.perTick; taken += 1) {
    const incoming = await house.store.claimIncoming(now, WAITS.replyLeaseMs)
    if (!incoming) return applied
    try {
      const complete = house.photos ? await house.photos(incoming) : incoming
      await untilLogStands(() => applyOne(house, complete, now))
      applied += 1
      count(house, "reply applied")
    } catch (error) {
      house.memory.errors.set("replies", error instanceof Error ? error.message : String(error))
      count(house, "reply failed")
      house.log.error(
        { id: incoming.id, attempts: incoming.attempts, error },
        "a reply could not be applied; it stays kept",
      )
    }
  }
  return applied
}

async function applyOne(house: House, incoming: KeptIncoming, now: Instant): Promise<void> {
  const senders = await sendersOf(house, incoming)
  if (incoming.attempts <= WAITS.replyAttempts && (await joins(house, incoming, senders, now))) return
  if (incoming.attempts <= WAITS.replyAttempts && (await links(house, incoming, senders, now))) return
  const [first] = senders
  if (!first) return applyUnknown(house, incoming, now)
  if (incoming.attempts > WAITS.replyAttempts)
    return setAside(house, first, incoming, "it could not be understood", now)
  const sender = senders.length > 1 ? await senderOf(house, senders, incoming, now) : first
  if (!sender) return askWhichGarden(house, senders, incoming, now)
  const view = await viewNow(house, sender.garden, now)
  if (isUnproven(incoming) && !onlyStops(house, view, sender, incoming, now))
    return askForProof(house, view, sender, incoming, now)
  const repeat = repeatOf(view.entries, incoming, sender)
  if (repeat) return setAside(house, sender, incoming, `the same words as entry ${repeat.seq}`, now)
  if (await tendsBeds(house, view, sender, incoming, now)) return
  const { entries, answer, last, undone } = whatFollows(house, view, senders, sender, incoming, now)
  if (undone) await takeBackBeds(house, sender.garden, undone.acts)
  if (answer !== null && !leavesByMessage(incoming)) entries.push(shownAnswer(view, sender, incoming, answer, now))
  const silent = answer === null || carrierAnswers(incoming)
  const outgoing = silent ? [] : answerMessage(view, sender, incoming, answer, last, now)
  await house.store.settleIncoming(incoming.id, entries, outgoing, seenIn(view))
  await replan(house, house.shelf.byId(sender.garden.id) ?? sender.garden, now)
}

/** Everyone it may come from; whom this process does not know may have joined at another a moment ago. */
async function sendersOf(house: House, incoming: Incoming): Promise<Someone[]> {
  const known = whoSent(incoming, house.shelf)
  if (known.length > 0 || !house.shelf.refresh) return known
  await house.shelf.refresh()
  return whoSent(incoming, house.shelf)
}

/** Whose words they are, of one person in several gardens. What is about the service itself is about all of them. */
async function senderOf(
  house: House,
  senders: readonly Someone[],
  incoming: Incoming,
  now: Instant,
): Promise<Someone | null> {
  const meant = await whichGarden(house, senders, incoming, now)
  if (meant) return meant
  const first = senders[0] as Someone
  const { acts } = read(house, await viewNow(house, first.garden, now), first, incoming, now)
  return acts.some((act) => act.act === "stop" || act.act === "start" || act.act === "help") ? first : null
}

type Follows = { entries: NewEntry[]; answer: string | null; last: boolean; undone?: EntryOf<"reply"> | null }

function whatFollows(
  house: House,
  view: View,
  senders: readonly Someone[],
  sender: Someone,
  incoming: Incoming,
  now: Instant,
): Follows {
  if (incoming.via === "sms" && saysWrongNumber(incoming.text, [sender.person.name]))
    return wrongNumber(senders, sender, incoming, now)
  if (incoming.media.length > 0 && incoming.text.trim() === "") return photoAlone(sender, incoming, now)
  const asked = senders.length > 1 ? wordsAskedAbout(senders, house, now) : null
  const whole = asked === null ? null : wordsMeant(asked, incoming.text, sender.garden)
  const { entries, acts, answer, undone } = read(house, view, sender, incoming, now, whole ?? incoming.text)
  const consent = consentGiven(house, view, sender, incoming, acts, now)
  const stops = acts.some((act) => act.act === "stop")
  const others = senders.filter((other) => other !== sender)
  return {
    entries: [...entries, ...(consent ? [consent] : []), ...sameElsewhere(house, acts, undone, others, incoming, now)],
    answer,
    last: stops,
    undone,
  }
}

/** The phone is somebody else's: nothing more goes there, and the organiser hears of it (failure P2). */
function wrongNumber(senders: readonly Someone[], sender: Someone, incoming: Incoming, now: Instant): Follows {
  const held = senders.map(
    ({ garden, person }): NewEntry => ({
      at: now,
      garden: garden.id,
      by: person.id,
      via: incoming.via,
      kind: "channel",
      person: person.id,
      channel: "text",
      state: "held",
      because: WRONG_NUMBER,
    }),
  )
  return {
    entries: [{ ...replyEntry(incoming, sender, now), note: true }, ...held],
    answer: WRONG_NUMBER_TEXT,
    last: true,
  }
}

/** A picture without words is kept at once; which bed it shows is asked (failure P26). */
function photoAlone({ garden, person }: Someone, incoming: Incoming, now: Instant): Follows {
  const beds = garden.beds.filter((bed) => person.minds === null || person.minds.includes(bed.id))
  return {
    entries: [{ ...replyEntry(incoming, { garden, person }, now), note: true }],
    answer: whichPhotoText(beds.map((bed) => bed.name)),
    last: false,
  }
}

/** A stop is never refused: the worst a forger does with it is silence, and START ends that. */
function onlyStops(house: House, view: View, sender: Someone, incoming: Incoming, now: Instant): boolean {
  const { acts } = read(house, view, sender, incoming, now)
  return acts.length > 0 && acts.every((act) => act.act === "stop")
}

async function askForProof(house: House, view: View, sender: Someone, incoming: Incoming, now: Instant): Promise<void> {
  const entry: NewEntry = {
    ...replyEntry(incoming, sender, now),
    ignored: "nothing proves that this mail is from its sender",
  }
  await house.store.settleIncoming(incoming.id, [entry], proofQuestion(view, sender, now), seenIn(view))
}

/** Words that are kept, and acted on in nothing. */
async function setAside(
  house: House,
  sender: Someone,
  incoming: Incoming,
  ignored: string,
  now: Instant,
): Promise<void> {
  await house.store.settleIncoming(incoming.id, [{ ...replyEntry(incoming, sender, now), ignored }], [])
}

const WHICH_GARDEN = "it was asked which garden is meant"

/** Nobody can tell which garden is meant: the words are kept, and their writer is asked. */
async function askWhichGarden(
  house: House,
  senders: readonly Someone[],
  incoming: Incoming,
  now: Instant,
): Promise<void> {
  const sender = senders[0] as Someone
  const view = await viewNow(house, sender.garden, now)
  const names = senders.map(({ garden }) => garden.name)
  const entry: NewEntry = { ...replyEntry(incoming, sender, now), ignored: WHICH_GARDEN }
  const outgoing = answerMessage(view, sender, incoming, whichGardenText(names), false, now)
  await house.store.settleIncoming(incoming.id, [entry], carrierAnswers(incoming) ? [] : outgoing)
}

/** The words about which we asked a day ago at most which garden they were for. */
function wordsAskedAbout(senders: readonly Someone[], house: House, now: Instant): string | null {
  const first = senders[0] as Someone
  const entries = house.memory.views.get(first.garden.id)?.view.entries ?? []
  const last = entries.findLast((entry) => entry.kind === "reply" && entry.by === first.person.id)
  return last?.kind === "reply" && last.ignored === WHICH_GARDEN && now - last.at <= DAY_MS ? last.text : null
}

/** A stranger's words are kept and acted on in nothing (failure P5). */
async function applyUnknown(house: House, incoming: KeptIncoming, now: Instant): Promise<void> {
  const garden = house.shelf.all()[0]
  if (!garden) throw new Error("no garden is served; the message stays kept")
  const entry: NewEntry = {
    at: incoming.at <= now ? incoming.at : now,
    garden: garden.id,
    by: "unknown",
    via: incoming.via,
    kind: "reply",
    text: incoming.text,
    acts: [],
    message: incoming.id,
    ignored: "nobody in the garden file has this number or address",
  }
  const answer = strangerAnswer(incoming, { id: garden.id, zone: garden.place.zone }, now)
  await house.store.settleIncoming(incoming.id, [entry], answer)
}
