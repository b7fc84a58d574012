import type { Garden, Person } from "../garden/garden.ts"
import { type Instant, MINUTE_MS } from "../values/instant.ts"
import { instantAt, localDay, localMinutes, type Minutes } from "../values/zone.ts"
import { type Given, givenTo } from "../wording/numbers.ts"
import type { House } from "./house.ts"
import { viewNow } from "./known.ts"
import type { GardenShelf } from "./needs.ts"
import { elsewhere, personRef } from "./who.ts"

/*
 * One phone, or one mailbox, in several gardens is one person: what each garden sends there counts for all of them.
 */

/**
 * The person as all of their gardens together may write to them: within the hours that every garden file names, and no more
 * a day than the fewest. Where no hour is in all of them, the garden's own hours stand.
 */
export function asInAllGardens(shelf: GardenShelf, garden: Garden, person: Person, now: Instant): Person {
  const others = elsewhere(shelf, garden, person).map((each) => each.person)
  if (others.length === 0) return person
  const [own, ...more] = [person, ...others].map((each) => hoursIn(each, person, now)) as [Hours, ...Hours[]]
  const shared = more.reduce(
    (a, b): Hours => ({ from: Math.max(a.from, b.from), to: Math.min(a.to, b.to), most: Math.min(a.most, b.most) }),
    own,
  )
  const hours = shared.from < shared.to ? shared : { ...own, most: shared.most }
  return { ...person, texts: hours }
}

type Hours = { from: Minutes; to: Minutes; most: number }

/** Somebody's hours of today on the clock of the person they are compared with. */
function hoursIn(other: Person, person: Person, now: Instant): Hours {
  if (other.zone === person.zone) return other.texts
  const there = (minutes: Minutes) =>
    localMinutes(instantAt(localDay(now, other.zone), minutes, other.zone), person.zone)
  return { from: there(other.texts.from), to: there(other.texts.to), most: other.texts.most }
}

/** What the same phone or mailbox was told for other gardens: numbers are one row for whoever reads them, and so is the count of texts. */
export async function toldElsewhere(house: House, garden: Garden, person: Person, now: Instant): Promise<Given[]> {
  const given = await Promise.all(
    elsewhere(house.shelf, garden, person).map(async (other) =>
      givenTo((await viewNow(house, other.garden, now)).history, other.person.id),
    ),
  )
  return given.flat()
}

/** A nudge that was noted and is not in the store so long after it never got there: its process was killed. */
const NOTED_MS = 2 * MINUTE_MS

/**
 * Is a nudge to the same phone or mailbox, for another garden, still on its way? Until it is known what it told, nothing
 * more is said there: it would have the same numbers.
 */
export async function isToldElsewhere(house: House, garden: Garden, person: Person, now: Instant): Promise<boolean> {
  if (elsewhere(house.shelf, garden, person).length === 0) return false
  const [at, key = ""] = ((await house.store.recall(`last nudge:${nameOf(house, garden, person)}`)) ?? "").split(" ")
  const last = key === "" ? null : await house.store.outgoing(key)
  if (!last) return key !== "" && now - Number(at) < NOTED_MS
  return last.garden !== garden.id && (last.state === "waiting" || last.state === "sending")
}

/** How often a person of several gardens was nudged so far, to be given to `noteNudge`; null: they have one garden. */
export async function nudgesSoFar(house: House, garden: Garden, person: Person): Promise<number | null> {
  if (elsewhere(house.shelf, garden, person).length === 0) return null
  return house.store.tally(`nudges:${nameOf(house, garden, person)}`, 0)
}

/**
 * Takes down that a nudge to a person of several gardens is on its way. False where another garden's was made side by side
 * with it: then neither knew of the other's numbers, and this one is to be made anew.
 */
export async function noteNudge(
  house: House,
  garden: Garden,
  person: Person,
  nudge: { key: string; sofar: number | null },
  now: Instant,
): Promise<boolean> {
  if (nudge.sofar === null) return true
  const name = nameOf(house, garden, person)
  if ((await house.store.tally(`nudges:${name}`, 1)) !== nudge.sofar + 1) return false
  await house.store.remember(`last nudge:${name}`, `${now} ${nudge.key}`)
  return true
}

/** The same name whichever of their gardens is asked. */
function nameOf(house: House, garden: Garden, person: Person): string {
  const all = [{ garden, person }, ...elsewhere(house.shelf, garden, person)]
  const refs = all.map((each) => personRef(each.garden.id, each.person.id))
  return refs.sort().join(" ")
}
