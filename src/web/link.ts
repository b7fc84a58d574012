import { createHmac, timingSafeEqual } from "node:crypto"
import { DAY_MS, type Instant, instantOf } from "../values/instant.ts"

/** What a link opens: no link opens anything else. */
export const SCOPES = ["season", "calendar", "stop", "organiser"] as const
export type Scope = (typeof SCOPES)[number]

export type PersonRef = { garden: string; person: string }

/** A link that was read: for whom it is, and when it was made. */
export type LinkClaim = PersonRef & { made: Instant }

/**
 * Days that a link lives. A season link comes fresh with every weekly mail, so two months bear a holiday; a stop link must
 * work as long as anybody may still hold the mail; a calendar program keeps its address for ever, so that one ends only
 * when the person has new links made (door.ts).
 */
const LIFE_DAYS: Record<Scope, number | null> = { season: 60, calendar: null, stop: 400, organiser: 60 }

/** Bytes of the signature: 128 bits, beyond guessing. */
const MAC_BYTES = 16
/** Longer than any token of ours; what is longer is not looked at. */
const MOST_LETTERS = 400

/**
 * The token of a link: garden, person and the moment it was made in plain, and their signature. It holds no secret and
 * nothing of it is stored, so a stolen database opens no page. Signed with HMAC-SHA-256 (RFC 2104), cut to 128 bits.
 */
export function signLink(scope: Scope, who: PersonRef, made: Instant, secrets: readonly string[]): string {
  const claim = Buffer.from([who.garden, who.person, made.toString(36)].join("/")).toString("base64url")
  return `${claim}.${mac(scope, claim, secrets[0] ?? "").toString("base64url")}`
}

/**
 * Reads a token; null where it is not one of ours, is for another kind of page, or has run out by `now`. All of it takes
 * the same way whatever is wrong, and signatures are compared in constant time.
 */
export function readLink(scope: Scope, token: string, now: Instant, secrets: readonly string[]): LinkClaim | null {
  const cut = token.length <= MOST_LETTERS ? token.lastIndexOf(".") : -1
  const claim = cut < 0 ? "" : token.slice(0, cut)
  const given = Buffer.from(cut < 0 ? "" : token.slice(cut + 1), "base64url")
  const padded = Buffer.alloc(MAC_BYTES)
  given.copy(padded)
  const right = secrets.reduce((found, secret) => timingSafeEqual(mac(scope, claim, secret), padded) || found, false)
  if (!right || given.length !== MAC_BYTES || given.toString("base64url") !== token.slice(cut + 1)) return null
  const [garden, person, made] = Buffer.from(claim, "base64url").toString().split("/")
  if (garden === undefined || person === undefined || made === undefined) return null
  const at = instantOf(Number.parseInt(made, 36))
  const life = LIFE_DAYS[scope]
  return life !== null && now - at > life * DAY_MS ? null : { garden, person, made: at }
}

/** The mark that forms of a page carry: made of the link, so that it is of no use anywhere else. */
export function formMark(token: string, secrets: readonly string[]): string {
  return mac("form", token, secrets[0] ?? "").toString("base64url")
}

/** Is this the mark of the page's own forms? Constant time. */
export function isFormMark(given: string, token: string, secrets: readonly string[]): boolean {
  const padded = Buffer.alloc(MAC_BYTES)
  const bytes = Buffer.from(given.slice(0, 64), "base64url")
  bytes.copy(padded)
  const right = secrets.reduce((found, secret) => timingSafeEqual(mac("form", token, secret), padded) || found, false)
  return right && bytes.length === MAC_BYTES
}

/** Address of an organiser's page. */
export function organiserLink(base: string, who: PersonRef, made: Instant, secrets: readonly string[]): string {
  return `${base.replace(/\/+$/, "")}/organiser/${signLink("organiser", who, made, secrets)}`
}

/** Addresses of a person's links, as mails hold them; `base` is the public address. */
export function linksFor(
  base: string,
  who: PersonRef,
  made: Instant,
  secrets: readonly string[],
): { season: string; calendar: string; stop: string } {
  const root = base.replace(/\/+$/, "")
  const token = (scope: Scope) => signLink(scope, who, made, secrets)
  return {
    season: `${root}/season/${token("season")}`,
    calendar: `${root}/calendar/${token("calendar")}.ics`,
    stop: `${root}/mail/${token("stop")}/stop`,
  }
}

function mac(use: string, text: string, secret: string): Buffer {
  return createHmac("sha256", secret).update(`ryebell ${use}\n`).update(text).digest().subarray(0, MAC_BYTES)
}
