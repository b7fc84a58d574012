import type { Act } from "../garden/acts.ts"
import { lastChangeBy } from "../garden/effective.ts"
import type { Entry, EntryOf, NewEntry } from "../garden/entry.ts"
import { understand } from "../replies/understand.ts"
import { DAY_MS, type Instant } from "../values/instant.ts"
import { localDay } from "../values/zone.ts"
import { answerTo } from "../wording/answer.ts"
import { STRANGER_TEXT } from "../wording/answer-service.ts"
import { contextOf } from "./context.ts"
import { addressOf } from "./deliver.ts"
import type { House } from "./house.ts"
import { type View, viewNow, viewOf } from "./known.ts"
import type { Incoming, KeptIncoming, NewOutgoing } from "./needs.ts"
import { replan } from "./replan.ts"
import { WAITS } from "./waits.ts"
import { personRef, type Someone, whoSent } from "./who.ts"

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
      await applyOne(house, incoming, now)
      applied += 1
    } catch (error) {
      house.memory.errors.set("replies", error instanceof Error ? error.message : String(error))
      house.log.error(
        { id: incoming.id, attempts: incoming.attempts, error },
        "a reply could not be applied; it stays kept",
      )
    }
  }
  return applied
}

async function applyOne(house: House, incoming: KeptIncoming, now: Instant): Promise<void> {
  const senders = whoSent(incoming, house.shelf.all())
  const sender = senders.length > 1 ? await lastWrittenTo(house, senders, now) : senders[0]
  if (!sender) return applyUnknown(house, incoming, now)
  const view = await viewNow(house, sender.garden, now)
  const repeat = repeatOf(view.entries, incoming, sender)
  if (repeat) {
    await house.store.settleIncoming(
      incoming.id,
      [{ ...replyEntry(incoming, sender, now), acts: [], ignored: `the same words as entry ${repeat.seq}` }],
      [],
    )
    return
  }
  const { entries, answer } = read(house, view, sender, incoming, now)
  if (answer !== null && !leavesByMessage(incoming)) entries.push(shownAnswer(view, sender, incoming, answer, now))
  const outgoing = answer === null ? [] : answerMessage(view, sender, incoming, answer, entries, now)
  await house.store.settleIncoming(incoming.id, entries, outgoing)
  await replan(house, sender.garden, now)
}

/** What a reply comes to: the entries it adds to the log, and what it is answered. Nothing is written yet. */
export function read(
  house: Pick<House, "handbook" | "words">,
  view: View,
  sender: Someone,
  incoming: Incoming,
  now: Instant,
): { entries: NewEntry[]; answer: string | null } {
  const context = contextOf(view, sender.person, house.words, now)
  const understood = understand(incoming.text, context)
  const reply: NewEntry = {
    ...replyEntry(incoming, sender, now),
    acts: understood.acts,
    ...(understood.ask ? { ask: understood.ask } : {}),
    note: understood.note,
  }
  const target = understood.acts.some((act) => act.act === "undo") ? lastChangeBy(view.entries, sender.person.id) : null
  const entries: NewEntry[] = [reply, ...(target ? [undoEntry(target, incoming, sender, now)] : [])]
  const after = viewOf(
    house.handbook,
    view.garden,
    [...view.entries, ...numbered(entries, view.entries)],
    view.weather,
    view.on,
  )
  const answer = answerTo({
    understood,
    text: incoming.text,
    person: sender.person,
    before: view,
    after,
    undone: target,
    handbook: house.handbook,
    now,
  })
  return { entries, answer }
}

function replyEntry(incoming: Incoming, { garden, person }: Someone, now: Instant): Omit<EntryOf<"reply">, "seq"> {
  return {
    at: incoming.at <= now ? incoming.at : now,
    garden: garden.id,
    by: person.id,
    via: incoming.via,
    kind: "reply",
    text: incoming.text,
    acts: [] as Act[],
    message: incoming.id,
    ...(incoming.media.length > 0 ? { photos: incoming.media.map((media) => media.url) } : {}),
  }
}

function undoEntry(target: EntryOf<"reply">, incoming: Incoming, { garden, person }: Someone, now: Instant): NewEntry {
  return {
    at: now,
    garden: garden.id,
    by: person.id,
    via: incoming.via,
    kind: "undo",
    undone: target.seq,
    text: incoming.text,
  }
}

/** Entries as the log will number them, to see where they lead before they are written. */
function numbered(entries: readonly NewEntry[], before: readonly Entry[]): Entry[] {
  const last = before.at(-1)?.seq ?? 0
  return entries.map((entry, index) => ({ ...entry, seq: last + 1 + index }) as Entry)
}

/** The same words from the same person within two minutes under another id are one text that came twice. */
function repeatOf(entries: readonly Entry[], incoming: Incoming, { person }: Someone): EntryOf<"reply"> | null {
  for (let i = entries.length - 1; i >= 0; i -= 1) {
    const entry = entries[i]!
    if (entry.at < incoming.at - DAY_MS) return null
    const same =
      entry.kind === "reply" && entry.by === person.id && entry.via === incoming.via && entry.text === incoming.text
    if (
      same &&
      entry.message !== incoming.id &&
      Math.abs(entry.at - incoming.at) <= WAITS.sameWordsMs &&
      incoming.via === "sms"
    )
      return entry
  }
  return null
}

/** Someone who is in several gardens means the one that wrote to them last. */
async function lastWrittenTo(house: House, senders: readonly Someone[], now: Instant): Promise<Someone | undefined> {
  let best: { someone: Someone; at: number } | undefined
  for (const someone of senders) {
    const { entries } = await viewNow(house, someone.garden, now)
    const at =
      entries.findLast((entry) => (entry.kind === "sent" || entry.kind === "answer") && entry.to === someone.person.id)
        ?.at ?? 0
    if (!best || at > best.at) best = { someone, at }
  }
  return best?.someone
}

/** A stranger's words are kept and acted on in nothing; one polite answer a day. */
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
  const today = localDay(now, garden.place.zone)
  const channel = incoming.via === "email" ? "mail" : "text"
  const answer: NewOutgoing = {
    key: `stranger:${today}:${channel}:${incoming.from}`,
    garden: garden.id,
    person: "unknown",
    kind: "service",
    channel,
    to: incoming.from,
    subject: "Ryebell does not know this address",
    text: STRANGER_TEXT,
    told: [],
    notBefore: now,
    goodUntil: (now + DAY_MS) as Instant,
  }
  await house.store.settleIncoming(
    incoming.id,
    [entry],
    incoming.via === "sms" || incoming.via === "email" ? [answer] : [],
  )
}

/** A press on the page is answered by the page, which reads the answer from the log. */
function leavesByMessage({ via }: Incoming): boolean {
  return via !== "web" && via !== "file" && via !== "cli"
}

function shownAnswer(view: View, { garden, person }: Someone, { via }: Incoming, text: string, now: Instant): NewEntry {
  return { at: now, garden: garden.id, by: "ryebell", via, kind: "answer", to: person.id, answers: nextSeq(view), text }
}

/** The number that the reply will have in the log. */
function nextSeq(view: View): number {
  return (view.entries.at(-1)?.seq ?? 0) + 1
}

/** The answer leaves the way the words came in; a press on the page is answered by the page. */
function answerMessage(
  view: View,
  { garden, person }: Someone,
  incoming: Incoming,
  text: string,
  entries: readonly NewEntry[],
  now: Instant,
): NewOutgoing[] {
  if (!leavesByMessage(incoming)) return []
  const reply = entries[0]
  const stopping = reply?.kind === "reply" && reply.acts.some((act) => act.act === "stop")
  const channel = incoming.via === "email" ? "mail" : "text"
  const subject = incoming.extra?.subject
  return [
    {
      key: `answer:${incoming.id}`,
      garden: garden.id,
      person: person.id,
      kind: stopping ? "service" : "answer",
      channel,
      to: incoming.via === "terminal" ? personRef(garden.id, person.id) : (addressOf(person, channel) ?? incoming.from),
      ...(channel === "mail"
        ? { subject: subject ? (/^re:/i.test(subject) ? subject : `Re: ${subject}`) : "Your garden" }
        : {}),
      ...(channel === "mail" && incoming.extra?.messageId
        ? { headers: { "In-Reply-To": incoming.extra.messageId, References: incoming.extra.messageId } }
        : {}),
      text,
      told: [],
      answers: nextSeq(view),
      notBefore: now,
      goodUntil: (now + DAY_MS) as Instant,
    },
  ]
}
