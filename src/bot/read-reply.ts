import type { Act } from "../garden/acts.ts"
import { lastChangeBy } from "../garden/effective.ts"
import type { Entry, EntryOf, NewEntry } from "../garden/entry.ts"
import { understand } from "../replies/understand.ts"
import { DAY_MS, type Instant } from "../values/instant.ts"
import { answerTo } from "../wording/answer.ts"
import { contextOf } from "./context.ts"
import type { House } from "./house.ts"
import { viewOf } from "./known.ts"
import type { Incoming } from "./needs.ts"
import type { View } from "./view.ts"
import { WAITS } from "./waits.ts"
import type { Someone } from "./who.ts"

/**
 * What a reply comes to: the entries it adds to the log, the reply's own first, and what it is answered. Nothing is written
 * yet. `words`: what is to be read where that is not the text itself, as for the answer to a question which garden was meant.
 */
export function read(
  house: Pick<House, "handbook" | "words">,
  view: View,
  sender: Someone,
  incoming: Incoming,
  now: Instant,
  words = incoming.text,
): { entries: NewEntry[]; acts: readonly Act[]; answer: string | null; undone: EntryOf<"reply"> | null } {
  const context = contextOf(view, sender.person, house.words(), now)
  const understood = settledAlready(understand(words, context), words, view, sender, now)
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
    text: words,
    person: sender.person,
    before: view,
    after,
    undone: target,
    handbook: house.handbook,
    now,
  })
  return { entries, acts: understood.acts, answer, undone: target }
}

/** The words of a reply as the log keeps them, before anything is understood. */
export function replyEntry(
  incoming: Incoming,
  { garden, person }: Someone,
  now: Instant,
): Omit<EntryOf<"reply">, "seq"> {
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

type Understood = ReturnType<typeof understand>

const BARE_DONE = /^\W*(?:all |i |yes |it s |its )*(?:done|did|finished)(?: it| that)?\W*$/i

/**
 * A bare "done" soon after another, with nothing said to the person in between, is the same one out of impatience: it
 * settles nothing further (failure D15).
 */
function settledAlready(
  understood: Understood,
  words: string,
  view: View,
  { person }: Someone,
  now: Instant,
): Understood {
  if (!BARE_DONE.test(words)) return understood
  const last = lastChangeBy(view.entries, person.id)
  const before = last?.acts.find((each) => each.act === "done")
  if (!last || before?.act !== "done" || now - last.at > WAITS.sameDoneMs) return understood
  const told = view.entries.some(
    (entry) => entry.kind === "sent" && entry.to === person.id && entry.told.length > 0 && entry.seq > last.seq,
  )
  return told ? understood : { ...understood, acts: [before], ask: null, note: false }
}

export function undoEntry(
  target: EntryOf<"reply">,
  incoming: Incoming,
  { garden, person }: Someone,
  now: Instant,
): NewEntry {
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
export function repeatOf(entries: readonly Entry[], incoming: Incoming, { person }: Someone): EntryOf<"reply"> | null {
  if (incoming.via !== "sms") return null
  for (let i = entries.length - 1; i >= 0; i -= 1) {
    const entry = entries[i] as Entry
    if (entry.at < incoming.at - DAY_MS) return null
    const same =
      entry.kind === "reply" && entry.by === person.id && entry.via === incoming.via && entry.text === incoming.text
    if (same && entry.message !== incoming.id && Math.abs(entry.at - incoming.at) <= WAITS.sameWordsMs) return entry
  }
  return null
}
