import { join } from "node:path"
import { callingCodeOf, mayText } from "../channels/sms-numbers.ts"
import type { Garden, Person } from "../garden/garden.ts"
import type { Settings } from "../settings.ts"

/** What a household in the USA must know before it pays for a number. Source: the carrier's documents on errors 30532 and 30533, 14 September 2026. */
export const BEFORE_YOU_BUY = [
  "Before you buy a number: carriers in the USA refuse texts for personal use through such services (reminders to",
  "yourself, family or friends), from ten-digit and toll-free numbers alike. A household there starts with mail (SMTP_URL,",
  "and by: mail in the garden file), which carries everything. Clubs, farms and offices can register. Rules change: ask",
  "the carrier before you pay.",
]

type People = readonly { garden: Garden; person: Person }[]

/** Who is told what by text and by mail, and with which settings: as lines. Nothing is asked of anybody. */
export function textLines(settings: Settings, gardens: readonly Garden[]): string[] {
  const { twilio, publicUrl } = settings
  const people = peopleOf(gardens).filter(({ person }) => person.by !== "mail" && person.phone !== null)
  if (twilio === null)
    return [
      `no carrier is set (TWILIO_ACCOUNT_SID): ${["nobody is told by text", "what one person would be texted appears at the terminal"][people.length] ?? `what ${people.length} people would be texted appears at the terminal`}`,
      ...BEFORE_YOU_BUY,
    ]
  const sender = twilio.messagingServiceSid
    ? `a messaging service (${shortened(twilio.messagingServiceSid)})`
    : `the number ${twilio.from}`
  const own = twilio.from ? callingCodeOf(twilio.from) : null
  const countries = settings.textCountries ?? (own ? [own] : [])
  const refused = people.flatMap(({ person }) => {
    const allowed = mayText(person.phone ?? "", { countries })
    return allowed === "yes" ? [] : [`NOTE: ${person.name} (${person.phone}) is not texted: ${allowed.why}`]
  })
  const isAmerican = own === null || own.startsWith("1")
  return [
    `through Twilio, account ${shortened(twilio.accountSid)}, from ${sender}`,
    ...(twilio.apiUrl ? [`asked at ${new URL(twilio.apiUrl).host} instead of the carrier (TWILIO_API_URL)`] : []),
    `countries that are texted: ${countries.map((code) => `+${code}`).join(", ") || "none: name them in TEXT_COUNTRIES"}`,
    publicUrl
      ? `answers come to ${withoutSlash(publicUrl)}/twilio/inbound: set this address at the carrier, with POST`
      : "answers are read from the carrier's list once an hour; with PUBLIC_URL they come at once",
    ...(people.length === 0 ? ["nobody in the garden file is told by text"] : []),
    ...refused,
    ...(isAmerican ? BEFORE_YOU_BUY : []),
  ]
}

export function mailLines(settings: Settings, gardens: readonly Garden[]): string[] {
  const { smtpUrl, imapUrl, mailFrom, dkim } = settings
  const people = peopleOf(gardens).filter(
    ({ person }) => person.email !== null && (person.by !== "text" || person.digest),
  )
  const lines: string[] = []
  if (smtpUrl === null)
    lines.push(`no mail server is set (SMTP_URL): mails are written to ${join(settings.data, "mail")}`)
  else
    lines.push(
      `through ${serverOf(smtpUrl, { smtp: 587, smtps: 465 })}, from ${mailFrom}`,
      `to ${people.length === 1 ? "one person" : `${people.length} people`}`,
      dkim
        ? `signed for ${dkim.domain}, selector ${dkim.selector}`
        : "not signed here: the server in between should sign (DKIM), or set DKIM_DOMAIN, DKIM_SELECTOR and DKIM_KEY_FILE",
    )
  if (dkim && mailFrom && !domainOf(mailFrom).endsWith(dkim.domain.toLowerCase()))
    lines.push(
      `NOTE: the signature is for ${dkim.domain} and MAIL_FROM is of ${domainOf(mailFrom)}: many mailboxes count it only where the two fit`,
    )
  if (smtpUrl !== null && isThisMachine(smtpUrl))
    lines.push("NOTE: mail sent from a home line is refused by many mailboxes for its address alone: use a relay")
  lines.push(
    imapUrl === null
      ? "answers by mail are not read: IMAP_URL is not set"
      : `answers are read from ${serverOf(imapUrl, { imap: 143, imaps: 993 })}, mailbox ${decodeURIComponent(new URL(imapUrl).pathname.slice(1)) || "INBOX"}`,
  )
  return lines
}

export function weatherLines({ weather, weatherApiUrl }: Settings): string[] {
  if (weather === "none") return ["none is asked (WEATHER): the days are the normal ones of the place"]
  if (weather !== "open-meteo" && weather !== "nws") return [`from the file ${weather}`]
  const where = weatherApiUrl ? `, asked at ${new URL(weatherApiUrl).host} (WEATHER_API_URL)` : ""
  return [`${weather === "nws" ? "National Weather Service (places in the USA)" : "Open-Meteo"}${where}`]
}

export function pageLines({ publicUrl, host, port, secretKey, data }: Settings): string[] {
  const key = secretKey === null ? `made and kept in ${data}` : "as set"
  if (publicUrl === null)
    return [
      `served at http://${host}:${port}; links lead to this machine only until PUBLIC_URL is set`,
      `key of the links: ${key}`,
    ]
  const isOpen = new URL(publicUrl).protocol === "http:" && !isThisMachine(publicUrl)
  return [
    `links lead to ${withoutSlash(publicUrl)}, served at http://${host}:${port}`,
    `key of the links: ${key}`,
    ...(isOpen ? ["NOTE: over http anybody on the way reads along, private links too: use https"] : []),
  ]
}

export function storeLines({ databaseUrl, data }: Settings): string[] {
  if (databaseUrl === null) return [`file database in ${data}`]
  const { hostname, port, pathname } = new URL(databaseUrl)
  return [`PostgreSQL at ${hostname}:${port || 5432}${pathname}; mails, photos and keys in ${data}`]
}

function peopleOf(gardens: readonly Garden[]): People {
  return gardens.flatMap((garden) => garden.people.map((person) => ({ garden, person })))
}

/** Enough of an id to tell two apart. */
function shortened(id: string): string {
  return `${id.slice(0, 2)}...${id.slice(-4)}`
}

function withoutSlash(address: string): string {
  return address.replace(/\/+$/, "")
}

/** Host, port and user of a server's address, without its password. */
function serverOf(address: string, ports: Record<string, number>): string {
  const url = new URL(address)
  const scheme = url.protocol.slice(0, -1)
  const user = url.username ? ` as ${decodeURIComponent(url.username)}` : ""
  return `${url.hostname}:${url.port || ports[scheme]}${user}${scheme.endsWith("s") ? ", encrypted" : ""}`
}

function domainOf(sender: string): string {
  return (/@([^>\s]+)/.exec(sender)?.[1] ?? "").toLowerCase()
}

function isThisMachine(address: string): boolean {
  const { hostname } = new URL(address)
  return hostname === "localhost" || hostname === "[::1]" || /^127\./.test(hostname)
}
