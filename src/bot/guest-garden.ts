import type { Garden } from "../garden/garden.ts"
import { readGarden } from "../garden/read.ts"
import { asId } from "../garden/read-words.ts"
import type { House } from "./house.ts"
import { LogMovedOn, type NewKeptGarden } from "./needs.ts"

/** An id for the garden of somebody who joins, which no other garden has: the host's with a number. */
export async function freshGardenId(house: House, host: Garden): Promise<string> {
  for (;;) {
    const n = await house.store.tally(`guests of ${host.id}`, 1)
    const id = `${host.id.slice(0, 33)}-${n}`
    if (!house.shelf.byId(id)) return id
  }
}

/** An id that nobody else of a garden has. */
export function freshPersonId(garden: Pick<Garden, "people">, name: string): string {
  const base = asId(name) || "gardener"
  for (let n = 1; ; n += 1) {
    const id = n === 1 ? base : `${base.slice(0, 37)}-${n}`
    if (!garden.people.some((person) => person.id === id)) return id
  }
}

/**
 * Keeps a new garden, or one that was changed, and serves it from now on. Again with the same text it does nothing. Throws
 * where the text is no garden file, which is a fault of ours, and a LogMovedOn where somebody changed it meanwhile.
 */
export async function keepGuest(house: House, garden: NewKeptGarden, before: number | null): Promise<void> {
  const read = readGarden(garden.text, `${garden.id}.yaml`, house.handbook)
  if ("problems" in read)
    throw new Error(`a garden file of ours is wrong: ${read.problems.map((each) => each.code).join(", ")}`)
  try {
    await house.store.keepGarden(garden, before)
  } catch (error) {
    if (!(error instanceof LogMovedOn)) throw error
    await house.shelf.refresh?.()
    if (house.shelf.keptAs?.(garden.id)?.text !== garden.text) throw error
  }
  await house.shelf.refresh?.()
}
