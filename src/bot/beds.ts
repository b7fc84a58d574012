import type { Act } from "../garden/acts.ts"
import type { NewEntry } from "../garden/entry.ts"
import type { Garden } from "../garden/garden.ts"
import type { SaidBed, SaidSowing } from "../garden/join-answers.ts"
import { type NewBed, withBed, withBedBack, withoutBed } from "../garden/new-garden.ts"
import { asId } from "../garden/read-words.ts"
import { readBedCommand } from "../replies/bed-command.ts"
import { folded } from "../replies/folded.ts"
import { understand } from "../replies/understand.ts"
import { DAY_MS, type Instant } from "../values/instant.ts"
import {
  askNewBedText,
  bedAddedText,
  bedDroppedText,
  bedKnownText,
  bedsInFileText,
  lastBedText,
  tooManyBedsText,
  whichBedText,
} from "../wording/beds.ts"
import { askAgainText } from "../wording/join.ts"
import { answerMessage, carrierAnswers, leavesByMessage, shownAnswer } from "./answering.ts"
import { answerAboutBed, type BedAnswer, type BedPlace, type BedStep, namingOf, PART_OF_TALK } from "./bed-talk.ts"
import { consentGiven } from "./consent.ts"
import { contextOf } from "./context.ts"
import { keepGuest } from "./guest-garden.ts"
import type { House } from "./house.ts"
import { seenIn } from "./known.ts"
import type { Incoming } from "./needs.ts"
import { replyEntry } from "./read-reply.ts"
import { replan } from "./replan.ts"
import type { View } from "./view.ts"
import { personRef, type Someone } from "./who.ts"

/** Whoever does not go on with the new bed for so long has done with it. */
const TALK_MS = DAY_MS
/** So often the same thing is asked; then it is left. */
const MOST_TRIES = 3
/** Beds of one garden: nobody tends more by text, and a garden that grows without end is no gardener's. */
const MOST_BEDS = 60

/**
 * How far somebody has come in telling of a new bed; `over`: nothing more is asked. `last`: the message taken last with all
 * that followed from it, so that one that comes again changes nothing.
 */
type Talk = {
  step: BedStep | "over"
  since: Instant
  tries: number
  bed: SaidBed | null
  last: { id: string; answer: string; acts: Act[]; add?: NewBed; note?: true }
}

/**
 * Takes words that add a bed to a garden or leave one out: `add bed: north, 4x8, winter rye sown 3 oct`, all at once or as a
 * short talk, and `drop bed north`. False where the words are something else. A garden that its owner keeps in a file is not
 * changed: the answer says so.
 */
export async function tendsBeds(
  house: House,
  view: View,
  sender: Someone,
  incoming: Incoming,
  now: Instant,
): Promise<boolean> {
  const name = `beds:${personRef(sender.garden.id, sender.person.id)}`
  const said = (await house.store.recall(name)) ?? ""
  const before = said === "" ? null : (JSON.parse(said) as Talk)
  const again = before?.last.id === incoming.id
  const talk = again ? before : follow(house, view, sender, before, incoming, now)
  if (!talk) return false
  if (!again) await house.store.remember(name, JSON.stringify(talk))
  const { acts, add, answer, note } = talk.last
  if (add) await change(house, sender.garden, (text) => withBed(text, add, sender.person.id))
  for (const act of acts)
    if (act.act === "drop-bed") await change(house, sender.garden, (text) => withoutBed(text, act.bed)?.text ?? text)
  const consent = consentGiven(house, view, sender, incoming, acts, now)
  const reply: NewEntry = {
    ...replyEntry(incoming, sender, now),
    acts,
    ...(note ? { note } : {}),
    ...(acts.length === 0 && !note ? { ignored: PART_OF_TALK } : {}),
  }
  const entries = [
    reply,
    ...(consent ? [consent] : []),
    ...(leavesByMessage(incoming) ? [] : [shownAnswer(view, sender, incoming, answer, now)]),
  ]
  const outgoing = carrierAnswers(incoming) ? [] : answerMessage(view, sender, incoming, answer, false, now)
  await house.store.settleIncoming(incoming.id, entries, outgoing, seenIn(view))
  await replan(house, house.shelf.byId(sender.garden.id) ?? sender.garden, now)
  return true
}

/** Puts the beds back as they were before acts that are taken back. Twice is the same as once. */
export async function takeBackBeds(house: House, garden: Garden, acts: readonly Act[]): Promise<void> {
  for (const act of acts) {
    // A garden has one bed at least: the last one stays, whoever left the others out meanwhile.
    if (act.act === "add-bed" && garden.beds.length > 1)
      await change(house, garden, (text) => withoutBed(text, act.bed)?.text ?? text)
    if (act.act === "drop-bed") await change(house, garden, (text) => withBedBack(text, act.bed, act))
  }
}

async function change(house: House, garden: Garden, edit: (text: string) => string): Promise<void> {
  const kept = house.shelf.keptAs?.(garden.id)
  if (!kept) return
  const text = edit(kept.text)
  if (text !== kept.text) await keepGuest(house, { id: kept.id, host: kept.host, text }, kept.edition)
}

/** Where the talk stands after a message; null where the message is none of it. */
function follow(
  house: House,
  view: View,
  { garden, person }: Someone,
  before: Talk | null,
  incoming: Incoming,
  now: Instant,
): Talk | null {
  const about: BedPlace = { place: garden.place, handbook: house.handbook, today: view.on }
  const over = (answer: string, acts: Act[] = [], more: Partial<Talk["last"]> = {}): Talk => ({
    step: "over",
    since: now,
    tries: 0,
    bed: null,
    last: { id: incoming.id, answer, acts, ...more },
  })
  const asks = (step: BedStep, bed: SaidBed | null, answer: string, tries = 1): Talk => ({
    step,
    since: now,
    tries,
    bed,
    last: { id: incoming.id, answer, acts: [] },
  })
  const came = (said: BedAnswer): Talk | null => {
    if (said.is === "unread") return null
    const same = garden.beds.find((bed) => isCalled(bed, said.bed.name))
    if (same) return over(bedKnownText(same.name))
    if (said.is === "next") return asks(said.step, said.bed, said.ask)
    const add = newBed(view, said.bed, said.sowing)
    const answer = bedAddedText(add.name, add.size, said.sowing, namingOf(house, view.on))
    return over(answer, [{ act: "add-bed", bed: add.id, name: add.name }], { add })
  }

  const command = readBedCommand(incoming.text, garden.beds)
  if (command && !house.shelf.keptAs?.(garden.id)) return over(bedsInFileText(garden), [], { note: true })
  if (command?.is === "drop") return dropped(house, garden, command.bed, over)
  if (command?.is === "add" && garden.beds.length >= MOST_BEDS) return over(tooManyBedsText(MOST_BEDS))
  if (command?.is === "add") {
    const first = command.rest === "" ? null : came(answerAboutBed("bed", null, command.rest, about))
    return first ?? asks("bed", null, askNewBedText(garden.place.units))
  }
  if (!before || before.step === "over" || now - before.since > TALK_MS) return null
  const { acts, ask } = understand(incoming.text, contextOf(view, person, house.words(), now))
  if (isOfSomethingElse(before.step, incoming.text, acts, garden)) return null
  const said = answerAboutBed(before.step, before.bed, incoming.text, about)
  // Any words could be a name: only short ones that mean nothing else are taken for it.
  const isPlain = acts.length === 0 && ask?.which !== "reminder"
  const isName = said.is !== "next" || said.step !== "size" || (isPlain && isShort(incoming.text))
  const talk = isName ? came(said) : null
  if (talk) return talk
  if (acts.length > 0 || ask || said.is !== "unread" || before.tries >= MOST_TRIES) return null
  return asks(before.step, before.bed, askAgainText(said.expected, said.ask), before.tries + 1)
}

/** What can be part of telling what was sown; all other acts are about something else. */
const OF_SOWING = new Set(["sowed", "planted", "observe", "want", "measure"])

function isOfSomethingElse(step: BedStep, text: string, acts: readonly Act[], garden: Garden): boolean {
  if (acts.some((act) => !OF_SOWING.has(act.act))) return true
  const words = ` ${folded(text)} `
  return step === "sowing" && garden.beds.some((bed) => words.includes(` ${folded(bed.name)} `))
}

const isShort = (text: string): boolean => text.trim().split(/\s+/).length <= 5

function dropped(house: House, garden: Garden, id: string | null, over: (answer: string, acts?: Act[]) => Talk): Talk {
  const bed = garden.beds.find((each) => each.id === id)
  if (!bed) return over(whichBedText(garden.beds.map(({ name }) => name)))
  if (garden.beds.length === 1) return over(lastBedText(bed.name))
  const found = withoutBed(house.shelf.keptAs?.(garden.id)?.text ?? "", bed.id)
  if (!found) throw new Error(`the kept file of ${garden.id} has no bed ${bed.id}`)
  return over(bedDroppedText(bed.name), [{ act: "drop-bed", bed: bed.id, name: bed.name, ...found.taken }])
}

/** The bed as the garden file will have it. An id that a bed had which was left out is another bed's for good. */
function newBed(
  { garden, entries }: View,
  { name, size }: SaidBed & { size: string },
  sowing: SaidSowing | null,
): NewBed {
  const gone = entries.flatMap((entry) => (entry.kind === "reply" ? entry.acts : []))
  const taken = new Set([
    ...garden.beds.map((bed) => bed.id),
    ...gone.flatMap((act) => (act.act === "drop-bed" || act.act === "add-bed" ? [act.bed] : [])),
  ])
  const base = (asId(name) || "bed").slice(0, 36)
  let id = base
  for (let n = 2; taken.has(id); n += 1) id = `${base}-${n}`
  return { id, name, size, sowing }
}

function isCalled({ id, name, also }: Garden["beds"][number], said: string): boolean {
  return [id, name, ...also].some((each) => folded(each) === folded(said))
}
