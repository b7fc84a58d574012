import { effective, lastChangeBy } from "../garden/effective.ts"
import type { EntryOf } from "../garden/entry.ts"
import type { Bed, Person } from "../garden/garden.ts"
import type { OpenReminder, Pending, ReplyBed, ReplyContext } from "../replies/context.ts"
import type { Words } from "../replies/vocabulary.ts"
import type { Instant } from "../values/instant.ts"
import { localDay, localMinutes } from "../values/zone.ts"
import { numbersOf } from "./digests.ts"
import type { View } from "./view.ts"

/** What a person's words are read against: the beds and what grows there, what was asked and is open, what they said last. */
export function contextOf(view: View, person: Person, words: Words, now: Instant): ReplyContext {
  const last = lastChangeBy(view.entries, person.id)
  return {
    now: { day: localDay(now, person.zone), minutes: localMinutes(now, person.zone) },
    dates: view.garden.place.dates,
    units: view.garden.place.units,
    beds: view.garden.beds.map((bed) => bedOf(view, bed)),
    open: openTo(view, person),
    last: last ? { acts: last.acts } : undefined,
    pending: pendingOf(view, person),
    words,
  }
}

/** The reminders that a person was sent and that are not settled, with the numbers they saw. */
export function openTo(view: View, person: Person): OpenReminder[] {
  const numberOf = numbersOf(view.history, person.id)
  return view.reminders
    .filter((reminder) => reminder.person === person.id)
    .filter(({ state, id }) => state === "sent" || ((state === "due" || state === "snoozed") && numberOf(id) !== null))
    .map((reminder) => ({ n: numberOf(reminder.id) ?? 0, bed: reminder.bed, kind: reminder.kind }))
    .filter((open) => open.n > 0)
    .sort((a, b) => a.n - b.n)
}

/** What grows in a bed now; where nothing does, what is planned next, else what grew last. */
function bedOf(view: View, bed: Bed): ReplyBed {
  const sowings = view.plan.beds.find((each) => each.bed === bed.id)?.sowings ?? []
  const growing = sowings.findLast(
    (sowing) => sowing.state !== "planned" && sowing.state !== "ended" && sowing.state !== "planted",
  )
  const current = growing ?? sowings.find((sowing) => sowing.state === "planned") ?? sowings.at(-1)
  return {
    id: bed.id,
    name: bed.name,
    also: bed.also,
    species: current?.species.map((each) => each.id) ?? [],
    state: current?.state,
  }
}

/** The question that we asked this person last, if nothing they said since has answered it. */
function pendingOf(view: View, person: Person): Pending | undefined {
  const said = effective(view.entries).filter(
    (entry): entry is EntryOf<"reply"> => entry.kind === "reply" && entry.by === person.id,
  )
  const last = said.at(-1)
  return last?.ask ? { ask: last.ask, text: last.text, asked: localDay(last.at, person.zone) } : undefined
}
