import type { Garden, Person } from "../garden/garden.ts"
import type { Handbook } from "../handbook/handbook.ts"
import type { Words } from "../replies/vocabulary.ts"
import type { Instant } from "../values/instant.ts"
import type { Digest, DigestLinks } from "../wording/digest.ts"
import type { Channel, Clock, Enclosure, GardenShelf, KeptIncoming, Store, WeatherSource } from "./needs.ts"
import { RecentMap } from "./recent.ts"
import type { Daily, View } from "./view.ts"
import { WAITS } from "./waits.ts"

/** Makes the pictures that go into a weekly mail. */
export type Pictures = (mail: Digest) => Promise<Enclosure[]>

/** Where the bot tells its operator what happens; private data never goes in. */
export type Logbook = {
  debug(what: Record<string, unknown>, message: string): void
  info(what: Record<string, unknown>, message: string): void
  warn(what: Record<string, unknown>, message: string): void
  error(what: Record<string, unknown>, message: string): void
}

/** Everything the bot's procedures work with, built once in the composition root. */
export type House = {
  handbook: Handbook
  /** The vocabulary of replies, prepared at the first one. */
  words(): Words
  store: Store
  shelf: GardenShelf
  clock: Clock
  weather: WeatherSource | null
  text: Channel | null
  mail: Channel | null
  /** Makes the pictures that go with a weekly mail. */
  pictures: Pictures
  /** Fetches the pictures of a message and names them as kept; null: they stay where they are. Never throws. */
  photos: ((incoming: KeptIncoming) => Promise<KeptIncoming>) | null
  /** Signed links of a person; null where no page is served. */
  links: ((garden: Garden, person: Person) => DigestLinks) | null
  /** The signed link of an organiser's page; absent where no page is served. */
  overviewLink?: (garden: Garden, person: Person) => string
  /** Texts a second that the sender may send; absent: the carrier's own queue does. Then a morning's nudges are spread. */
  textRate?: number
  /** May another message be claimed at that moment, by the rate of all workers together? Absent: any. */
  pace?: (now: Instant) => Promise<boolean>
  /** The most texts in a day that the owner wants to pay for; absent: by the number of phones. */
  textsADay?: number
  /** Where a mail that says stop may be sent; null where no mailbox is read. */
  stopAddress: string | null
  log: Logbook
  /** Why nothing may be sent now; null: all is well. */
  hold: { reason: string | null }
  memory: Memory
}

/** What may be forgotten at any time: it is only there to save work. */
export type Memory = {
  /** By garden: the view last made, and of what. */
  views: Map<string, { view: View; daily: Daily; lastSeq: number }>
  /** Views whose reminders were placed. */
  placed: WeakSet<View>
  /**
   * What the store was last told of the gardens that are served, and the name of this edition of program and handbook: a
   * garden that was planned by another is planned anew. null: every start counts as one.
   */
  served: { edition: string | null; version: number | null; gardens: Map<string, Garden> }
  /** By person (`garden/person`): days the bot was away, until their next text has said so. */
  away: Map<string, number>
  /** When it came back. */
  backSince: Instant | null
  lastTick: Instant | null
  /** Since when no text has gone out although one was tried; null: the last try went well. */
  textDownSince: Instant | null
  /** Texts of a day: as the store last counted them, those of ours that it has not been told yet, and an asking that is under way. */
  texts: { day: string; known: number | null; mine: number; asking: Promise<number> | null }
  errors: Map<string, string>
  /** What was done since the process began, by kind: for monitors. */
  counts: Map<string, number>
}

export function freshMemory(): Memory {
  return {
    views: new RecentMap(WAITS.viewsKept),
    placed: new WeakSet(),
    served: { edition: null, version: null, gardens: new Map() },
    away: new Map(),
    backSince: null,
    texts: { day: "", known: null, mine: 0, asking: null },
    lastTick: null,
    textDownSince: null,
    errors: new Map(),
    counts: new Map(),
  }
}

/** Counts something that was done. */
export function count({ memory }: Pick<House, "memory">, kind: string): void {
  memory.counts.set(kind, (memory.counts.get(kind) ?? 0) + 1)
}

/** Why nothing is sent while the clock is wrong; it ends by itself. */
export const CLOCK_HOLD =
  "the clock stands before the last work that was done; set it right, and sending goes on by itself"

export function setHold(house: House, reason: string | null): void {
  if (house.hold.reason === reason) return
  house.hold.reason = reason
  house.log.warn({ reason }, reason === null ? "sending goes on" : "sending is on hold")
}

/** Under this name a store remembers why nothing may be sent; empty: that has ended. */
export const HOLD = "hold"

/** Ends a hold that the store had, where somebody has ended it there. */
export async function endHold(house: House): Promise<void> {
  const { reason } = house.hold
  if (reason !== null && reason !== CLOCK_HOLD && (await house.store.recall(HOLD)) === "") setHold(house, null)
}

/** Ways a nudge reaches a person, as the garden file asks for them. */
export function nudgeWays(person: Person): ("text" | "mail")[] {
  if (person.by === "both") return ["text", "mail"]
  return [person.by]
}
