import { join } from "node:path"
import type { Desk } from "./bot/desk.ts"
import { noteBounce, noteFate } from "./bot/fate.ts"
import type { House } from "./bot/house.ts"
import { asksToJoin } from "./bot/join.ts"
import type { Channel, Clock, Incoming } from "./bot/needs.ts"
import { openPace } from "./bot/pace.ts"
import { spreadOf } from "./bot/send.ts"
import { retryWait } from "./bot/waits.ts"
import { personRef, whoSent } from "./bot/who.ts"
import type { Mail, MailNeeds } from "./channels/mail.ts"
import { type AddressWatch, watchAddress } from "./channels/own-address.ts"
import { CARRIER_HOSTS, fetchPhotos, standInHosts, withPhotos } from "./channels/photos.ts"
import { smsHooks } from "./channels/sms-hooks.ts"
import { callingCodeOf, mayText } from "./channels/sms-numbers.ts"
import { type SmsChannel, smsChannel } from "./channels/sms-twilio.ts"
import type { Settings } from "./settings.ts"
import { addMs, asInstant, DAY_MS, HOUR_MS, instantText } from "./values/instant.ts"
import type { WebNeeds } from "./web/needs.ts"
import { twilioHooks } from "./web/twilio-hooks.ts"

/** Under this name the store remembers up to when the carrier's list of incoming texts was read. */
const INBOUND_READ = "inbound read until"
/** The list is read so far back again: a text may be listed late. */
const READ_AGAIN_MS = 3 * HOUR_MS
/** At the first start the list is read so far back. */
const FIRST_LOOK_MS = 7 * DAY_MS

/** Carrier and mail server as they are switched on, beside the terminal that stands in for what is not. */
export type Wire = {
  /** Routes of the carrier's webhooks, where it can reach us. */
  more: WebNeeds["more"]
  /** Starts reading the mailbox. */
  start(): void
  /** What was sent to us while webhooks failed: read from the carrier's own list at start and hourly (failure D22). */
  catchUp(): Promise<void>
  /** What the operator should know of each channel now. */
  trouble(): Record<string, string>
  /** Which channels are on, in sentences. */
  words: string
  close(): Promise<void>
}

export type WireParts = {
  house: House
  clock: Clock
  settings: Settings
  secret: string
  folder: string
  /** The store may have forgotten what it took: each text's age is asked of the carrier then (failure X3). */
  isForgetful: boolean
}

/** Switches on what the settings name and hands it to the house. `desk` takes what comes in. */
export async function openWire(parts: WireParts, desk: () => Desk): Promise<Wire> {
  const { house, settings } = parts
  const sms = settings.twilio ? openSms(parts, settings.twilio) : null
  const mail = await openMailOf(settings, {
    settings,
    secrets: [parts.secret],
    store: house.store,
    peopleAt: (from) =>
      whoSent({ via: "email", from }, house.shelf).map(({ garden, person }) => personRef(garden.id, person.id)),
    letsIn: (words) => asksToJoin(house.shelf, words),
    receive: (incoming) => desk().keep(incoming),
    onBounce: (bounce) => noteBounce(house, bounce, parts.clock.now()),
    photos: join(parts.folder, "photos"),
    wait,
    now: () => parts.clock.now(),
    log: house.log,
  })
  const address = settings.publicUrl ? watchAddress(settings.publicUrl) : null
  if (sms) house.text = besideTerminal(sms, house.text)
  if (settings.textRate !== null) {
    house.textRate = settings.textRate
    house.pace = openPace(house.store, settings.textRate)
  }
  if (settings.textDayLimit !== null) house.textsADay = settings.textDayLimit
  if (mail.channel) house.mail = mail.channel
  house.stopAddress = mail.stopAddress
  if (sms && settings.twilio) house.photos = photosOf(settings.twilio, parts.folder)
  return {
    more:
      sms && settings.twilio && settings.publicUrl
        ? hooksOf(parts, sms, settings.twilio.authToken, settings.publicUrl, desk)
        : undefined,
    start: () => mail.inbox?.start(),
    catchUp: catchUpOf(parts, sms, address, desk),
    trouble: () => troubles(sms, mail, address),
    words: wireWords(settings, mail),
    close: () => mail.close(),
  }
}

const wait = (attempt: number, key: string): number => retryWait(attempt, spreadOf(key))

const NO_MAIL: Mail = { channel: null, inbox: null, stopAddress: null, close: async () => {} }

/** Mail is loaded where a server or a mailbox is set: its libraries are half of all that a start could load. */
async function openMailOf(settings: Settings, needs: MailNeeds): Promise<Mail> {
  if (settings.smtpUrl === null && settings.imapUrl === null) return NO_MAIL
  return (await import("./channels/mail.ts")).openMail(needs)
}

function openSms({ house, clock, settings }: WireParts, twilio: NonNullable<Settings["twilio"]>): SmsChannel {
  const own = twilio.from ? callingCodeOf(twilio.from) : null
  const countries = settings.textCountries ?? (own ? [own] : [])
  return smsChannel({
    ...twilio,
    publicUrl: settings.publicUrl,
    wait,
    now: () => clock.now(),
    notes: house.store,
    allowed: (to) => mayText(to, { countries }),
  })
}

/** What was typed at the terminal is answered there; everything else goes to the phone. */
function besideTerminal(sms: SmsChannel, terminal: Channel | null): Channel {
  return {
    via: sms.via,
    send: (message, now) =>
      terminal && !message.to.startsWith("+") ? terminal.send(message, now) : sms.send(message, now),
    wasTaken: async (message) =>
      message.to.startsWith("+") ? sms.wasTaken(message) : { taken: false, carrierId: null },
  }
}

function photosOf(twilio: NonNullable<Settings["twilio"]>, folder: string): NonNullable<House["photos"]> {
  const options = {
    hosts: twilio.apiUrl ? standInHosts(twilio.apiUrl) : CARRIER_HOSTS,
    folder: join(folder, "photos"),
    credentials: { user: twilio.accountSid, password: twilio.authToken },
  }
  return async (incoming) =>
    incoming.via === "sms" && incoming.media.length > 0
      ? withPhotos(incoming, await fetchPhotos(incoming, options))
      : incoming
}

function hooksOf(
  { house, clock, isForgetful }: WireParts,
  sms: SmsChannel,
  token: string,
  publicUrl: string,
  desk: () => Desk,
): NonNullable<WebNeeds["more"]> {
  return twilioHooks({
    publicUrl,
    now: () => clock.now(),
    ...smsHooks({ tokens: [token] }),
    keep: (incoming) => desk().keep(incoming),
    async noteStatus(report) {
      await sms.confirm(report.key, report.sid)
      await noteFate(house, report, clock.now())
    },
    ...(isForgetful ? { whenSent: (sid: string) => sms.readOneInbound(sid) } : {}),
    refused: (why) => house.log.warn({ why }, "a webhook was refused"),
    failed: (error) => house.log.error({ error }, "a webhook could not be taken"),
  })
}

function catchUpOf(
  { house, clock }: WireParts,
  sms: SmsChannel | null,
  address: AddressWatch | null,
  desk: () => Desk,
): () => Promise<void> {
  let last: number | null = null
  return async () => {
    const now = clock.now()
    // Not waited for: nothing that is due hangs on it.
    void address?.look(now)
    if (!sms || (last !== null && now >= last && now - last < HOUR_MS)) return
    try {
      const until =
        asInstant((await house.store.recall(INBOUND_READ)) ?? "") ?? addMs(now, READ_AGAIN_MS - FIRST_LOOK_MS)
      const missed: Incoming[] = await sms.readInboundList(addMs(until, -READ_AGAIN_MS))
      for (const incoming of missed) await desk().keep(incoming)
      await house.store.remember(INBOUND_READ, instantText(now))
      last = now
    } catch (error) {
      house.log.warn({ error }, "the carrier's list of incoming texts cannot be read; it is tried again in a minute")
    }
  }
}

function troubles(sms: SmsChannel | null, mail: Mail, address: AddressWatch | null): Record<string, string> {
  const texts = sms?.trouble() ?? null
  const mailbox = mail.inbox?.state().error ?? null
  const own = address?.trouble() ?? null
  return { ...(texts ? { texts } : {}), ...(mailbox ? { mailbox } : {}), ...(own ? { PUBLIC_URL: own } : {}) }
}

function wireWords(settings: Settings, mail: Mail): string {
  const texts = settings.twilio
    ? `Texts go out through Twilio${settings.twilio.from ? ` from ${settings.twilio.from}` : ""}.`
    : "Texts appear here: no carrier is set."
  const hear =
    settings.twilio && !settings.publicUrl
      ? " Without PUBLIC_URL answers are read from the carrier's list once an hour."
      : ""
  const mails = mail.channel
    ? `Mails go out through ${new URL(settings.smtpUrl ?? "smtp://").hostname}${settings.publicUrl ? "" : "; without PUBLIC_URL their links lead to this machine only"}.`
    : "Mails are written as files: no mail server is set."
  const inbox = mail.inbox ? ` Answers are read from ${new URL(settings.imapUrl ?? "imap://").hostname}.` : ""
  return `${texts}${hear} ${mails}${inbox}`
}
