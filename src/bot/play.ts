import type { Garden } from "../garden/garden.ts"
import { addDays, type Day } from "../values/day.ts"
import type { Instant } from "../values/instant.ts"
import { instantAt } from "../values/zone.ts"
import { slotsOf } from "../wording/slots.ts"
import type { House } from "./house.ts"
import type { Incoming } from "./needs.ts"
import { receive } from "./receive.ts"
import { tick } from "./tick.ts"

/** The bot's clock while a stretch of time is played through. */
export type PlayClock = { now(): Instant; set(at: Instant): void }

/** A clock that stands where it is set. */
export function playClock(start: Instant): PlayClock {
  let at = start
  return {
    now: () => at,
    set(next) {
      at = next
    },
  }
}

/**
 * Plays every day from `from` to `to` through the real tick: at the start of each day, at each hour that a person may be
 * written to at, and at the moment of each reply. Between those moments a tick would find nothing due. Replies must come
 * in the order of their time; those outside the stretch are passed over.
 */
export async function play(
  house: House,
  clock: PlayClock,
  from: Day,
  to: Day,
  replies: readonly Incoming[],
): Promise<void> {
  const [garden] = house.shelf.all()
  if (!garden) return
  const waiting = replies.filter((reply) => reply.at >= instantAt(from, 0, garden.place.zone))
  for (let day = from; day <= to; day = addDays(day, 1)) {
    const end = instantAt(addDays(day, 1), 0, garden.place.zone)
    const moments = momentsOf(garden, day).filter((at) => at < end)
    while (waiting[0] && waiting[0].at < end) {
      const reply = waiting.shift() as Incoming
      for (const at of moments.splice(0, moments.findIndex((moment) => moment > reply.at) >>> 0))
        await tickAt(house, clock, at)
      clock.set(reply.at)
      await receive(house, reply)
      await tick(house, reply.at)
    }
    for (const at of moments) await tickAt(house, clock, at)
  }
}

async function tickAt(house: House, clock: PlayClock, at: Instant): Promise<void> {
  clock.set(at)
  await tick(house, at)
}

/** The moments of a day of the garden at which something can fall due, in order, each once. */
function momentsOf(garden: Garden, day: Day): Instant[] {
  const start = instantAt(day, 0, garden.place.zone)
  const end = instantAt(addDays(day, 1), 0, garden.place.zone)
  const moments = garden.people.flatMap((person) => {
    const minutes = [
      0,
      person.texts.from,
      person.texts.to,
      ...slotsOf(person),
      ...(person.digest ? [person.digest.at] : []),
    ]
    // A person may live where this day is another: their day before and after can reach into it.
    return [-1, 0, 1].flatMap((shift) => minutes.map((each) => instantAt(addDays(day, shift), each, person.zone)))
  })
  return [...new Set([start, ...moments])].filter((at) => at >= start && at < end).sort((a, b) => a - b)
}
