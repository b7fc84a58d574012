import type { ReminderKind } from "../garden/entry.ts"
import { showDay, showWeekday } from "../reminders/dates.ts"
import { bedName, capital, listOf, speciesName } from "../reminders/names.ts"
import type { Reminder } from "../reminders/reminder.ts"
import type { GardenPlan, SowingPlan } from "../season/bed-plan.ts"
import { showAmount } from "../values/amount.ts"
import { addDays, type Day, daysBetween } from "../values/day.ts"
import type { DigestInput, DigestLinks, Line, Link } from "./digest-facts.ts"
import { oneLine } from "./html.ts"
import { replyToOne } from "./reply-words.ts"
import { pressesFor, warnsOfLateBed } from "./season-page-press.ts"

/** Days that the mail's week and the weeks after it hold. */
const WEEK = 7
const AHEAD = 35
/** An uncut cover is named this long past its limit, in days; then its row in the picture is enough. */
const OVERDUE_TOLD = 56
/** An overdue cut is what the mail is about for so many days, two mails; from then on it is a line in it. */
const OVERDUE_LEADS = 14
/** A warning of a late bed is news for so many days; from then on the bed's row and page tell it. */
const LATE_TOLD = 14
/** So many things are told with everything that belongs to them; what is more is named only. */
export const IN_FULL = 5

/** The person's reminders that ask for something within the week, most urgent first. */
export function actsOfWeek(input: Pick<DigestInput, "reminders" | "person" | "on">): Reminder[] {
  return open(input)
    .filter((each) => startOf(each) < addDays(input.on, WEEK))
    .filter((each) => !warnsOfLateBed(each) || daysBetween(each.opens, input.on) < LATE_TOLD)
    .toSorted(
      (a, b) =>
        b.urgency - a.urgency ||
        (startOf(a) < startOf(b) ? -1 : startOf(a) > startOf(b) ? 1 : 0) ||
        (a.id < b.id ? -1 : 1),
    )
}

/** The person's reminders that open in the four weeks after this one, earliest first. */
export function actsAhead(input: Pick<DigestInput, "reminders" | "person" | "on">): Reminder[] {
  return open(input)
    .filter((each) => startOf(each) >= addDays(input.on, WEEK) && startOf(each) < addDays(input.on, AHEAD))
    .toSorted((a, b) => (startOf(a) < startOf(b) ? -1 : startOf(a) > startOf(b) ? 1 : a.id < b.id ? -1 : 1))
}

/** Frost that does the gardener's work and asks nothing of anybody: for the weather's part. */
export function frostsOnly(input: Pick<DigestInput, "reminders" | "person" | "on">): Reminder[] {
  return forMailOnly(input).filter((each) => each.kind === "frost")
}

/** What else only the mail tells, such as a bed that will be late far ahead: for the part on the weeks to come. */
export function plansOnly(input: Pick<DigestInput, "reminders" | "person" | "on">): Reminder[] {
  return forMailOnly(input).filter((each) => each.kind !== "frost" && each.text !== "")
}

function forMailOnly(input: Pick<DigestInput, "reminders" | "person" | "on">): Reminder[] {
  return input.reminders.filter((each) => {
    return each.person === input.person.id && each.mailOnly && isOpen(each) && each.opens <= addDays(input.on, WEEK)
  })
}

/** Sowings whose cut is past its limit and that no open reminder speaks of any more: from then on only the mail does. */
export function overdueCuts(input: DigestInput, told: readonly Reminder[]): SowingPlan[] {
  const minds = input.person.minds
  return input.plan.beds
    .filter((each) => minds === null || minds.includes(each.bed))
    .flatMap((each) => each.sowings)
    .filter((sowing) => {
      const standing = ["up", "growing", "blooming"].includes(sowing.state)
      return (
        standing &&
        daysBetween(sowing.cut?.by ?? input.on, input.on) <= OVERDUE_TOLD &&
        sowing.cut &&
        sowing.cut.by < input.on &&
        !told.some((r) => r.sowing === sowing.sowing && r.kind === "cut")
      )
    })
}

/** Is an overdue cut still what the week is about? */
export function leads(sowing: SowingPlan, on: Day): boolean {
  return daysBetween(sowing.cut?.by ?? on, on) <= OVERDUE_LEADS
}

/** A thing to do this week, with its reason, caution, reply words and links. */
export function weekLine(reminder: Reminder, input: DigestInput): Line {
  const n = input.numberOf(reminder.id)
  const { on, garden, links } = input
  const name = oneLine(bedName(garden, reminder.bed))
  // What a text says of its own day ("from today") is only true once that day has come.
  const begun = startOf(reminder) <= on
  const reason = begun ? reminder.text : whyOf(reminder, input.plan)
  const more = reason ? [sentence(reason)] : []
  if (reminder.kind === "sow") more.push(...seedWords(sowingOf(reminder, input.plan), input))
  if (reminder.caution) more.push(sentence(reminder.caution))
  if (n !== null && reminder.words.length > 0) more.push(replyToOne({ n, words: reminder.words }))
  return {
    words: `${n === null ? "" : `${n}) `}${headOf(reminder, on)}`,
    more,
    ...(links ? { links: pressLinks(reminder, n, name, links) } : {}),
  }
}

/** Why a reminder's days are what they are, in the plan's own sentence; null where it gives none. */
export function whyOf(reminder: Pick<Reminder, "kind" | "sowing">, plan: GardenPlan): string | null {
  const sowing = sowingOf(reminder, plan)
  if (!sowing) return null
  const why: Record<ReminderKind, string | null | undefined> = {
    sow: sowing.sow?.why,
    "water-in": sowing.water?.why,
    "check-emergence": sowing.species[0]?.emergence.why,
    resow: sowing.species[0]?.emergence.why,
    frost: sowing.frost?.why,
    "watch-boot": sowing.watchBoot?.why,
    "watch-bloom": sowing.watchBloom?.why,
    cut: sowing.cut?.why,
    "check-regrowth": null,
    "rest-over": sowing.rest?.why,
    plant: sowing.next?.why ?? sowing.rest?.why,
  }
  return why[reminder.kind] ?? null
}

/** What to weigh out for a sowing, bag seed and inoculant: one sentence, or none where it is not known. */
export function seedWords(
  sowing: SowingPlan | undefined,
  { garden, handbook }: Pick<DigestInput, "garden" | "handbook">,
): string[] {
  if (!sowing?.seed || sowing.seed.length === 0) return []
  const ids = sowing.seed.map((each) => each.id)
  const amounts = sowing.seed.map(
    (each) => `${showAmount(each.bag_g, "g", garden.place.units)} ${speciesName(handbook, each.id, ids)}`,
  )
  const groups = [...new Set(sowing.seed.flatMap((each) => (each.inoculant ? [each.inoculant] : [])))]
  return [
    `Seed for the bed: ${listOf(amounts, "and")}${groups.length > 0 ? `; inoculant for ${listOf(groups, "and")}` : ""}.`,
  ]
}

function sowingOf(reminder: Pick<Reminder, "sowing">, plan: GardenPlan): SowingPlan | undefined {
  return plan.beds.flatMap((bed) => bed.sowings).find((each) => each.sowing === reminder.sowing)
}

/** Words as a sentence: a capital first, a full stop last. */
export function sentence(words: string): string {
  const line = capital(oneLine(words))
  return /[.?!]$/.test(line) ? line : `${line}.`
}

/** The same in one line. */
export function shortLine(reminder: Reminder, on: Day, n: number | null = null): Line {
  return { words: `${n === null ? "" : `${n}) `}${headOf(reminder, on)}` }
}

/** The line for a cut that is overdue. */
export function overdueLine(sowing: SowingPlan, input: DigestInput): Line {
  const by = sowing.cut?.by as Day
  return {
    words: `Cut ${oneLine(bedName(input.garden, sowing.bed))}; its limit was ${showDay(by, input.on)}.`,
    more: [
      sowing.cut?.carryOff
        ? "Cut what you can and carry the tops off the bed, since pods may go on ripening seed."
        : "Some seed may have dropped. What you cut now still saves weeding next year.",
      ...(sowing.cut ? [sentence(sowing.cut.why)] : []),
    ],
  }
}

/** What a reminder is about in few words, without a capital and without a full stop. */
export function titleOf(reminder: Reminder): string {
  return oneLine(reminder.title ?? reminder.short).replace(/\.$/, "")
}

function headOf(reminder: Reminder, on: Day): string {
  const title = titleOf(reminder)
  if (reminder.state === "snoozed" && reminder.speaks)
    return `${capital(title)}. Snoozed to ${showWeekday(reminder.speaks, on)}.`
  const start = startOf(reminder)
  if (start <= on) return `${capital(title)}.`
  return `From ${showWeekday(start, on)}: ${title}.`
}

/** Links to the page with this thing's buttons; what has no number yet cannot be put off by one. */
function pressLinks(reminder: Reminder, n: number | null, name: string, links: DigestLinks): Link[] {
  const page = `${links.season}/do/${encodeURIComponent(reminder.id)}`
  const presses = pressesFor(reminder, n).map((press) => press.word)
  const settles = presses.some((word) => word === "DONE" || word === "PLANTED" || word === "SOWED")
  const tells = presses.some((word) => word !== "SNOOZE" && word !== "SKIP")
  return [
    ...(warnsOfLateBed(reminder)
      ? [{ words: `${name}: all ways out`, to: `${links.season}/bed/${encodeURIComponent(reminder.bed)}` }]
      : []),
    ...(tells ? [{ words: settles ? `${name}: done` : `${name}: tell what you see`, to: page }] : []),
    ...(presses.includes("SNOOZE") ? [{ words: `${name}: snooze`, to: `${page}#snooze` }] : []),
  ]
}

function open({ reminders, person, on }: Pick<DigestInput, "reminders" | "person" | "on">): Reminder[] {
  return reminders.filter((each) => each.person === person.id && !each.mailOnly && isOpen(each) && each.lapses >= on)
}

function isOpen(reminder: Reminder): boolean {
  return ["planned", "due", "sent", "snoozed"].includes(reminder.state)
}

/** The day from which it asks: when it opens, or the day it was snoozed to. */
function startOf(reminder: Reminder): Day {
  return reminder.state === "snoozed" && reminder.speaks ? reminder.speaks : reminder.opens
}
