import { fixedShelf } from "../../src/assemble-house.ts"
import { freshMemory, type House } from "../../src/bot/house.ts"
import type { Channel, Incoming, Outgoing, SendOutcome } from "../../src/bot/needs.ts"
import { receive } from "../../src/bot/receive.ts"
import { tick } from "../../src/bot/tick.ts"
import type { Entry } from "../../src/garden/entry.ts"
import type { Garden } from "../../src/garden/garden.ts"
import { prepareWords } from "../../src/replies/vocabulary.ts"
import { openMemoryStore } from "../../src/store/open.ts"
import { addMs, type Instant, MINUTE_MS } from "../../src/values/instant.ts"
import { handbook } from "../given.ts"

/** A message that left, and when. */
export type Left = Outgoing & { at: Instant }

/** The bot over a store in memory and two channels that take whatever they are given, at a clock that stands until it is moved. */
export type TestHouse = {
  house: House
  texts: Left[]
  mails: Left[]
  /** What a channel answers instead of taking it; null: it takes it. */
  refuses: {
    text: ((message: Outgoing) => SendOutcome | null) | null
    mail: ((message: Outgoing) => SendOutcome | null) | null
  }
  /** One minute's work at that moment. */
  at(now: Instant): Promise<void>
  /** Somebody texts; a minute's work follows. */
  says(from: string, text: string, now: Instant, more?: Partial<Incoming>): Promise<void>
  log(garden?: string): Promise<Entry[]>
}

let words: ReturnType<House["words"]> | null = null

export function aHouse(...gardens: Garden[]): TestHouse {
  const store = openMemoryStore()
  const texts: Left[] = []
  const mails: Left[] = []
  const refuses: TestHouse["refuses"] = { text: null, mail: null }
  const clock = { at: 0 as Instant, now: () => clock.at }
  const quiet = { debug() {}, info() {}, warn() {}, error() {} }
  const channel = (via: "sms" | "email", left: Left[], kind: "text" | "mail"): Channel => ({
    via,
    async send(message, at) {
      const refused = refuses[kind]?.(message)
      if (refused) return refused
      left.push({ ...message, at })
      return { is: "sent", carrierId: `C${left.length}` }
    },
    wasTaken: async () => ({ taken: false, carrierId: null }),
  })
  const one = fixedShelf(gardens[0] as Garden)
  const house: House = {
    handbook: handbook(),
    words: () => {
      words ??= prepareWords(handbook())
      return words
    },
    store,
    shelf: { ...one, all: () => gardens, byId: (id) => gardens.find((garden) => garden.id === id) },
    clock,
    weather: null,
    text: channel("sms", texts, "text"),
    mail: channel("email", mails, "mail"),
    pictures: async () => [],
    links: null,
    stopAddress: null,
    photos: null,
    log: quiet,
    hold: { reason: null },
    memory: freshMemory(),
  }
  const at = async (now: Instant) => {
    clock.at = now
    await tick(house, now)
  }
  let count = 0
  return {
    house,
    texts,
    mails,
    refuses,
    at,
    async says(from, text, now, more = {}) {
      clock.at = now
      count += 1
      await receive(house, {
        id: `SM${count}`,
        via: "sms",
        from,
        to: "+17175550100",
        text,
        at: now,
        media: [],
        ...more,
      })
      await tick(house, now)
    },
    log: (garden = (gardens[0] as Garden).id) => store.entries(garden),
  }
}

/** Moments from one to another, one every so many minutes. */
export function* every(minutes: number, from: Instant, to: Instant): Generator<Instant> {
  for (let now = from; now <= to; now = addMs(now, minutes * MINUTE_MS)) yield now
}
