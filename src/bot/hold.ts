import type { Entry } from "../garden/entry.ts"
import { DAY_MS, type Instant } from "../values/instant.ts"
import { localDay } from "../values/zone.ts"
import type { House } from "./house.ts"
import { viewNow } from "./known.ts"
import type { Outgoing } from "./needs.ts"

/** A second failure counts so long after the first one. */
const MEMORY_MS = 30 * DAY_MS
/** Codes of texts that may be a mistake of one day; all refusals of mail are (a full mailbox, a server being moved). */
const DOUBTFUL_TEXT_CODES = new Set(["30005"])

/**
 * Does this failure end the use of a person's channel? Most that are for good do at once. Those that are sometimes said by
 * mistake do at the second time on another day, and whoever has written in between is there (failure M9).
 */
export async function isForGood(house: House, message: Outgoing, code: string, now: Instant): Promise<boolean> {
  if (message.channel === "text" && !DOUBTFUL_TEXT_CODES.has(code)) return true
  const garden = house.shelf.byId(message.garden)
  const person = garden?.people.find((each) => each.id === message.person)
  if (!garden || !person) return true
  const { entries } = await viewNow(house, garden, now)
  const via = message.channel === "text" ? "sms" : "email"
  const heard = entries.findLast((entry) => entry.kind === "reply" && entry.by === person.id && entry.via === via)
  const since = Math.max(heard?.at ?? 0, now - MEMORY_MS)
  return entries.some(
    (entry) =>
      isFailureOf(entry, message, via) &&
      entry.at > since &&
      localDay(entry.at, person.zone) < localDay(now, person.zone),
  )
}

/** An end by the other side; what we dropped ourselves says nothing of the channel. */
function isFailureOf(entry: Entry, message: Outgoing, via: string): boolean {
  return entry.kind === "failed" && entry.to === message.person && entry.via === via && /^\d/.test(entry.code)
}
