import { undoneSeqs } from "../garden/effective.ts"
import type { Entry, EntryOf, ReminderKind } from "../garden/entry.ts"
import { showDay, showRange } from "../reminders/dates.ts"
import { bedName } from "../reminders/names.ts"
import type { Reminder } from "../reminders/reminder.ts"
import { addDays, type Day, daysBetween } from "../values/day.ts"
import type { Instant } from "../values/instant.ts"
import { localDay } from "../values/zone.ts"
import { titleOf, whyOf } from "./digest-acts.ts"
import type { DigestInput, Line } from "./digest-facts.ts"
import { warmerThanNormal } from "./digest-weather.ts"
import { oneLine } from "./html.ts"

/** A day that moved by less is not worth a line: estimates breathe with the weather. */
const WORTH_TELLING_DAYS = 2

/** What a kind's days are about, in a sentence that begins with the bed. */
const ABOUT: Partial<Record<ReminderKind, string>> = {
  sow: "sowing",
  "check-emergence": "seedlings",
  cut: "the cut",
  "rest-over": "the end of the rest",
  plant: "ready to plant",
}

/** What a kind asks for, where a reminder has no words of its own any more. */
const ASKED: Record<ReminderKind, string> = {
  sow: "sowing",
  "water-in": "keeping the seed damp",
  "check-emergence": "a look for seedlings",
  resow: "sowing again",
  frost: "a look at what the frost left",
  "watch-boot": "a look for the boot",
  "watch-bloom": "a look for the first bloom",
  cut: "the cut",
  "check-regrowth": "a look for regrowth",
  "rest-over": "a look whether the stems crumble",
  plant: "planting",
}

type Said = { days: Readonly<Record<string, Day>>; at: Instant }

/** What was last told to a person of each reminder, by text or mail: by reminder id. */
function lastTold(entries: readonly Entry[], person: string): Map<string, Said> {
  const found = new Map<string, Said>()
  for (const entry of entries) {
    if ((entry.kind !== "sent" && entry.kind !== "digest") || entry.to !== person) continue
    for (const told of entry.told) if (told.days) found.set(told.id, { days: told.days, at: entry.at })
  }
  return found
}

/** What moved since it was last told, with the reason; then what lapsed, and what the garden file no longer holds. */
export function changeLines(input: DigestInput): Line[] {
  const told = lastTold(input.entries, input.person.id)
  const mine = input.reminders.filter((each) => each.person === input.person.id)
  const open = mine.filter((each) => each.state !== "done" && each.state !== "skipped" && each.state !== "lapsed")
  const moved = open
    .filter((each) => each.kind !== "rest-over" || !open.some((other) => saysTheSame(other, each)))
    .flatMap((each) => {
      const before = told.get(each.id)
      return before ? movedLine(each, before, input) : []
    })
  return [...moved, ...lapsedLines(input, mine, told), ...orphanLines(input)]
}

/** A bed whose rest is over is ready to plant: one line tells both. */
function saysTheSame(plant: Reminder, restOver: Reminder): boolean {
  return (
    plant.kind === "plant" && plant.bed === restOver.bed && String(spanOf(plant.days)) === String(spanOf(restOver.days))
  )
}

function movedLine(reminder: Reminder, before: Said, input: DigestInput): Line[] {
  const about = ABOUT[reminder.kind]
  const [was, is] = [spanOf(before.days), spanOf(reminder.days)]
  if (!about || !was || !is || !worthTelling(before.days, reminder.days)) return []
  const name = oneLine(bedName(input.garden, reminder.bed))
  return [
    {
      words: `${name}, ${about}: now ${showRange(...is, input.on)}, it was ${showRange(...was, input.on)}.`,
      more: [because(reminder, before.at, input)],
    },
  ]
}

function spanOf(days: Readonly<Record<string, Day>>): [Day, Day] | null {
  const from = days.from ?? days.early
  const to = days.by ?? days.late
  return from && to ? [from, to] : null
}

function worthTelling(was: Readonly<Record<string, Day>>, is: Readonly<Record<string, Day>>): boolean {
  return Object.keys(is).some((key) => {
    const before = was[key]
    return before !== undefined && Math.abs(daysBetween(before, is[key] as Day)) >= WORTH_TELLING_DAYS
  })
}

/** What the gardener saw comes first, then the weather, then the plan's own reason. */
function because(reminder: Reminder, since: Instant, input: DigestInput): string {
  const { garden, person, on } = input
  const taken = undoneSeqs(input.entries)
  const seen = input.entries.findLast((each): each is EntryOf<"reply"> => {
    return each.kind === "reply" && each.at > since && !taken.has(each.seq) && movesPlanOf(each, reminder.bed)
  })
  if (seen) {
    const day = showDay(localDay(seen.at, garden.place.zone), on)
    const who = seen.by === person.id ? "you" : nameOf(seen.by, input)
    return `Because ${who} wrote on ${day}: "${quoted(seen.text)}"`
  }
  const from = localDay(since, garden.place.zone)
  const warmer = warmerThanNormal(input.weather, addDays(from, 1), on)
  const why = whyOf(reminder, input.plan)
  const reason = why ? ` ${oneLine(why).replace(/\.$/, "")}.` : ""
  if (warmer !== null && Math.abs(warmer) >= 1)
    return `It has been ${warmer > 0 ? "warmer" : "cooler"} than normal since ${showDay(from, on)}.${reason}`
  if (warmer !== null) return `It follows the weather since ${showDay(from, on)} and the outlook.${reason}`
  return `Worked out afresh with the days that have passed since ${showDay(from, on)}.${reason}`
}

/** Does an entry say something from which the bed's plan may move? */
function movesPlanOf(entry: EntryOf<"reply">, bed: string): boolean {
  return entry.acts.some((act) => {
    switch (act.act) {
      case "observe":
      case "sowed":
      case "cut":
      case "planted":
      case "want":
      case "watered":
        return act.bed === bed
      case "measure":
        return act.bed === bed || act.what === "rain_mm"
      default:
        return false
    }
  })
}

function isOfOpen(each: Reminder, other: Reminder): boolean {
  return each.sowing === other.sowing && ["planned", "due", "sent", "snoozed"].includes(each.state)
}

/** What was told and has lapsed since; what was never told was not asked either. */
function lapsedLines(input: DigestInput, mine: readonly Reminder[], told: Map<string, Said>): Line[] {
  const since = addDays(input.on, -7)
  return input.entries.flatMap((entry) => {
    if (entry.kind !== "lapsed" || localDay(entry.at, input.garden.place.zone) <= since) return []
    const reminder = mine.find((each) => each.id === entry.of)
    if (!reminder || reminder.state !== "lapsed" || !told.has(reminder.id)) return []
    // Whether the stems crumble is no question any more once planting is asked for.
    if (reminder.kind === "rest-over" && mine.some((each) => each.kind === "plant" && isOfOpen(each, reminder)))
      return []
    const title = titleOf(reminder) || `${ASKED[reminder.kind]} on ${oneLine(bedName(input.garden, reminder.bed))}`
    return [{ words: `No longer asked, its time has passed: ${title}.` }]
  })
}

function orphanLines(input: DigestInput): Line[] {
  return (input.orphans ?? []).map((each) => ({
    words: `A note in the log is about ${oneLine(each.named)}, which the garden file no longer holds.${
      each.nearest ? ` The nearest there is: ${oneLine(each.nearest)}.` : ""
    }`,
  }))
}

/** A person's name, or how the log names them. */
export function nameOf(id: string, { garden }: Pick<DigestInput, "garden">): string {
  return oneLine(garden.people.find((each) => each.id === id)?.name ?? id)
}

/** Someone's own words on one line, shortened where they run on. */
export function quoted(text: string, most = 280): string {
  const letters = [...oneLine(text)]
  return letters.length <= most ? letters.join("") : `${letters.slice(0, most - 1).join("")}…`
}
