/** What the stand-in of the carrier writes down: every message it took, and every one that people sent it. */
import { createHash } from "node:crypto"
import { type Instant, instantOf } from "../../src/values/instant.ts"

export type Picture = { sid: string; type: string; bytes: Uint8Array; gone?: boolean }

export type Booked = {
  sid: string
  direction: "outbound-api" | "inbound"
  to: string
  from: string
  body: string
  /** The carrier's own time. */
  madeAt: Instant
  sentAt: Instant | null
  status: string
  errorCode: number | null
  /** Our own key, as it stood in the address for reports; null: none was given. */
  key: string | null
  statusCallback: string | null
  /** Handed over by then, or never. */
  validUntil: Instant | null
  pictures: Picture[]
  /** Every word that was reported of it, in order. */
  reported: string[]
}

/** Numbers for everything that has an id at the carrier: the same seed gives the same ids. */
export function idMaker(seed: string): (kind: "SM" | "MM" | "ME") => string {
  let count = 0
  return (kind) => {
    count += 1
    return kind + createHash("sha256").update(`${seed}:${count}`).digest("hex").slice(0, 32)
  }
}

/** Random numbers from 0 to 1 that follow from a seed (mulberry32, public domain, from memory). */
export function drawer(seed: number): () => number {
  let state = seed >>> 0
  return () => {
    state = (state + 0x6d2b79f5) >>> 0
    let t = state
    t = Math.imul(t ^ (t >>> 15), t | 1)
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61)
    return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32
  }
}

/** `Thu, 24 Aug 2023 05:01:45 +0000`: the carrier's dates have whole seconds. */
export function carrierDate(at: Instant): string {
  return new Date(Math.floor(at / 1000) * 1000).toUTCString().replace("GMT", "+0000")
}

/** A message as the carrier's interface shows it. */
export function messageJson(account: string, booked: Booked, service: string | null): Record<string, unknown> {
  const uri = `/2010-04-01/Accounts/${account}/Messages/${booked.sid}`
  return {
    account_sid: account,
    api_version: "2010-04-01",
    body: booked.body,
    date_created: carrierDate(booked.madeAt),
    date_sent: booked.sentAt === null ? null : carrierDate(booked.sentAt),
    date_updated: carrierDate(booked.sentAt ?? booked.madeAt),
    direction: booked.direction,
    error_code: booked.errorCode,
    error_message: null,
    from: booked.from,
    messaging_service_sid: service,
    num_media: String(booked.pictures.length),
    num_segments: "1",
    price: null,
    price_unit: "USD",
    sid: booked.sid,
    status: booked.status,
    subresource_uris: { media: `${uri}/Media.json` },
    to: booked.to,
    uri: `${uri}.json`,
  }
}

export function mediaJson(account: string, parent: Booked, picture: Picture): Record<string, unknown> {
  return {
    account_sid: account,
    content_type: picture.type,
    date_created: carrierDate(parent.madeAt),
    date_updated: carrierDate(parent.madeAt),
    parent_sid: parent.sid,
    sid: picture.sid,
    uri: `/2010-04-01/Accounts/${account}/Messages/${parent.sid}/Media/${picture.sid}.json`,
  }
}

/** The page of a list that a query asks for, newest first, in the shape of the carrier's lists. */
export function pageOf(path: string, query: URLSearchParams, all: readonly Record<string, unknown>[], name: string) {
  const size = Number(query.get("PageSize") ?? 50)
  const page = Number(query.get("Page") ?? 0)
  const address = (n: number) => {
    const asked = new URLSearchParams(query)
    asked.set("Page", String(n))
    asked.set("PageSize", String(size))
    if (n > 0) asked.set("PageToken", `PA${n}`)
    return `${path}?${asked}`
  }
  const shown = all.slice(page * size, (page + 1) * size)
  return {
    [name]: shown,
    end: Math.max(0, page * size + shown.length - 1),
    start: page * size,
    page,
    page_size: size,
    uri: address(page),
    first_page_uri: address(0),
    next_page_uri: (page + 1) * size < all.length ? address(page + 1) : null,
    previous_page_uri: page > 0 ? address(page - 1) : null,
  }
}

/** Does a message fall under the filters of the list? Times compare by the carrier's day where only a day is given. */
export function listedBy(query: URLSearchParams, booked: Booked): boolean {
  const to = query.get("To")
  const from = query.get("From")
  if (to !== null && booked.to !== to) return false
  if (from !== null && booked.from !== from) return false
  const after = bound(query.get("DateSent>"))
  const before = bound(query.get("DateSent<"))
  if (after === null && before === null) return true
  // What still waits has no date of sending: a list by date leaves it out.
  if (booked.sentAt === null) return false
  return (after === null || booked.sentAt >= after) && (before === null || booked.sentAt <= before)
}

function bound(text: string | null): Instant | null {
  return text === null ? null : instantOf(Date.parse(text.length === 10 ? `${text}T00:00:00Z` : text))
}
