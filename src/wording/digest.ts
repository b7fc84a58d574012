import { showWeekday } from "../reminders/dates.ts"
import { capital } from "../reminders/names.ts"
import type { Reminder } from "../reminders/reminder.ts"
import { addDays, type Day, dayNumber, dayOf, partsOf, weekday } from "../values/day.ts"
import {
  actsAhead,
  actsOfWeek,
  frostsOnly,
  IN_FULL,
  leads,
  overdueCuts,
  overdueLine,
  plansOnly,
  sentence,
  shortLine,
  titleOf,
  weekLine,
} from "./digest-acts.ts"
import { changeLines } from "./digest-changes.ts"
import type { DigestFacts, DigestInput, Line, Part } from "./digest-facts.ts"
import { digestHtml } from "./digest-html.ts"
import { logLines } from "./digest-log.ts"
import { nitrogenLines } from "./digest-nitrogen.ts"
import { digestText } from "./digest-text.ts"
import { weatherLines } from "./digest-weather.ts"
import { oneLine } from "./html.ts"
import { seasonChart } from "./season-chart.ts"
import { bedRows } from "./season-chart-rows.ts"
import { stopHeaders } from "./stop-headers.ts"

export type { DigestInput, DigestLinks } from "./digest-facts.ts"

/** A weekly mail, ready but for its picture's PNG, which goes with it inline under `DIGEST_PICTURE`. */
export type Digest = {
  subject: string
  text: string
  html: string
  svg: string
  alt: string
  /** `2026-W19`: names the mail among its person's mails. */
  week: string
  told: DigestFacts["told"]
  headers: Record<string, string>
}

/** Content id of the picture. */
export const DIGEST_PICTURE = "season@ryebell"

/** So many lines a quiet week takes, all in all. */
export const QUIET_LINES = 10

const WEEKDAYS = ["monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"]

/** Writes a person's weekly mail. */
export function digest(input: DigestInput): Digest {
  const facts = digestFacts(input)
  const svg = seasonChart(facts.rows, {
    on: input.on,
    title: `The season at ${oneLine(input.garden.name)}`,
    description: facts.alt,
    for: "picture",
  })
  return {
    subject: facts.subject,
    text: digestText(facts),
    html: digestHtml(facts, `cid:${DIGEST_PICTURE}`),
    svg,
    alt: facts.alt,
    week: weekOf(input.on),
    told: facts.told,
    headers: { "Auto-Submitted": "auto-generated", ...stopHeaders(input.links, input.stopAddress ?? null) },
  }
}

/** What the mail says, before it becomes text or HTML. */
export function digestFacts(input: DigestInput): DigestFacts {
  const { on, person, garden } = input
  const week = actsOfWeek(input)
  const overdue = overdueCuts(input, week)
  const ahead = actsAhead(input)
  const rows = bedRows(input.plan, input, person.minds)
  const quiet = week.length === 0 && overdue.length === 0
  const count = week.length + overdue.length
  const place = oneLine(garden.name)
  const leading = overdue.find((each) => leads(each, on))
  const first = week[0]
    ? capital(titleOf(week[0]))
    : leading
      ? overdueLine(leading, input).words.replace(/\.$/, "")
      : null
  const headline = quiet ? "Nothing to do this week" : oneLine(first ?? "Nothing new this week")
  const parts = quiet ? [quietPart(input, rows, ahead)] : fullParts(input, week, overdue, ahead, rows)
  const told = [...week, ...ahead].map(({ id, kind, bed, days }) => {
    const n = input.numberOf(id)
    return { ...(n === null ? {} : { n }), id, kind, bed, days }
  })
  return {
    subject: oneLine(weekSubject(first, count, place)),
    headline,
    dateline: `${place}, ${showWeekday(on, on)} ${partsOf(on).year}`,
    quiet,
    parts,
    rows,
    alt: altOf(headline, rows),
    told,
  }
}

/** The subject of a weekly mail: the most urgent of `count` things; null: what there is was the subject before. */
export function weekSubject(first: string | null, count: number, place: string): string {
  if (count === 0) return `Nothing to do this week at ${place}`
  if (first === null) return `Nothing new this week at ${place}`
  return count === 1 ? `${first}; that is all this week` : `${first}; ${count} things this week`
}

function fullParts(
  input: DigestInput,
  week: readonly Reminder[],
  overdue: ReturnType<typeof overdueCuts>,
  ahead: readonly Reminder[],
  rows: DigestFacts["rows"],
): Part[] {
  const { on, garden } = input
  const rest = week.slice(IN_FULL).map((each) => shortLine(each, on, input.numberOf(each.id)))
  const parts: Part[] = [
    {
      part: "week",
      title: "This week",
      lines: [
        ...week.slice(0, IN_FULL).map((each) => weekLine(each, input)),
        ...overdue.map((each) => overdueLine(each, input)),
        ...rest,
      ],
    },
    {
      part: "changed",
      title: "What changed, and why",
      lines: orNothing(changeLines(input), "Nothing moved since you were last told."),
    },
    { part: "beds", title: "Every bed", lines: rows.map((row) => ({ words: row.sentence })) },
    {
      part: "ahead",
      title: "The next four weeks",
      lines: orNothing(
        [
          ...ahead.map((each) => shortLine(each, on)),
          ...plansOnly(input).map((each) => ({ words: sentence(each.text) })),
        ],
        "Nothing else comes up.",
      ),
    },
    {
      part: "log",
      title: "Last week, in your own words",
      lines: orNothing(logLines(input), "Nobody wrote last week."),
    },
    {
      part: "weather",
      title: "Weather that mattered",
      lines: [
        ...frostsOnly(input).map((each) => ({ words: sentence(each.text) })),
        ...weatherLines(input.weather, on, garden.place.units).map((words) => ({ words })),
        ...creditLines(input),
      ],
    },
    { part: "nitrogen", title: "Nitrogen so far", lines: nitrogenLines(input).map((words) => ({ words })) },
    { part: "how", title: "Change or stop", lines: howLines(input) },
  ]
  return parts.filter((part) => part.lines.length > 0)
}

/** A quiet week: a sign of life, what comes next, where the beds stand; ten lines with the headline. */
function quietPart(input: DigestInput, rows: DigestFacts["rows"], ahead: readonly Reminder[]): Part {
  const { on } = input
  const next = ahead[0]
    ? shortLine(ahead[0], on).words.replace(/^From/, "Next, from")
    : "Nothing comes up in the next four weeks either."
  const changes = changeLines(input)
  const change = changes[0]
    ? [
        `${changes[0].words}${changes[0].more ? ` ${changes[0].more.join(" ")}` : ""}${changes.length > 1 ? ` ${changes.length - 1} more changed.` : ""}`,
      ]
    : []
  const notes = logLines(input)
  const log =
    notes.length > 0 ? [notes.length === 1 ? notes[0]?.words : `Last week's log holds ${notes.length} notes.`] : []
  const how = howLines(input)
  const before = [next, ...change]
  const [credit] = creditLines(input)
  const weather: Line = {
    words: [weatherLines(input.weather, on, input.garden.place.units)[0] ?? "", ...(credit ? [credit.words] : [])].join(
      " ",
    ),
    ...(credit?.links ? { links: credit.links } : {}),
  }
  // Headline and dateline are two lines of the ten; what is left goes to the beds, the last line of theirs counts the rest.
  const room = QUIET_LINES - 2 - before.length - log.length - 1 - how.length
  const shown = rows.length <= room ? rows : rows.slice(0, Math.max(0, room - 1))
  const beds = shown.map((row) => `${oneLine(row.name)}: ${oneLine(row.caption)}.`)
  const more = rows.length - shown.length
  if (more > 0)
    beds.push(
      `${more} more ${more === 1 ? "bed stands" : "beds stand"} in the picture${input.links ? " and on your season page" : ""}.`,
    )
  const lines = [...before, ...beds, ...log].map((words): Line => ({ words: words ?? "" }))
  return { part: "week", title: "", lines: [...lines, weather, ...how] }
}

/** Whose weather it is, where a service gave it. */
function creditLines({ attribution }: DigestInput): Line[] {
  if (!attribution) return []
  return [{ words: oneLine(attribution.words), links: [...attribution.links] }]
}

function howLines(input: DigestInput): Line[] {
  const { links, person, on } = input
  const next = nextMail(input)
  const comes = next ? `The next mail comes on ${showWeekday(next, on)}.` : ""
  const hushed = (input.hushed ?? []).length > 0
  const lines: Line[] = []
  if (links)
    lines.push({
      words: "Your beds, the log and every button:",
      links: [
        { words: "Season page", to: links.season },
        { words: "Calendar feed", to: links.calendar },
      ],
    })
  if (hushed)
    lines.push({
      words:
        "Three texts of a kind went without an answer, so you get first and last calls only; any reply brings the others back.",
    })
  lines.push({
    words: `Answer this mail in your own words; UNDO takes back the last thing you told. ${comes}`.trim(),
    ...(links
      ? { links: [{ words: "Stop these mails", to: links.stop }] }
      : { more: [`To stop these mails answer STOP${person.phone ? "; texts stop the same way" : ""}.`] }),
  })
  return lines
}

/** The day of this person's next weekly mail; null where they have none. */
export function nextMail({ person, on }: Pick<DigestInput, "person" | "on">): Day | null {
  if (!person.digest) return null
  const wanted = WEEKDAYS.indexOf(person.digest.day) + 1
  const days = (wanted - weekday(on) + 7) % 7
  return addDays(on, days === 0 ? 7 : days)
}

/** ISO 8601 week of a day: `2026-W19`. The week belongs to the year that holds its Thursday. */
export function weekOf(d: Day): string {
  const thursday = addDays(d, 4 - weekday(d))
  const { year } = partsOf(thursday)
  const week = Math.floor((dayNumber(thursday) - dayNumber(dayOf(year, 1, 1) as Day)) / 7) + 1
  return `${year}-W${String(week).padStart(2, "0")}`
}

function altOf(headline: string, rows: DigestFacts["rows"]): string {
  const beds = rows.length === 1 ? "one bed" : `${rows.length} beds`
  return `${headline}. Picture of the season of ${beds}; the same stands in words below.`
}

function orNothing(lines: Line[], words: string): Line[] {
  return lines.length > 0 ? lines : [{ words }]
}
