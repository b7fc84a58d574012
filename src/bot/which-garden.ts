import type { Garden, Person } from "../garden/garden.ts"
import { folded } from "../replies/folded.ts"
import { understand } from "../replies/understand.ts"
import { DAY_MS, type Instant } from "../values/instant.ts"
import { contextOf, openTo } from "./context.ts"
import type { House } from "./house.ts"
import { viewNow } from "./known.ts"
import type { Incoming } from "./needs.ts"
import type { View } from "./view.ts"
import type { Someone } from "./who.ts"

/** Whoever heard from one garden within so long means that one (failure P6). */
const RECENT_MS = 14 * DAY_MS

/**
 * Which of several gardens a person means: the one that they name, or whose bed they name, or whose open number they say, or
 * the only one in which their words settle something; else the one that wrote to them last, lately. Where their words would
 * settle something in several of them, and where nobody wrote lately, they are asked: null.
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
  const settled = known.filter(({ someone, view }) => settles(house, incoming, someone.person, view, now))
  if (settled.length > 0) return settled.length === 1 ? (settled[0]?.someone ?? null) : null
  const heard = known
    .map(({ someone, view }) => ({ someone, at: lastTo(view, someone.person) }))
    .filter(({ at }) => at > now - RECENT_MS)
    .sort((a, b) => b.at - a.at)
  return heard[0]?.someone ?? null
}

/** Would these words settle, put off or let go an open reminder there, or make us ask which one? "Done" alone is such. */
function settles(
  { words }: Pick<House, "words">,
  { text }: Incoming,
  person: Person,
  view: View,
  now: Instant,
): boolean {
  const { acts, ask } = understand(text, contextOf(view, person, words(), now))
  return ask?.which === "reminder" || acts.some(({ act }) => act === "done" || act === "skip" || act === "snooze")
}

/**
 * Words about which it was asked which garden they were for, made whole by the answer: the garden's name alone says where,
 * a number or a bed alone says of what as well. null where the text is no such answer.
 */
export function wordsMeant(before: string, answer: string, garden: Garden): string | null {
  const said = folded(answer)
  if (said === folded(garden.name) || said === folded(garden.id)) return before
  const isBed = garden.beds.some((bed) => [bed.id, bed.name, ...bed.also].some((name) => said === folded(name)))
  return isBed || /^\d{1,2}$/.test(said) ? `${before} ${answer.trim()}` : null
}

function lastTo({ entries }: View, person: Person): number {
  const last = entries.findLast((entry) => (entry.kind === "sent" || entry.kind === "answer") && entry.to === person.id)
  return last?.at ?? 0
}

function says(words: string, name: string): boolean {
  return words.includes(` ${folded(name)} `)
}
