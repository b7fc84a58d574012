import ical, { ICalCalendarMethod, ICalEventBusyStatus, ICalEventTransparency } from "ical-generator"
import type { Garden, Person } from "../garden/garden.ts"
import type { Handbook } from "../handbook/handbook.ts"
import { showDay, showRange } from "../reminders/dates.ts"
import { bedName, capital, cropName, speciesName, speciesNames } from "../reminders/names.ts"
import type { GardenPlan, SowingPlan } from "../season/bed-plan.ts"
import { addDays, type Day } from "../values/day.ts"
import { type Instant, instantText } from "../values/instant.ts"
import { sentence } from "./digest-acts.ts"
import { oneLine } from "./html.ts"
import { flowering } from "./season-chart-bands.ts"
import { showAbout } from "./season-chart-steps.ts"

/** A stretch of days in a calendar; both ends are included. `uid` stays the same for as long as the thing it is about. */
export type CalendarEvent = { uid: string; from: Day; to: Day; summary: string; description: string }

/** An event with how often it changed, and when last: what RFC 5545 calls SEQUENCE and LAST-MODIFIED. */
export type RevisedEvent = CalendarEvent & { sequence: number; modified: Instant }

/** What was last published of each event, by uid: to be kept beside the plan and handed in next time. */
export type FeedMemory = Record<string, { is: string; sequence: number; modified: Instant }>

/** How often calendar programs may ask again: the plan moves by days, not by minutes. */
const REFRESH_S = 6 * 60 * 60

/** The windows of a person's beds as events: sowing, first flower, cut, ready to plant. */
export function calendarEvents(plan: GardenPlan, garden: Garden, handbook: Handbook, person: Person): CalendarEvent[] {
  return plan.beds
    .filter((each) => person.minds === null || person.minds.includes(each.bed))
    .flatMap((each) => each.sowings)
    .filter((sowing) => sowing.state !== "ended")
    .flatMap((sowing) => eventsOf(sowing, plan.on, garden, handbook))
}

/**
 * Numbers the events against what was last published: one that changed gets the next number and `at` as its time, one
 * that did not keeps both. The same input gives the same, so it does not matter how often it is asked.
 */
export function reviseEvents(
  events: readonly CalendarEvent[],
  memory: FeedMemory,
  at: Instant,
): { events: RevisedEvent[]; memory: FeedMemory } {
  const revised = events.map((event): RevisedEvent => {
    const is = [event.from, event.to, event.summary, event.description].join("\n")
    const before = memory[event.uid]
    if (!before) return { ...event, sequence: 0, modified: at }
    if (before.is === is) return { ...event, sequence: before.sequence, modified: before.modified }
    return { ...event, sequence: before.sequence + 1, modified: at }
  })
  const kept = revised.map((each): [string, FeedMemory[string]] => [
    each.uid,
    {
      is: [each.from, each.to, each.summary, each.description].join("\n"),
      sequence: each.sequence,
      modified: each.modified,
    },
  ])
  // What is over is kept too: should it come back, its number must not fall.
  return { events: revised, memory: { ...memory, ...Object.fromEntries(kept) } }
}

/**
 * The feed as text (RFC 5545, with the names and the refresh hint of RFC 7986). All-day events with an exclusive end, no
 * alarms: texts do the reminding. The same events give the same text to the letter.
 */
export function calendarText(name: string, events: readonly RevisedEvent[]): string {
  const calendar = ical({
    name: oneLine(name),
    description:
      "When each bed's cover crop needs you. Days are estimates: a window, with its likely day in the title.",
    prodId: { company: "Ryebell", product: "season feed", language: "EN" },
    method: ICalCalendarMethod.PUBLISH,
    ttl: REFRESH_S,
  })
  for (const event of events) {
    calendar.createEvent({
      id: event.uid,
      // A day is written as a day; it must never pass through a zone.
      start: event.from,
      end: addDays(event.to, 1),
      allDay: true,
      summary: oneLine(event.summary),
      description: oneLine(event.description),
      sequence: event.sequence,
      stamp: instantText(event.modified),
      lastModified: instantText(event.modified),
      // A window of two weeks does not make anybody busy.
      transparency: ICalEventTransparency.TRANSPARENT,
      busystatus: ICalEventBusyStatus.FREE,
    })
  }
  return calendar.toString()
}

function eventsOf(sowing: SowingPlan, on: Day, garden: Garden, handbook: Handbook): CalendarEvent[] {
  const name = oneLine(bedName(garden, sowing.bed))
  const ids = sowing.species.map((each) => each.id)
  const events: CalendarEvent[] = []
  const add = (what: string, from: Day, to: Day, summary: string, description: string) =>
    events.push({
      uid: `${sowing.sowing.replace(":", "-")}-${what}.${garden.id}@ryebell`,
      from,
      to,
      summary,
      description,
    })
  if (sowing.sown === null && sowing.sow)
    add("sow", sowing.sow.from, sowing.sow.by, `Sow ${name}: ${speciesNames(handbook, ids)}`, sowing.sow.why)
  const flower = flowering(sowing)
  if (flower && !sowing.wasCut && flower.firstFlower.early !== flower.firstFlower.late) {
    const { early, late, likely, why } = flower.firstFlower
    const species = capital(speciesName(handbook, flower.id, ids))
    add(
      "bloom",
      early,
      late,
      `${species} on ${name} may flower, likely ${showDay(likely, on)}`,
      `Any day in this band. ${sentence(why)}`,
    )
  }
  if (sowing.cut) {
    const { from, by, best, why, ordinal } = sowing.cut
    add(`cut-${ordinal}`, from, by, `Cut ${name}${ordinal > 1 ? " again" : ""}, best ${showRange(best, by, on)}`, why)
  }
  const ready = sowing.next?.ready ?? sowing.rest?.transplants
  if (ready && sowing.state !== "planted" && sowing.state !== "planned") {
    const crop = sowing.next ? ` for ${cropName(handbook, sowing.next.crop)}` : ""
    add(
      "ready",
      ready.early,
      ready.late,
      `${name} ready to plant${crop}, likely ${showDay(ready.likely, on)}`,
      `${capital(showAbout(ready, on))}. ${sentence(sowing.next?.why ?? ready.why)}`,
    )
  }
  return events
}
