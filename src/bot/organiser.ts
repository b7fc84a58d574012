import type { Entry, EntryOf } from "../garden/entry.ts"
import type { Person } from "../garden/garden.ts"
import { addMs, DAY_MS, type Instant } from "../values/instant.ts"
import { organiserMessage } from "../wording/organiser.ts"
import { consentOf } from "./consent.ts"
import type { House } from "./house.ts"
import type { NewOutgoing } from "./needs.ts"
import type { View } from "./view.ts"

/** What is older than this was told, or is of no use any more. */
const FRESH_MS = 7 * DAY_MS

/** Why nothing reaches a person any more: the channel failed for good, or a stranger holds the phone. */
export const WRONG_NUMBER = "wrong-number"

/**
 * Tells the organiser of a garden, the first person of its file, once of each phone or mailbox that is of no use any more
 * (failures P1 to P3): by mail where that is open, else by text. Where it is the organiser's own, their other channel.
 */
export async function tellOrganiser(house: House, view: View, now: Instant): Promise<void> {
  const [organiser] = view.garden.people
  if (!organiser || (house.mail === null && house.text === null)) return
  const news = view.entries.filter((entry): entry is EntryOf<"channel"> => isNews(entry) && entry.at > now - FRESH_MS)
  const messages = news.flatMap((entry) => messageOf(house, view, organiser, entry, now) ?? [])
  if (messages.length > 0) await house.store.queue(messages)
}

function isNews(entry: Entry): boolean {
  return entry.kind === "channel" && (entry.state === "held" || entry.because === WRONG_NUMBER)
}

function messageOf(
  house: House,
  view: View,
  organiser: Person,
  entry: EntryOf<"channel">,
  now: Instant,
): NewOutgoing | null {
  const person = view.garden.people.find((each) => each.id === entry.person)
  const state = view.history.channels.get(organiser.id) ?? { text: "open", mail: "open" }
  const own = organiser.id === entry.person ? entry.channel : null
  const byMail = organiser.email !== null && state.mail === "open" && own !== "mail"
  const mayText = organiser.phone !== null && consentOf(house, view, organiser, now).is === "given"
  const byText = mayText && state.text === "open" && own !== "text" && organiser.by !== "mail"
  if (!person || (!byMail && !byText)) return null
  return {
    key: `told:${view.garden.id}:${entry.seq}`,
    garden: view.garden.id,
    person: organiser.id,
    kind: "service",
    channel: byMail ? "mail" : "text",
    to: (byMail ? organiser.email : organiser.phone) ?? "",
    ...organiserMessage(person, view.garden, { channel: entry.channel, wrongNumber: entry.because === WRONG_NUMBER }),
    told: [],
    notBefore: now,
    goodUntil: addMs(now, FRESH_MS),
  }
}
