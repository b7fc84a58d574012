import type { NewEntry } from "../garden/entry.ts"
import type { Garden } from "../garden/garden.ts"
import type { Reminder } from "../reminders/reminder.ts"
import { asDay, type Day } from "../values/day.ts"
import type { Instant } from "../values/instant.ts"
import { instantAt } from "../values/zone.ts"
import { calendarEvents, reviseEvents } from "../wording/calendar.ts"
import { untilLogStands } from "./again.ts"
import type { House } from "./house.ts"
import { seenIn, viewNow } from "./known.ts"
import type { ReminderRow } from "./needs.ts"
import { tellOrganiser } from "./organiser.ts"
import type { View } from "./view.ts"

/**
 * Places the garden's reminders as they follow from what is known now: moved by their id, never doubled. Does nothing
 * where nothing changed since it was last done. What lapsed since the garden was first seen goes into the log.
 */
export async function replan(house: House, garden: Garden, now: Instant): Promise<View> {
  return untilLogStands(() => replanOnce(house, garden, now))
}

async function replanOnce(house: House, garden: Garden, now: Instant): Promise<View> {
  let view = await viewNow(house, garden, now)
  if (house.memory.placed.has(view)) return view
  const since = await seenSince(house, garden, view.on)
  const lapsed = newlyLapsed(view, since, now)
  if (lapsed.length > 0) {
    await house.store.append(lapsed, seenIn(view))
    view = await viewNow(house, garden, now)
  }
  await house.store.placeReminders(garden.id, rowsOf(view))
  if (house.links) await publish(house, view)
  await tellOrganiser(house, view, now)
  house.memory.placed.add(view)
  return view
}

/** Numbers what changed in each person's calendar feed, so that reading the feed changes nothing. */
async function publish(house: House, view: View): Promise<void> {
  for (const person of view.garden.people) {
    const name = feedName(view.garden.id, person.id)
    const before = (await house.store.recall(name)) ?? "{}"
    const at = instantAt(view.on, 0, view.garden.place.zone)
    const { memory } = reviseEvents(
      calendarEvents(view.plan, view.garden, house.handbook, person),
      JSON.parse(before),
      at,
    )
    const after = JSON.stringify(memory)
    if (after !== before) await house.store.remember(name, after)
  }
}

/** Under this name a store remembers what was last published of a person's calendar feed. */
export function feedName(garden: string, person: string): string {
  return `calendar:${garden}:${person}`
}

/** Rows for everything that will still speak: at the start of the person's texting hours on its day; `parcel` does the rest. */
function rowsOf(view: View): ReminderRow[] {
  const people = new Map(view.garden.people.map((person) => [person.id, person]))
  return view.reminders.flatMap((reminder): ReminderRow[] => {
    const person = people.get(reminder.person)
    if (!person || reminder.speaks === null) return []
    return [
      {
        id: reminder.id,
        person: reminder.person,
        speaksAt: instantAt(reminder.speaks, person.texts.from, person.zone),
      },
    ]
  })
}

/**
 * What became too late, or fell out of the plan after it was said, and is not in the log yet. One entry a reminder,
 * whoever minds the bed. Reminders that lapsed before the garden was first seen were never ours to say.
 */
function newlyLapsed(view: View, since: Day, now: Instant): NewEntry[] {
  const found = new Map<string, string>()
  for (const reminder of view.reminders) {
    if (reminder.state === "lapsed" && lapsedHere(reminder, since) && !knownLapsed(view, reminder.id))
      found.set(reminder.id, "its days are over")
  }
  const standing = new Set(view.reminders.map((reminder) => reminder.id))
  for (const record of view.history.reminders.values()) {
    if (!standing.has(record.id) && !record.settled && !record.lapsed) found.set(record.id, "it is in the plan no more")
  }
  return [...found].map(([of, because]) => ({
    at: now,
    garden: view.garden.id,
    by: "ryebell",
    via: "cli",
    kind: "lapsed",
    of,
    because,
  }))
}

function lapsedHere(reminder: Reminder, since: Day): boolean {
  return reminder.lapses >= since
}

function knownLapsed(view: View, id: string): boolean {
  return view.history.reminders.get(id)?.lapsed != null
}

/** The day on which this garden was first seen by this store. */
export async function seenSince(house: House, garden: Garden, today: Day): Promise<Day> {
  const name = `since:${garden.id}`
  const known = asDay((await house.store.recall(name)) ?? "")
  if (known) return known
  await house.store.remember(name, today)
  return today
}
