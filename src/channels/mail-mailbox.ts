import { createHash } from "node:crypto"
import type { FetchMessageObject, ImapFlow, MailboxObject } from "imapflow"
import type { Incoming } from "../bot/needs.ts"
import { type Instant, instantOf } from "../values/instant.ts"
import { type FetchedMail, fetchMail } from "./mail-fetch.ts"
import type { ImapOptions } from "./mail-imap-options.ts"
import { tailsWith, withoutKnownTail, withoutOurWords } from "./mail-own-words.ts"
import { savePictures } from "./mail-photos.ts"
import { type Place, recallPlace, rememberPlace } from "./mail-place.ts"
import { type MailReading, readIncoming } from "./mail-reading.ts"

export type MailboxWork = {
  client: ImapFlow
  /** Names this mailbox of this user, without saying who. */
  mailbox: string
  opened: MailboxObject
  options: ImapOptions
  /** Between two mails it is asked whether to go on. */
  stopping: AbortSignal
  /** Waits for the server no longer than it may take. */
  answered<T>(work: Promise<T>, ms?: number): Promise<T>
}

/** At the first look ever, mails of so many milliseconds before it are read, if they prove to be answers to ours. */
const FIRST_LOOK_MS = 3 * 24 * 3_600_000
/** A renumbered mailbox is read again from so long before the last mail read: servers' days differ from ours. */
const OVERLAP_MS = 2 * 24 * 3_600_000
/** Bytes a second that even a slow line brings. */
const SLOW_LINE = 20_000

/**
 * Takes in every mail that is new in the open mailbox, oldest first, each one whole: read, kept, then counted as read and
 * marked. A stop at any point reads the same mail again, which its id makes harmless.
 */
export async function readMailbox(work: MailboxWork): Promise<void> {
  const { mailbox, opened, options } = work
  const known = await recallPlace(options.memory, mailbox)
  const uidValidity = String(opened.uidValidity)
  const isSame = known !== null && known.uidValidity === uidValidity
  const isFirst = known === null
  if (known !== null && !isSame) options.log.warn({}, "the mailbox was renumbered; its last days are read again")
  const mails = isSame
    ? await mailsFrom(work, known.lastUid + 1)
    : await mailsSince(work, sinceOf(known, options.now()))
  let place: Place = isSame ? known : { mailbox, uidValidity, lastUid: 0, until: known?.until ?? 0 }
  for (const mail of mails) {
    if (work.stopping.aborted) return
    await takeIn(work, mail, isFirst)
    const arrived = arrivalOf(mail) ?? place.until
    place = { ...place, lastUid: Math.max(place.lastUid, mail.uid), until: Math.max(place.until, arrived) }
    await rememberPlace(options.memory, place)
  }
  if (!isSame) {
    // Nothing older is looked at from now on.
    const lastUid = Math.max(place.lastUid, mails.length === 0 ? opened.uidNext - 1 : 0)
    await rememberPlace(options.memory, { ...place, lastUid, until: Math.max(place.until, options.now() - OVERLAP_MS) })
  }
}

function sinceOf(known: Place | null, now: Instant): Date {
  return new Date(known === null ? now - FIRST_LOOK_MS : Math.min(known.until, now) - OVERLAP_MS)
}

async function mailsFrom({ client, answered }: MailboxWork, first: number): Promise<FetchMessageObject[]> {
  const found = await answered(
    client.fetchAll(`${first}:*`, { uid: true, size: true, internalDate: true }, { uid: true }),
  )
  // `n:*` names the last mail even where its number is below n (RFC 9051, 9, seq-range).
  return found.filter((mail) => mail.uid >= first).sort((a, b) => a.uid - b.uid)
}

async function mailsSince(work: MailboxWork, since: Date): Promise<FetchMessageObject[]> {
  if (work.opened.exists === 0) return []
  const uids = await work.answered(work.client.search({ since }, { uid: true }))
  if (!uids || uids.length === 0) return []
  return mailsFrom(work, Math.min(...uids))
}

async function takeIn(work: MailboxWork, mail: FetchMessageObject, isFirst: boolean): Promise<void> {
  const { client, options, answered } = work
  const size = mail.size ?? 0
  const fetched = await answered(fetchMail(client, mail.uid, size), 60_000 + (size / SLOW_LINE) * 1000)
  if (fetched === null) return
  await options.step?.("fetched")
  const arrived = instantOf(arrivalOf(mail) ?? options.now())
  const reading = await readSafely(fetched.bytes, arrived, options)
  const isHandled = reading !== null && (await handOver(reading, fetched, options, isFirst))
  await options.step?.("mail-logged")
  if (!isHandled) return
  const allowed = work.opened.permanentFlags
  const flags = ["\\Seen", ...(allowed?.has("\\*") ? ["$Ryebell"] : [])]
  const isMarked = await answered(client.messageFlagsAdd(String(mail.uid), flags, { uid: true })).catch(() => false)
  if (!isMarked) options.log.warn({}, "a mail was taken in but could not be marked as read")
  await options.step?.("mail-flagged")
}

/** A mail that breaks its reader is passed over and said so: it must not stop the ones behind it. */
async function readSafely(bytes: Buffer, arrived: Instant, options: ImapOptions): Promise<MailReading | null> {
  try {
    return await readIncoming(bytes, arrived, options)
  } catch (error) {
    options.log.warn(
      { type: error instanceof Error ? error.name : "unknown", size: bytes.length },
      "a mail could not be read and was passed over",
    )
    return null
  }
}

/** Gives a mail to whom it concerns. True where it was one for the bot. */
async function handOver(
  reading: MailReading,
  fetched: FetchedMail,
  options: ImapOptions,
  isFirst: boolean,
): Promise<boolean> {
  switch (reading.is) {
    case "bounce":
      for (const bounce of reading.bounces) {
        if (bounce.key === null)
          options.log.warn({ status: bounce.status }, "a delivery report names no mail of ours; it was left alone")
        else await options.onBounce?.({ ...bounce, key: bounce.key })
      }
      return reading.bounces.some((bounce) => bounce.key !== null)
    case "reply":
      if (isFirst && reading.proof === "none") return false
      if (isStrangers(reading, options)) {
        options.log.info({}, "a mail from an unknown address was left alone")
        return false
      }
      await options.onMail(await completed(reading, fetched, options))
      return true
    case "auto":
    case "ours":
    case "empty":
      return false
    default:
      return reading satisfies never
  }
}

/** A mail of somebody nobody knows, which answers nothing of ours and does not ask to be let in. */
function isStrangers({ known, proof, incoming }: MailReading & { is: "reply" }, options: ImapOptions): boolean {
  if (known || proof !== "none" || incoming.extra?.key || options.strangers === "pass") return false
  return options.letsIn?.(incoming.text) !== true
}

/** The message with its pictures kept, and without our own words and a signature that nobody marked. */
async function completed(
  reading: MailReading & { is: "reply" },
  fetched: FetchedMail,
  options: ImapOptions,
): Promise<Incoming> {
  const { incoming, pictures } = reading
  const { media, missing } = await savePictures(incoming.id, pictures, options.savePhoto ?? null)
  const sent = (await options.sentTo?.(incoming.from)) ?? []
  const words = withoutOurWords(incoming.text, sent)
  const text = await withoutSignature(words, incoming, options)
  const notThere = missing + fetched.left
  return {
    ...incoming,
    text,
    media,
    extra: {
      ...incoming.extra,
      ...(notThere > 0 ? { photosMissing: String(notThere) } : {}),
      ...(fetched.left > 0 ? { note: "the mail was too large: its words were read, its pictures were not" } : {}),
    },
  }
}

/** How a person's last mails ended is remembered under a name that does not tell whose they are. */
async function withoutSignature(words: string, incoming: Incoming, { memory }: ImapOptions): Promise<string> {
  const name = `mail-tail:${createHash("sha256").update(incoming.from).digest("hex").slice(0, 24)}`
  const kept = readTails(await memory.recall(name))
  const seen = kept.ids.includes(incoming.id)
  if (!seen) {
    const next = { tails: tailsWith(kept.tails, words), ids: [...kept.ids, incoming.id].slice(-3) }
    await memory.remember(name, JSON.stringify(next))
  }
  return withoutKnownTail(words, kept.tails)
}

function readTails(said: string | null): { tails: string[]; ids: string[] } {
  try {
    const kept: unknown = JSON.parse(said ?? "")
    if (typeof kept !== "object" || kept === null || !("tails" in kept) || !("ids" in kept))
      return { tails: [], ids: [] }
    const texts = (list: unknown) => (Array.isArray(list) ? list.filter((each) => typeof each === "string") : [])
    return { tails: texts(kept.tails), ids: texts(kept.ids) }
  } catch {
    return { tails: [], ids: [] }
  }
}

function arrivalOf(mail: FetchMessageObject): number | null {
  const at = mail.internalDate === undefined ? Number.NaN : new Date(mail.internalDate).getTime()
  return Number.isNaN(at) ? null : at
}
