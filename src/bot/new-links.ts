import { addMs, asInstant, DAY_MS, type Instant, instantText } from "../values/instant.ts"
import { newLinksMail, newLinksText } from "../wording/new-links.ts"
import { consentOf } from "./consent.ts"
import { addressOf } from "./deliver.ts"
import type { House } from "./house.ts"
import { viewNow } from "./known.ts"
import type { NewOutgoing } from "./needs.ts"
import type { View } from "./view.ts"
import type { Someone } from "./who.ts"

/** When a person last had new links made: older ones open nothing. null: never. */
export async function linksRenewed(
  house: Pick<House, "store">,
  garden: string,
  person: string,
): Promise<Instant | null> {
  return asInstant((await house.store.recall(renewedName(garden, person))) ?? "")
}

/**
 * Ends all older links of a person, and sends new ones to the address that the garden file names: whoever holds a link that
 * got into wrong hands can end it, and never have another. null, with nothing changed, where no way to the person is open.
 */
export async function renewLinks(
  house: House,
  { garden, person }: Someone,
  now: Instant,
): Promise<"mail" | "text" | null> {
  const links = house.links?.(garden, person) ?? null
  const way = openWay(house, await viewNow(house, garden, now), person, now)
  if (!links || !way) return null
  const message: NewOutgoing = {
    key: `links:${garden.id}:${person.id}:${instantText(now)}`,
    garden: garden.id,
    person: person.id,
    kind: "service",
    channel: way,
    to: addressOf(person, way) ?? "",
    ...(way === "mail" ? newLinksMail(garden, links) : { text: newLinksText(links) }),
    told: [],
    notBefore: now,
    goodUntil: addMs(now, DAY_MS),
  }
  // The message first: where the process ends in between, the old links still stand and one can press again.
  await house.store.queue([message])
  await house.store.remember(renewedName(garden.id, person.id), instantText(now))
  return way
}

/** A mail holds all of them, so it goes first; a stop or a hold is kept to. */
function openWay(house: House, view: View, person: Someone["person"], now: Instant): "mail" | "text" | null {
  const state = view.history.channels.get(person.id) ?? { text: "open", mail: "open" }
  if (house.mail && person.email !== null && state.mail === "open") return "mail"
  const mayText = house.text && person.phone !== null && state.text === "open"
  return mayText && consentOf(house, view, person, now).is === "given" ? "text" : null
}

function renewedName(garden: string, person: string): string {
  return `links:${garden}:${person}`
}
