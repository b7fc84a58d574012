import { freshMemory, type House } from "../../../src/bot/house.ts"
import type { Channel, Clock, GardenShelf, Store } from "../../../src/bot/needs.ts"
import type { Garden } from "../../../src/garden/garden.ts"
import type { Handbook } from "../../../src/handbook/handbook.ts"
import { prepareWords } from "../../../src/replies/vocabulary.ts"
import { aBed, aGarden, aPerson, aSowing } from "../../given.ts"

/** Plots that differ by id and phone; of every two, one has two beds and one three: two and a half on average. */
export function plots(count: number): Garden[] {
  const two = [aBed({ id: "south", sowings: [aSowing({ bed: "south" })] }), aBed({ id: "east" })]
  const three = [...two, aBed({ id: "west" })]
  return Array.from({ length: count }, (_, i) =>
    aGarden({
      id: `plot-${i}`,
      name: `Plot ${i}`,
      people: [aPerson({ phone: `+1555${2_000_000 + i}`, email: null, digest: null })],
      beds: i % 2 ? three : two,
    }),
  )
}

export function shelfOf(gardens: readonly Garden[]): GardenShelf {
  const byId = new Map(gardens.map((garden) => [garden.id, garden]))
  const all = [...gardens]
  return { all: () => all, byId: (id) => byId.get(id), version: () => 1 }
}

/** A carrier that takes everything at once and does nothing. */
export const NO_OP: Channel = {
  via: "sms",
  atOnce: 200,
  send: async () => ({ is: "sent", carrierId: "SM0" }),
  wasTaken: async () => ({ taken: false, carrierId: null }),
}

export function officeHouse(store: Store, gardens: readonly Garden[], clock: Clock, handbook: Handbook | null): House {
  const silent = {
    debug() {},
    info() {},
    warn() {},
    error: (what: unknown, words: string) => console.error(words, what),
  }
  return {
    handbook: handbook as Handbook,
    words: () => (handbook ? prepareWords(handbook) : (null as never)),
    store,
    shelf: shelfOf(gardens),
    clock,
    weather: null,
    text: NO_OP,
    mail: null,
    pictures: async () => [],
    photos: null,
    links: null,
    stopAddress: null,
    log: silent,
    hold: { reason: null },
    memory: { ...freshMemory(), served: { edition: "bench", version: null, gardens: new Map() } },
  }
}
