import type { Garden, Person } from "../garden/garden.ts"
import { DAY_MS, type Instant } from "../values/instant.ts"
import type { Given } from "../wording/numbers.ts"
import { givenTo } from "../wording/numbers.ts"
import { openTo } from "./context.ts"
import type { House } from "./house.ts"
import { viewNow } from "./known.ts"
import type { Incoming } from "./needs.ts"
import type { View } from "./view.ts"
import { elsewhere, personRef, type Someone } from "./who.ts"

/** Whoever heard from one garden within so long means that one (failure P6). */
const RECENT_MS = 14 * DAY_MS

/**
 * Which of several gardens a person means: the one that they name, or whose bed they name, or whose open number they say;
 * else the one that wrote to them last, lately; else they are asked: null.
 */
export async function whichGarden(
  house: House,
  senders: readonly Someone[],
  incoming: Incoming,
  now: Instant,
): Promise<Someone | null> {
  const known = await Promise.all(
    senders.map(async (someone) => ({ someone, view: await viewNow(house, someone.garden, now) })),
  )
  const words = ` ${folded(incoming.text)} `
  const tests: ((each: { someone: Someone; view: View }) => boolean)[] = [
    ({ someone }) => says(words, someone.garden.name),
    ({ someone }) =>
      someone.garden.beds.some((bed) => [bed.id, bed.name, ...bed.also].some((name) => says(words, name))),
    ({ someone, view }) => openTo(view, someone.person).some((open) => words.includes(` ${open.n} `)),
  ]
  for (const test of tests) {
    const fits = known.filter(test)
    if (fits.length === 1) return fits[0]?.someone ?? null
  }
  const heard = known
    .map(({ someone, view }) => ({ someone, at: lastTo(view, someone.person) }))
    .filter(({ at }) => at > now - RECENT_MS)
    .sort((a, b) => b.at - a.at)
  return heard[0]?.someone ?? null
}

/** Is this text the name of a garden alone: the answer to our question which one was meant? */
export function namesOnly(text: string, garden: Garden): boolean {
  return folded(text) === folded(garden.name) || folded(text) === folded(garden.id)
}

function lastTo({ entries }: View, person: Person): number {
  const last = entries.findLast((entry) => (entry.kind === "sent" || entry.kind === "answer") && entry.to === person.id)
  return last?.at ?? 0
}

function says(words: string, name: string): boolean {
  return words.includes(` ${folded(name)} `)
}

function folded(text: string): string {
  return text
    .normalize("NFKD")
    .replaceAll(/\p{M}/gu, "")
    .toLowerCase()
    .replaceAll(/[^\p{L}\p{N}]+/gu, " ")
    .trim()
}

/**
 * What the same phone or mailbox was told for other gardens: numbers are one row for whoever reads them, and so is the
 * count of texts.
 */
export async function toldElsewhere(house: House, garden: Garden, person: Person, now: Instant): Promise<Given[]> {
  const given = await Promise.all(
    elsewhere(house.shelf, garden, person).map(async (other) =>
      givenTo((await viewNow(house, other.garden, now)).history, other.person.id),
    ),
  )
  return given.flat()
}

/**
 * Is a nudge to the same phone or mailbox, for another garden, still on its way? Until it is known what it told, nothing
 * more is said there: it would have the same numbers.
 */
export async function isToldElsewhere(house: House, garden: Garden, person: Person): Promise<boolean> {
  if (elsewhere(house.shelf, garden, person).length === 0) return false
  const key = (await house.store.recall(lastNudgeOf(house, garden, person))) ?? ""
  const last = key === "" ? null : await house.store.outgoing(key)
  return last !== null && last.garden !== garden.id && (last.state === "waiting" || last.state === "sending")
}

/** Takes down that a nudge to a person of several gardens is on its way. */
export async function noteNudge(house: House, garden: Garden, person: Person, key: string): Promise<void> {
  if (elsewhere(house.shelf, garden, person).length > 0)
    await house.store.remember(lastNudgeOf(house, garden, person), key)
}

/** The same name whichever of their gardens is asked. */
function lastNudgeOf(house: House, garden: Garden, person: Person): string {
  const all = [{ garden, person }, ...elsewhere(house.shelf, garden, person)]
  const refs = all.map((each) => personRef(each.garden.id, each.person.id))
  return `last nudge:${refs.sort().join(" ")}`
}
