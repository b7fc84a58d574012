import { z } from "zod"

/**
 * How far a mailbox was read. Numbers of mails hold only while UIDVALIDITY stays the same (RFC 9051, 2.3.1.1); `until` is
 * the arrival of the last mail read, in milliseconds, from which a renumbered mailbox is read again.
 */
export type Place = { mailbox: string; uidValidity: string; lastUid: number; until: number }

export type PlaceMemory = {
  recall(name: string): Promise<string | null>
  remember(name: string, value: string): Promise<void>
}

const NAME = "mailbox"

const schema = z.object({
  mailbox: z.string(),
  uidValidity: z.string(),
  lastUid: z.number().int().min(0),
  until: z.number(),
})

/** The place in this mailbox; null where none is known, or the one known is of another mailbox. */
export async function recallPlace(memory: PlaceMemory, mailbox: string): Promise<Place | null> {
  const said = await memory.recall(NAME)
  if (said === null || said === "") return null
  try {
    const place = schema.parse(JSON.parse(said))
    return place.mailbox === mailbox ? place : null
  } catch {
    return null
  }
}

export async function rememberPlace(memory: PlaceMemory, place: Place): Promise<void> {
  await memory.remember(NAME, JSON.stringify(place))
}
