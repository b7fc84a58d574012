import { z } from "zod"
import type { Incoming, Media, Outgoing } from "../bot/needs.ts"
import { DAY_MS, type Instant, instantOf } from "../values/instant.ts"
import { type Answered, CARRIER_API, type CarrierClient, CarrierRefusal } from "./sms-client.ts"

/** What the carrier's own lists tell. */
export type CarrierList = {
  /**
   * Texts that people sent since a moment, oldest first, with the time they were sent and their pictures: what webhooks
   * did not bring while we were away (failure D22). Throws where any of it cannot be read, so that nothing is skipped.
   */
  readInboundList(after: Instant): Promise<Incoming[]>
  /** When one text of a person was sent. `unknown`: the carrier has none of that id; null: it cannot be asked now. */
  readOneInbound(sid: string): Promise<{ sentAt: Instant } | "unknown" | null>
}

type Client = (answered?: Answered) => Promise<CarrierClient>

/** A clock of the carrier's shows whole seconds; and a little is left for the way there. */
const SLACK_MS = 2_000
/** A clock of ours that was wrong when we tried, and is right now, was wrong by less: one that is further off is noticed (failure T17). */
const WRONG_CLOCK_MS = DAY_MS
const PAGE_SIZE = 100
/** No list of ours is longer; one that is longer is told, not cut. */
const MOST_PAGES = 100
const MOST_MEDIA = 10

const sid = z.string().regex(/^[A-Z]{2}[0-9a-fA-F]{32}$/)
/** A message as the library hands it out: its dates are read already. */
const listed = z.object({
  sid,
  direction: z.string(),
  from: z.string().nullable(),
  to: z.string().nullable(),
  body: z.string().nullable(),
  numMedia: z.string().nullable(),
  dateCreated: z.date().nullable().catch(null),
  dateSent: z.date().nullable().catch(null),
})
type Listed = z.infer<typeof listed>
const listedMedia = z.object({ sid, contentType: z.string().nullable() })

/** When a message can have been taken, by our clock. */
export type Between = { since: Instant; until: Instant }

/**
 * The text in the carrier's list that is this message: to the same number, the same words, made in the time in which we
 * tried, and not known to be another message of ours; of several the first, since the later ones are of later tries. Where
 * there is none in that time, the nearest within a day: our clock may have been set since we tried. `sid` null: there is
 * none; null: the list cannot be read. `off`: how far the carrier's clock is ahead of ours now; null: it does not say.
 *
 * The list is not asked by date: what still waits at the carrier has no date of sending (twilio/twilio-java#442). Newest
 * come first (twilio/twilio-python#581), so reading stops at the first that is too old.
 */
export async function findTaken(
  client: Client,
  message: Outgoing,
  between: Between,
  now: Instant,
  isOthers: (sid: string) => Promise<boolean>,
): Promise<{ sid: string | null; off: number | null } | null> {
  const answered: Answered = { date: null }
  let found: string | null = null
  let near: { sid: string; outside: number } | null = null
  try {
    const { messages } = await client(answered)
    let page = await messages.page({ to: message.to, pageSize: PAGE_SIZE })
    // The carrier's clock is not ours: its list is read by its own.
    const off = offBy(answered, now)
    const ahead = off ?? 0
    const since = between.since + ahead - SLACK_MS
    const until = between.until + ahead + SLACK_MS
    for (let read = 0; read < MOST_PAGES; read += 1) {
      for (const each of page.instances) {
        const one = listed.parse(each)
        const made = one.dateCreated?.getTime() ?? until
        if (made < since - WRONG_CLOCK_MS) return { sid: found ?? near?.sid ?? null, off }
        const ours = one.direction.startsWith("outbound") && sameWords(one.body, message.text)
        if (!ours || (await isOthers(one.sid))) continue
        const outside = Math.max(since - made, made - until)
        if (outside <= 0) found = one.sid
        else if (outside <= WRONG_CLOCK_MS && outside < (near?.outside ?? outside + 1)) near = { sid: one.sid, outside }
      }
      if (!page.nextPageUrl) return { sid: found ?? near?.sid ?? null, off }
      page = await messages.getPage(page.nextPageUrl)
    }
    return null
  } catch {
    return null
  }
}

/** How far the carrier's clock is ahead of ours, by the date of an answer; null: it gave none. */
export function offBy({ date }: Answered, now: Instant): number | null {
  const theirs = date === null ? Number.NaN : Date.parse(date)
  return Number.isNaN(theirs) ? null : theirs - now
}

/** Line ends and blanks at the ends are the carrier's to change. */
function sameWords(a: string | null, b: string): boolean {
  return a !== null && plain(a) === plain(b)
}

function plain(text: string): string {
  return text.replace(/\r\n?/g, "\n").trim()
}

export async function readInboundList(
  client: Client,
  { after, to, apiUrl }: { after: Instant; to: string | null; apiUrl: string | null },
): Promise<Incoming[]> {
  const { messages } = await client()
  const found: Incoming[] = []
  // A whole day more is asked for: the filter is by the carrier's day.
  const filter = { ...(to === null ? {} : { to }), dateSentAfter: new Date(after - DAY_MS), pageSize: PAGE_SIZE }
  let page = await messages.page(filter)
  for (let read = 0; ; read += 1) {
    if (read >= MOST_PAGES) throw new Error("the carrier's list of incoming texts does not end")
    for (const each of page.instances) {
      const one = listed.parse(each)
      if (one.direction !== "inbound" || one.from === null) continue
      const at = sentAt(one)
      if (at === null || at < after) continue
      found.push({
        id: one.sid,
        via: "sms",
        from: one.from,
        to: one.to ?? "",
        text: one.body ?? "",
        at,
        media: Number(one.numMedia) > 0 ? await mediaOf(await client(), one.sid, apiUrl) : [],
        extra: { read: "list" },
      })
    }
    if (!page.nextPageUrl) break
    page = await messages.getPage(page.nextPageUrl)
  }
  return found.sort((a, b) => a.at - b.at)
}

export async function readOneInbound(client: Client, id: string): Promise<{ sentAt: Instant } | "unknown" | null> {
  try {
    const one = listed.parse(await (await client()).messages(id).fetch())
    const at = sentAt(one)
    return one.direction !== "inbound" || at === null ? "unknown" : { sentAt: at }
  } catch (error) {
    return error instanceof CarrierRefusal && error.status === 404 ? "unknown" : null
  }
}

function sentAt(one: Listed): Instant | null {
  const date = one.dateSent ?? one.dateCreated
  return date === null || Number.isNaN(date.getTime()) ? null : instantOf(date.getTime())
}

/** Pictures of a text. One whose pictures were deleted at the carrier has none. */
async function mediaOf(client: CarrierClient, id: string, apiUrl: string | null): Promise<Media[]> {
  try {
    const all = await client.messages(id).media.list({ limit: MOST_MEDIA })
    const base = (apiUrl ?? CARRIER_API).replace(/\/+$/, "")
    return all.map((each) => {
      const media = listedMedia.parse(each)
      const path = `/2010-04-01/Accounts/${client.accountSid}/Messages/${id}/Media/${media.sid}`
      return { url: `${base}${path}`, type: media.contentType ?? "" }
    })
  } catch (error) {
    if (error instanceof CarrierRefusal && error.status === 404) return []
    throw error
  }
}
