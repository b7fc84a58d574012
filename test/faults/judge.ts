import { keyOfMessageId } from "../../src/channels/mail-keys.ts"
import type { Act } from "../../src/garden/acts.ts"
import type { Entry, EntryOf } from "../../src/garden/entry.ts"
import type { Garden, Person } from "../../src/garden/garden.ts"
import { readGarden } from "../../src/garden/read.ts"
import type { Handbook } from "../../src/handbook/handbook.ts"
import { DAY_MS, instantOf } from "../../src/values/instant.ts"
import { localDay, localMinutes } from "../../src/values/zone.ts"
import type { Booked, Heard } from "./carrier.ts"
import { GARDENS, STRANGER } from "./gardens.ts"
import { judgePlans } from "./judge-plans.ts"
import { ACCOUNT, NUMBER, type Outcome, SECRET, SENDER, TOKEN } from "./scene.ts"

/** What was found wrong, under the promise that it breaks. */
export type Verdict = {
  replies: number
  texts: number
  mails: number
  /** Mails of which a second copy went out under the same Message-ID, by which they are one to whoever reads them. */
  mailCopies: number
  repliesLost: string[]
  repliesDoubled: string[]
  textsLost: string[]
  textsDoubled: string[]
  mailsDoubled: string[]
  afterStop: string[]
  outsideHours: string[]
  overCap: string[]
  toStrangers: string[]
  logBroken: string[]
  plansUnequal: string[]
  leaked: string[]
  floods: string[]
  crashed: string[]
}

export const WRONGS = [
  "repliesLost",
  "repliesDoubled",
  "textsLost",
  "textsDoubled",
  "mailsDoubled",
  "afterStop",
  "outsideHours",
  "overCap",
  "toStrangers",
  "logBroken",
  "plansUnequal",
  "leaked",
  "floods",
  "crashed",
] as const satisfies (keyof Verdict)[]

export type Known = { garden: Garden; person: Person }

/**
 * Judges a run by the books of the stand-ins, the log and the garden files alone. What the program believes of itself is
 * not looked at, save that its plan must be the one that the log gives.
 */
export function judge(outcome: Outcome, handbook: Handbook): Verdict {
  const gardens = outcome.gardens.map((name) => {
    const read = readGarden(GARDENS[name] ?? "", name, handbook)
    if (!("garden" in read)) throw new Error(`the harness's own garden is broken: ${JSON.stringify(read.problems)}`)
    return read.garden
  })
  const people = gardens.flatMap((garden) => garden.people.map((person): Known => ({ garden, person })))
  const entries = Object.values(outcome.entries).flat()
  const plans = judgePlans(outcome, gardens, handbook)
  return {
    replies: outcome.carrier.inbox.length,
    texts: outcome.carrier.book.length,
    mails: outcome.post.book.length,
    ...judgeReplies(outcome, entries),
    textsLost: [...textsLost(outcome, entries), ...plans.lost],
    textsDoubled: textsDoubled(outcome),
    mailCopies: twice(outcome.post.book.map((mail) => mail.id)).length,
    mailsDoubled: mailsDoubled(outcome),
    afterStop: afterStop(outcome, entries, people),
    outsideHours: outsideHours(outcome, people),
    overCap: overCap(outcome, people),
    toStrangers: toStrangers(outcome, people),
    logBroken: logBroken(outcome),
    plansUnequal: plans.unequal,
    leaked: leaked(outcome, people),
    floods: outcome.returns.filter((each) => each.texts > 1).map((each) => `${each.texts} after ${each.awayMs} ms`),
    crashed: outcome.fatal.map((error) => error.slice(0, 400)),
  }
}

export function isClean(verdict: Verdict): boolean {
  return WRONGS.every((name) => verdict[name].length === 0)
}

/** Every message of a person is in the log once, word for word, and so are its acts. */
function judgeReplies(outcome: Outcome, entries: readonly Entry[]) {
  const repliesLost: string[] = []
  const repliesDoubled: string[] = []
  const replies = entries.filter((entry): entry is EntryOf<"reply"> => entry.kind === "reply")
  for (const heard of outcome.carrier.inbox) {
    const found = replies.filter((entry) => entry.message === heard.sid)
    const same = found.filter((entry) => wellFormed(entry.text) === wellFormed(heard.body))
    const mayBeLost = outcome.listNever && heard.answeredAt === null
    if (same.length === 0 && !mayBeLost)
      repliesLost.push(`${heard.sid} ${JSON.stringify(heard.body)} answered ${heard.answeredAt}`)
    if (found.length > 1) repliesDoubled.push(`${heard.sid} ${found.length} times`)
  }
  return { repliesLost, repliesDoubled }
}

/** A lone half of a pair cannot travel in a form: the carrier itself would make a replacement mark of it. */
function wellFormed(text: string): string {
  return text.toWellFormed()
}

/** What the log calls sent is in the book; what was asked for got its answer; nothing else was given up. */
function textsLost({ carrier, post, outageMs }: Outcome, entries: readonly Entry[]): string[] {
  const lost: string[] = []
  const keys = new Set(carrier.book.map((text) => text.key))
  const mails = new Set(post.book.map(keyOf))
  // Each of these is judged by itself, whether it was right to give it up.
  const givenUp = new Set(entries.map((entry) => (entry.kind === "failed" ? entry.message : undefined)))
  for (const entry of entries) {
    if (entry.kind === "sent" && entry.message && entry.via === "sms" && !keys.has(entry.message))
      lost.push(`the log calls ${entry.message} sent, and the carrier never had it`)
    if (entry.kind === "sent" && entry.message && entry.via === "email" && !mails.has(entry.message))
      lost.push(`the log calls ${entry.message} sent, and no mail server ever had it`)
    if (entry.kind === "failed" && !isExcused(entry, post.refused, outageMs))
      lost.push(`${entry.message} was given up: ${entry.code}`)
    if (entry.kind === "reply" && entry.via === "sms" && wantsAnswer(entry.acts) && !entry.ignored)
      if (!keys.has(`answer:${entry.message}`) && !givenUp.has(`answer:${entry.message}`))
        lost.push(`no answer to ${entry.message} ${JSON.stringify(entry.text)}`)
  }
  const logged = new Set(entries.map((entry) => (entry.kind === "sent" ? entry.message : undefined)))
  for (const text of carrier.book)
    if (text.key?.startsWith("nudge:") && !logged.has(text.key))
      lost.push(`${text.key} went out, and the log does not know`)
  return lost
}

/** Acts are always answered; a stop that the carrier has answered itself may be met with silence. */
function wantsAnswer(acts: readonly Act[]): boolean {
  return acts.length > 0 && !acts.some((act) => act.act === "stop" || act.act === "start" || act.act === "help")
}

/**
 * Refused for good by the mail server or the carrier, or said no more since the person had said stop. A nudge that missed
 * its day is due again, which the plan is asked about.
 */
function isExcused(entry: EntryOf<"failed">, refused: readonly string[], outageMs: number): boolean {
  const isAnswer = entry.message?.startsWith("answer:") ?? false
  if (entry.code === "too-late") return !isAnswer || outageMs >= DAY_MS
  if (entry.code === "by-mail") return !isAnswer
  if (entry.code === "stopped" || entry.code === "held" || entry.code.includes("21610")) return true
  return refused.some((id) => keyOf({ id }) === entry.message)
}

/** Our own key of a mail, out of its Message-ID. */
function keyOf({ id }: { id: string }): string | null {
  return keyOfMessageId(id, SENDER, [SECRET])
}

/** Where the carrier can never be asked, each kill may cost one text that is sent again. */
function textsDoubled({ carrier, listNever, struck }: Outcome): string[] {
  const without = carrier.book.filter((text) => text.key === null).map((text) => `a text without a key to ${text.to}`)
  const doubled = [...twice(carrier.book.map((text) => text.key ?? text.sid)), ...sameReminderTwice(carrier.book)]
  return listNever && doubled.length <= struck.length ? without : [...doubled, ...without]
}

/** The same mail under two Message-IDs: nobody could tell that they are one. */
function mailsDoubled({ post }: Outcome): string[] {
  const ids = [...new Set(post.book.map((mail) => mail.id))]
  const weeks = ids.map((id) => (keyOf({ id }) ?? "").replace(/^(digest:[^:]*:[^:]*:[^:]*):.*/, "$1"))
  return [...twice(weeks), ...ids.filter((id) => keyOf({ id }) === null)]
}

/** One call of a reminder said to the same phone under two keys is doubled too. */
function sameReminderTwice(book: readonly Booked[]): string[] {
  const said = book.flatMap((text) => {
    const [kind, , , , , ...what] = (text.key ?? "").split(":")
    return kind === "nudge"
      ? what
          .join(":")
          .split(",")
          .map((call) => `${text.to} ${call}`)
      : []
  })
  return twice(said)
}

function twice(names: readonly string[]): string[] {
  const seen = new Map<string, number>()
  for (const name of names) seen.set(name, (seen.get(name) ?? 0) + 1)
  return [...seen].filter(([, times]) => times > 1).map(([name, times]) => `${name} ${times} times`)
}

/** Texts that were taken after the bot had been told to stop, save the one that confirms it. */
function afterStop(outcome: Outcome, entries: readonly Entry[], people: readonly Known[]): string[] {
  const wrong: string[] = []
  const replies = entries.filter((entry): entry is EntryOf<"reply"> => entry.kind === "reply")
  for (const { phone, sid } of outcome.stopped) {
    const heard = outcome.carrier.inbox.find((each) => each.sid === sid)
    const since = heard && knownSince(heard, outcome.carrier.book)
    // Read from the carrier's list and met with silence, as the carrier's own stop words are: then the log says when.
    const logged = replies.find((entry) => entry.message === sid)
    if (typeof since !== "number" && !logged) {
      wrong.push(`the stop of ${phone} (${sid}) was never taken up`)
      continue
    }
    const isAfter = (text: Booked) =>
      typeof since === "number" ? text.n > since : text.botAt > (logged?.at ?? Number.POSITIVE_INFINITY)
    const again = replies.find((entry) => by(entry, phone, people) && entry.acts.some((act) => act.act === "start"))
    const untilMs = again?.at ?? Number.POSITIVE_INFINITY
    for (const text of outcome.carrier.book)
      if (text.to === phone && isAfter(text) && text.botAt < untilMs && text.key !== `answer:${sid}`)
        wrong.push(`${text.key} was taken after the stop of ${phone}`)
  }
  return [...wrong, ...afterRefusal(outcome)]
}

/** When the bot knew of a stop: it had said so to the carrier, or it confirmed it. */
function knownSince(heard: Heard, book: readonly Booked[]): number | null {
  return heard.answeredN ?? book.find((text) => text.key === `answer:${heard.sid}`)?.n ?? null
}

/** Once the carrier has said that a person told it to stop, nothing more is tried. */
function afterRefusal({ carrier }: Outcome): string[] {
  return twice(carrier.refusedAfterStop.map((each) => `a try to ${each.to} that had said stop to the carrier`))
}

function by(entry: EntryOf<"reply">, phone: string, people: readonly Known[]): boolean {
  return people.some(
    ({ garden, person }) => entry.garden === garden.id && entry.by === person.id && person.phone === phone,
  )
}

type Nudge = { key: string; person: Person; botAt: number; by: "text" | "mail" }

function nudgesOf(outcome: Outcome, people: readonly Known[]): Nudge[] {
  const texts = outcome.carrier.book.flatMap((text): Nudge[] => {
    const known = people.find(({ person }) => person.phone === text.to)
    return known && text.key?.startsWith("nudge:")
      ? [{ key: text.key, person: known.person, botAt: text.botAt, by: "text" }]
      : []
  })
  // Copies under one id are one mail to whoever reads it.
  const ids = new Set<string>()
  const once = outcome.post.book.filter((mail) => !ids.has(mail.id) && ids.add(mail.id))
  const mails = once.flatMap((mail): Nudge[] => {
    const known = people.find(({ person }) => person.email === mail.to)
    return known && keyOf(mail)?.startsWith("nudge:")
      ? [{ key: mail.id, person: known.person, botAt: mail.botAt, by: "mail" }]
      : []
  })
  return [...texts, ...mails]
}

/** Nobody is written to outside their hours of their own accord; an answer may come at any hour. */
function outsideHours(outcome: Outcome, people: readonly Known[]): string[] {
  return nudgesOf(outcome, people)
    .filter(({ person, botAt }) => {
      const minutes = localMinutes(instantOf(botAt), person.zone)
      return minutes < person.texts.from || minutes > person.texts.to
    })
    .map(({ key, botAt }) => `${key} at ${new Date(botAt).toISOString()}`)
}

/** What is said by text and by mail at once counts once: so each way is counted by itself. */
function overCap(outcome: Outcome, people: readonly Known[]): string[] {
  const perDay = new Map<string, { person: Person; count: number }>()
  for (const { person, botAt, by } of nudgesOf(outcome, people)) {
    const name = `${person.id} by ${by} on ${localDay(instantOf(botAt), person.zone)}`
    perDay.set(name, { person, count: (perDay.get(name)?.count ?? 0) + 1 })
  }
  return [...perDay]
    .filter(([, { person, count }]) => count > person.texts.most)
    .map(([name, { person, count }]) => `${count} to ${name}, ${person.texts.most} allowed`)
}

/** Numbers of the garden file, and one polite answer a day to whoever texted us. */
function toStrangers({ carrier }: Outcome, people: readonly Known[]): string[] {
  const phones = new Set(people.map(({ person }) => person.phone))
  const strange = carrier.book.filter((text) => !phones.has(text.to))
  const days = strange.map((text) => `${text.to} ${Math.floor(text.botAt / DAY_MS)}`)
  const wrong = strange.filter((text) => text.to !== STRANGER || !text.key?.startsWith("stranger:"))
  // The bot's day is the garden's: two answers may fall on one day of UTC.
  return [
    ...wrong.map((text) => `${text.key} to ${text.to}`),
    ...twice(days).filter((each) => !each.endsWith(" 2 times")),
  ]
}

function logBroken({ entries }: Outcome): string[] {
  return Object.entries(entries).flatMap(([garden, its]) =>
    its.flatMap((entry, index) =>
      entry.seq === index + 1 ? [] : [`${garden}: entry ${index + 1} has number ${entry.seq}`],
    ),
  )
}

/** Nothing private in any line of the operator's log. */
function leaked({ said, carrier }: Outcome, people: readonly Known[]): string[] {
  const secrets = [TOKEN, SECRET, NUMBER, ACCOUNT, STRANGER]
  const known = people.flatMap(({ person }) => [person.phone, person.email]).filter((each) => each !== null)
  const words = carrier.inbox.map((heard) => heard.body).filter((body) => body.length > 20)
  return [...new Set([...secrets, ...known, ...words])]
    .filter((each) => said.includes(each))
    .map((each) => `${each} in the log`)
}
