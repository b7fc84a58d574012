import type { Incoming } from "../bot/needs.ts"
import { play, playClock } from "../bot/play.ts"
import { personRef } from "../bot/who.ts"
import type { Entry } from "../garden/entry.ts"
import type { Garden } from "../garden/garden.ts"
import { asDay, type Day } from "../values/day.ts"
import { asInstant, type Instant } from "../values/instant.ts"
import { type Problem, WrongInput } from "../values/problem.ts"
import { instantAt, localText, type Zone } from "../values/zone.ts"
import type { Command, World } from "./command.ts"
import { readOptions } from "./options.ts"

export const season: Command = {
  name: "season",
  summary: "plays a stretch of time through the real scheduler and prints every text, mail and reply",
  usage: `usage: ryebell season --from DAY --to DAY [--garden FILE] [--weather FILE] [--replies FILE] [--json]

Plays the days through the bot itself, with a store in memory and a channel that only collects. Nothing is sent and
nothing is kept. The same input gives the same output, byte for byte.
  --from DAY, --to DAY  first and last day to play (YYYY-MM-DD)
  --garden FILE         a garden file other than the one that is set
  --weather FILE        daily weather, CSV: date,tmin_c,tmax_c,rain_mm; no day is known before it is over
  --replies FILE        JSON Lines: {"at": "2026-05-03T18:20", "by": "ines", "text": "bloom south"}; a time without an
                        offset is the garden's own; "via" may be sms or email
  --json                one JSON value`,
  async run(args, world) {
    const { options } = readOptions(args, {
      from: "day",
      to: "day",
      garden: "text",
      weather: "text",
      replies: "text",
      json: "flag",
    })
    const { from, to } = options
    if (from === undefined || to === undefined || to < from) {
      throw new WrongInput([
        {
          code: "option",
          place: null,
          field: "--from, --to",
          found: `${from ?? "nothing"} to ${to ?? "nothing"}`,
          expected: "two days, the first not after the second",
        },
      ])
    }
    const events = await playSeason(world, { ...options, from, to })
    if (options.json) world.out(JSON.stringify({ from, to, garden: events.garden.name, events: events.list }))
    else for (const event of events.list) for (const line of eventLines(event)) world.out(line)
    return 0
  },
}

type Asked = {
  from: Day
  to: Day
  garden: string | undefined
  weather: string | undefined
  replies: string | undefined
}

/** One thing that happened, in the order it did. */
export type SeasonEvent =
  | {
      at: string
      is: "text" | "mail"
      to: string
      kind: string
      subject?: string
      text: string
      reminders: { n?: number; id: string }[]
    }
  | { at: string; is: "reply"; by: string; text: string; acts: string[] }
  | { at: string; is: "lapsed"; reminder: string; because: string }

async function playSeason(world: World, asked: Asked): Promise<{ garden: Garden; list: SeasonEvent[] }> {
  const { garden, weather } = await world.known({
    garden: asked.garden,
    weather: asked.weather,
    log: undefined,
    on: asked.to,
    empty: true,
  })
  const zone = garden.place.zone
  const replies = asked.replies === undefined ? [] : readReplies(await world.read(asked.replies), asked.replies, garden)
  const clock = playClock(instantAt(asked.from, 0, zone))
  const list: SeasonEvent[] = []
  const house = await world.paperHouse(garden, clock, weather.observed, ({ at, message }) =>
    list.push({
      at: localText(at, zone),
      is: message.channel,
      to: message.person,
      kind: message.kind,
      ...(message.channel === "mail" && message.subject !== undefined ? { subject: message.subject } : {}),
      text: message.text,
      reminders: message.told.map(({ n, id }) => (n === undefined ? { id } : { n, id })),
    }),
  )
  await play(house, clock, asked.from, asked.to, replies)
  const entries = await house.store.entries(garden.id)
  await house.store.close()
  return { garden, list: inOrder([...list, ...entries.flatMap((entry) => entryEvent(entry, zone))]) }
}

/** Replies and lapses as the log has them; texts and mails are told by the channel, which saw all of them. */
function entryEvent(entry: Entry, zone: Zone): SeasonEvent[] {
  const at = localText(entry.at, zone)
  if (entry.kind === "reply")
    return [{ at, is: "reply", by: entry.by, text: entry.text, acts: entry.acts.map((act) => act.act) }]
  if (entry.kind === "lapsed") return [{ at, is: "lapsed", reminder: entry.of, because: entry.because }]
  return []
}

/** By time; at one moment the reply comes before what it led to. */
function inOrder(events: SeasonEvent[]): SeasonEvent[] {
  const rank = { reply: 0, lapsed: 1, text: 2, mail: 3 }
  return events
    .map((event, index) => ({ event, index, at: asInstant(event.at) as Instant }))
    .sort((a, b) => a.at - b.at || rank[a.event.is] - rank[b.event.is] || a.index - b.index)
    .map(({ event }) => event)
}

function eventLines(event: SeasonEvent): string[] {
  const when = event.at.slice(0, 16).replace("T", " ")
  switch (event.is) {
    case "text":
      return ["", `${when}  ${event.kind === "answer" ? "answer" : "text"} to ${event.to}`, ...indent(event.text)]
    case "mail":
      return [
        "",
        `${when}  mail to ${event.to}: ${event.subject ?? ""}`,
        ...(event.kind === "digest" ? [] : indent(event.text)),
      ]
    case "reply":
      return ["", `${when}  ${event.by} writes`, ...indent(event.text)]
    case "lapsed":
      return ["", `${when}  lapsed: ${event.reminder} (${event.because})`]
    default:
      return event satisfies never
  }
}

function indent(text: string): string[] {
  return text.split("\n").map((line) => `  ${line}`)
}

/** Reads scripted replies; WrongInput names every line that does not fit. */
export function readReplies(text: string, file: string, garden: Garden): Incoming[] {
  const problems: Problem[] = []
  const replies: Incoming[] = []
  text.split("\n").forEach((line, index) => {
    if (line.trim() === "") return
    const wrong = (field: string, found: string, expected: string) =>
      problems.push({ code: "replies", place: { file, line: index + 1, column: 1 }, field, found, expected })
    let value: { at?: unknown; by?: unknown; text?: unknown; via?: unknown }
    try {
      value = JSON.parse(line)
    } catch {
      wrong("", "a line that is no JSON", "one JSON object a line")
      return
    }
    const at = typeof value.at === "string" ? readMoment(value.at, garden.place.zone) : null
    const by = value.by === undefined ? garden.people[0]?.id : value.by
    const person = garden.people.find((each) => each.id === by)
    if (at === null)
      wrong("at", JSON.stringify(value.at ?? null), "a local time YYYY-MM-DDTHH:MM or an instant with offset")
    if (!person)
      wrong(
        "by",
        JSON.stringify(value.by ?? null),
        `a person of the garden: ${garden.people.map((each) => each.id).join(", ")}`,
      )
    if (typeof value.text !== "string") wrong("text", JSON.stringify(value.text ?? null), "the words of the reply")
    if (at === null || !person || typeof value.text !== "string") return
    const mail = value.via === "email" && person.email !== null
    replies.push({
      id: `reply-${index + 1}`,
      via: mail ? "email" : "terminal",
      from: mail ? (person.email as string) : personRef(garden.id, person.id),
      to: "",
      text: value.text,
      at,
      media: [],
    })
  })
  if (problems.length > 0) throw new WrongInput(problems)
  return replies.sort((a, b) => a.at - b.at)
}

function readMoment(text: string, zone: Zone): Instant | null {
  const exact = asInstant(text)
  if (exact !== null) return exact
  const parts = /^(\d{4}-\d{2}-\d{2})T(\d{2}):(\d{2})$/.exec(text)
  const day = parts ? asDay(parts[1] as string) : null
  if (!parts || !day || Number(parts[2]) > 23 || Number(parts[3]) > 59) return null
  return instantAt(day, Number(parts[2]) * 60 + Number(parts[3]), zone)
}
