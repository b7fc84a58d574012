import type { Person } from "../garden/garden.ts"
import { addDays, type Day } from "../values/day.ts"
import type { Minutes } from "../values/zone.ts"
import { LIMITS } from "./limits.ts"

/** A moment of a person's own calendar and clock. */
export type Local = { day: Day; minutes: Minutes }

/** May this person be written to at this minute of their day? `from` counts in, `to` does not. */
export function inHours(person: Person, minutes: Minutes): boolean {
  const { from, to } = person.texts
  return from <= to ? minutes >= from && minutes < to : minutes >= from || minutes < to
}

/** The set times at which this person is written to, earliest first. */
export function slotsOf(person: Person): Minutes[] {
  const { from, to } = person.texts
  const clamped = LIMITS.slots.map((slot) => {
    if (inHours(person, slot)) return slot
    if (from > to) return from
    return slot < from ? from : Math.max(from, to - 1)
  })
  return [...new Set(clamped)].sort((a, b) => a - b)
}

/**
 * The slot that is open now: the last one that has begun, within hours, and since which this person has not been written
 * to. A slot that was missed stays open until the next, so that being late loses nothing.
 */
export function openSlot(person: Person, local: Local, spokenToday: readonly Minutes[]): Minutes | null {
  if (!inHours(person, local.minutes)) return null
  const slot = slotsOf(person).findLast((each) => each <= local.minutes)
  if (slot === undefined || spokenToday.some((minutes) => minutes >= slot)) return null
  return slot
}

/** The next slot after this moment. */
export function nextSlot(person: Person, local: Local): Local {
  const slots = slotsOf(person)
  const today = slots.find((slot) => slot > local.minutes)
  return today === undefined ? firstSlot(person, addDays(local.day, 1)) : { day: local.day, minutes: today }
}

/** The first slot of a day. */
export function firstSlot(person: Person, day: Day): Local {
  return { day, minutes: slotsOf(person)[0] as Minutes }
}
