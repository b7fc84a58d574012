import type { Act } from "../garden/acts.ts"
import type { EntryOf, NewEntry } from "../garden/entry.ts"
import type { Instant } from "../values/instant.ts"
import { consentOf, consentRecord, saysYes } from "./consent.ts"
import type { House } from "./house.ts"
import type { Incoming } from "./needs.ts"
import { replyEntry, undoEntry } from "./read-reply.ts"
import type { Someone } from "./who.ts"

/**
 * What words said to one garden come to in the others that write to the same phone or mailbox. STOP and START, PAUSE and
 * RESUME are about the phone and count in all of them (failure P9); a yes answers every garden that has asked and waits; UNDO
 * takes back in all what it takes back in one. The views of the others were made a moment ago, to tell the gardens apart.
 */
export function sameElsewhere(
  house: House,
  acts: readonly Act[],
  undone: EntryOf<"reply"> | null,
  others: readonly Someone[],
  incoming: Incoming,
  now: Instant,
): NewEntry[] {
  return others.flatMap((other) => [
    ...stopOrStart(acts, other, incoming, now),
    ...quiet(acts, other, incoming, now),
    ...yes(house, acts, other, incoming, now),
    ...takenBack(house, undone, other, incoming, now),
  ])
}

function stopOrStart(acts: readonly Act[], { garden, person }: Someone, incoming: Incoming, now: Instant): NewEntry[] {
  const said = acts.find((act) => act.act === "stop" || act.act === "start")
  if (!said) return []
  return [
    {
      at: now,
      garden: garden.id,
      by: person.id,
      via: incoming.via,
      kind: "channel",
      person: person.id,
      channel: incoming.via === "email" ? "mail" : "text",
      state: said.act === "stop" ? "stopped" : "started",
      because: `said ${said.act} to another garden`,
    },
  ]
}

function quiet(acts: readonly Act[], other: Someone, incoming: Incoming, now: Instant): NewEntry[] {
  const said = acts.filter((act) => act.act === "pause" || act.act === "resume")
  return said.length === 0 ? [] : [{ ...replyEntry(incoming, other, now), acts: said }]
}

function yes(house: House, acts: readonly Act[], other: Someone, incoming: Incoming, now: Instant): NewEntry[] {
  const view = house.memory.views.get(other.garden.id)?.view
  const isYes = saysYes(incoming.text) || acts.some((act) => act.act === "join")
  if (incoming.via !== "sms" || !view || !isYes) return []
  if (consentOf(house, view, other.person, now).is !== "waiting") return []
  const common = { at: now, garden: other.garden.id, by: other.person.id, via: incoming.via }
  return [consentRecord(common, other.person.id, other.person.phone, "confirmed")]
}

function takenBack(
  house: House,
  undone: EntryOf<"reply"> | null,
  other: Someone,
  incoming: Incoming,
  now: Instant,
): NewEntry[] {
  if (undone?.message === undefined) return []
  const entries = house.memory.views.get(other.garden.id)?.view.entries ?? []
  const same = entries.find((entry) => entry.kind === "reply" && entry.message === undone.message)
  return same?.kind === "reply" ? [undoEntry(same, incoming, other, now)] : []
}
