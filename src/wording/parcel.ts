import type { DailyWeather } from "../agronomy/weather-series.ts"
import type { ReminderKind, Told } from "../garden/entry.ts"
import type { History } from "../garden/facts.ts"
import type { Person } from "../garden/garden.ts"
import type { Reminder } from "../reminders/reminder.ts"
import { addDays, type Day, dayNumber, daysBetween, earlier, later, weekday } from "../values/day.ts"
import { type Instant, MINUTE_MS } from "../values/instant.ts"
import { localDay, localMinutes, type Minutes } from "../values/zone.ts"
import { type Composed, compose, type Line, subjectOf } from "./compose.ts"
import { LIMITS } from "./limits.ts"
import { type Given, givenTo, numbersFor } from "./numbers.ts"
import { firstSlot, inHours, type Local, nextSlot, openSlot } from "./slots.ts"

/** Why a reminder that is due is not said now: the number of texts, the room in one text, a mail or a dry day to come. */
export type Held = { id: string; why: "cap" | "room" | "digest" | "dry-day" | "mail-only"; until: Day | null }

/** One text for one person, with everything that is due in it. */
export type Parcel = {
  is: "say"
  text: string
  /** For a mail that says the same. */
  subject: string
  told: Told[]
  /** What was said, and the day of its next call as planned now. */
  saying: { id: string; speaksNext: Day | null }[]
  held: Held[]
}

/** Nothing now; to be tried again then, by the person's own calendar and clock. */
export type NotYet = { is: "wait"; until: Local; held: Held[] }

export type ParcelInput = {
  person: Person
  /** Day and minute on the person's own clock. */
  local: Local
  /** All reminders of this person; those that speak by today are due, the others keep their numbers. */
  reminders: readonly Reminder[]
  history: History
  /** The minutes of today at which this person's replies were answered: they have just heard from us. */
  answered?: readonly Minutes[]
  /** Days the bot was away, where this is the first text since. */
  away?: number | null
  /** Nudges by mail are short mails: no other difference than a line on how to answer and to stop. */
  channel?: "text" | "mail"
  /** Rain to come, where a forecast is known: work outdoors is best spoken of on the evening before a dry day. */
  forecast?: DailyWeather | null
  /** What was said to the same phone for another garden: numbers and counts go across gardens. */
  elsewhere?: readonly Given[]
}

/** The last line of a nudge by mail. */
export const ANSWER_BY_MAIL = "Answer this mail with the words in capitals. To end these mails, reply STOP."
const WEEKDAYS = ["monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"] as const

/**
 * Everything that is due for one person as one text, or when to try again; null where nothing is due. Texts go at set
 * times inside the person's hours, so many a day, a week and a month; what does not fit waits for the next slot, and
 * the weekly mail tells what has no time to wait. Pure: the same input gives the same text.
 */
export function parcel(input: ParcelInput): Parcel | NotYet | null {
  const { person, local } = input
  const due = input.reminders
    .filter((reminder) => reminder.speaks !== null && reminder.speaks <= local.day)
    .sort(byUrgency)
  const byMail = input.reminders.filter((each) => each.mailOnly && each.state === "due").map(mailOnly)
  if (due.length === 0) return null
  const pause = input.history.paused.get(person.id)
  if (pause && (pause.until === null || local.day < pause.until))
    return { is: "wait", until: firstSlot(person, pause.until ?? addDays(local.day, 1)), held: byMail }
  const given = [...(input.elsewhere ?? []), ...givenTo(input.history, person.id)].sort((a, b) => a.at - b.at)
  const texts = textsOf(given, person)
  const spoken = [
    ...texts.filter((text) => text.day === local.day).map((text) => text.minutes),
    ...(input.answered ?? []),
  ]
  if (openSlot(person, local, spoken) === null) return { is: "wait", until: waitingSlot(person, local), held: byMail }
  const allowed = allowance(input, due, texts)
  const held = [...byMail, ...allowed.held]
  if (allowed.may.length === 0) {
    const evening = held.some((each) => each.why === "dry-day")
    return { is: "wait", until: evening ? nextSlot(person, local) : firstSlot(person, allowed.again), held }
  }
  const numbers = numbersFor(
    allowed.may.map((reminder) => reminder.id),
    given,
    input.reminders,
    local.day,
    person.zone,
  )
  const told = new Set(given.map((each) => each.id))
  const lines = allowed.may.map(
    (reminder): Line => ({
      reminder,
      n: numbers.get(reminder.id) as number,
      everyNumber: reminder.kind === "water-in" || input.reminders.some((other) => isBeside(other, reminder, told)),
    }),
  )
  const composed = compose(lines, input.away ? { days: input.away, restIn: digestOf(person) } : null)
  return asParcel(input, composed, held)
}

function asParcel(input: ParcelInput, composed: Composed, held: readonly Held[]): Parcel {
  const next = nextSlot(input.person, input.local).day
  return {
    is: "say",
    text: input.channel === "mail" ? `${composed.text}\n\n${ANSWER_BY_MAIL}` : composed.text,
    subject: subjectOf(composed.said),
    told: composed.said.map(({ reminder, n }) => ({
      n,
      id: reminder.id,
      kind: reminder.kind,
      bed: reminder.bed,
      days: reminder.days,
      call: reminder.call,
    })),
    saying: composed.said.map(({ reminder }) => ({ id: reminder.id, speaksNext: reminder.callAfter ?? null })),
    held: [...held, ...composed.left.map(({ reminder }) => heldUntil(reminder, "room", next))],
  }
}

/** Is something else of the same kind open to this person, so that a word alone could mean either? */
function isBeside(other: Reminder, reminder: Reminder, told: ReadonlySet<string>): boolean {
  const open = other.state === "sent" || other.state === "snoozed" || other.state === "due"
  return other.kind === reminder.kind && other.id !== reminder.id && open && told.has(other.id)
}

type Text = { day: Day; minutes: Minutes }

/** The same thing said by text and by mail leaves within minutes and counts once. */
const SAME_MOMENT_MS = 10 * MINUTE_MS

/** The texts that a person got, each once, from the numbers in them; oldest first. */
function textsOf(given: readonly Given[], person: Person): Text[] {
  const moments: Instant[] = []
  for (const { at } of given) {
    const last = moments.at(-1)
    if (last === undefined || at - last > SAME_MOMENT_MS) moments.push(at)
  }
  return moments.map((at) => ({ day: localDay(at, person.zone), minutes: localMinutes(at, person.zone) }))
}

/** Which of the reminders may be said today, and the day on which the others are to be tried again. */
function allowance(
  { person, local, forecast }: ParcelInput,
  due: readonly Reminder[],
  texts: readonly Text[],
): { may: Reminder[]; held: Held[]; again: Day } {
  const tomorrow = addDays(local.day, 1)
  const within = (days: number) => texts.filter((text) => daysBetween(text.day, local.day) < days)
  if (within(1).length >= person.texts.most)
    return { may: [], held: due.map((each) => heldUntil(each, "cap", tomorrow)), again: tomorrow }
  const digestToday = isDigestDay(person, local.day)
  const may: Reminder[] = []
  const held: Held[] = []
  for (const reminder of due) {
    const free = freeAgain(reminder, person, within(7), within(30), local.day)
    if (free > local.day) held.push(heldUntil(reminder, "cap", free))
    else if (digestToday && canWait(reminder)) held.push(heldUntil(reminder, "digest", tomorrow))
    else if (bestThisEvening(reminder, person, local, forecast)) held.push(heldUntil(reminder, "dry-day", local.day))
    else may.push(reminder)
  }
  const days = held.map((each) => each.until ?? tomorrow)
  return { may, held, again: days.length > 0 ? days.reduce(earlier) : tomorrow }
}

/** The first day, from today on, on which one more text about this is within the numbers of a week and of a month. */
function freeAgain(reminder: Reminder, person: Person, week: readonly Text[], month: readonly Text[], today: Day): Day {
  const days: Day[] = [today]
  const most = LIMITS.perMonth[weightOf(reminder)]
  const first = (texts: readonly Text[], count: number) => texts.at(-count)?.day
  const inWeek = reminder.pressing ? undefined : first(week, LIMITS.perWeek)
  if (inWeek) days.push(addDays(inWeek, 7))
  const inMonth = first(month, most)
  // Who gets no mail would never hear of it.
  if (inMonth && !(reminder.pressing && person.email === null)) days.push(addDays(inMonth, 30))
  return days.reduce(later)
}

const WORK: readonly ReminderKind[] = ["sow", "water-in", "resow", "cut", "plant"]

function weightOf(reminder: Reminder): keyof typeof LIMITS.perMonth {
  if (reminder.pressing) return "pressing"
  return WORK.includes(reminder.kind) ? "work" : "questions"
}

function isDigestDay(person: Person, day: Day): boolean {
  return person.email !== null && person.digest !== null && WEEKDAYS[weekday(day) - 1] === person.digest.day
}

/** What is not pressing and can be said as well tomorrow; fresh seed cannot wait for its water. */
function canWait(reminder: Reminder): boolean {
  return !reminder.pressing && reminder.kind !== "water-in"
}

/** Rain from which people stay indoors, in mm a day; common practice, no source. */
const WET_MM = 1
const OUTDOORS: readonly ReminderKind[] = ["sow", "resow", "cut"]

/** Today is wet, tomorrow is dry, and there is a slot this evening: then work outdoors is spoken of in the evening. */
function bestThisEvening(
  reminder: Reminder,
  person: Person,
  local: Local,
  forecast: DailyWeather | null | undefined,
): boolean {
  if (!forecast || reminder.pressing || !OUTDOORS.includes(reminder.kind)) return false
  if (nextSlot(person, local).day !== local.day) return false
  const rain = (day: Day) => forecast.rain_mm[dayNumber(day) - forecast.first] ?? Number.NaN
  return rain(local.day) >= WET_MM && rain(addDays(local.day, 1)) < WET_MM
}

/** Where it would have lapsed by then, only the weekly mail tells it. */
function heldUntil(reminder: Reminder, why: Held["why"], day: Day): Held {
  return { id: reminder.id, why, until: day <= reminder.lapses ? day : null }
}

function mailOnly(reminder: Reminder): Held {
  return { id: reminder.id, why: "mail-only", until: null }
}

/** Before the first slot of the day that slot, also where hours have not begun. */
function waitingSlot(person: Person, local: Local): Local {
  const first = firstSlot(person, local.day)
  if (!inHours(person, local.minutes) && local.minutes < first.minutes) return first
  return nextSlot(person, local)
}

function digestOf(person: Person): string | null {
  if (person.digest === null || person.email === null) return null
  return `${person.digest.day.charAt(0).toUpperCase()}${person.digest.day.slice(1)}'s mail`
}

/** Most urgent first; then the one that lapses first, then by id, so that the order never depends on chance. */
function byUrgency(a: Reminder, b: Reminder): number {
  if (a.urgency !== b.urgency) return b.urgency - a.urgency
  if (a.lapses !== b.lapses) return a.lapses < b.lapses ? -1 : 1
  return a.id < b.id ? -1 : a.id > b.id ? 1 : 0
}
