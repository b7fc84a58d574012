import { z } from "zod"
import { contextOf } from "../bot/context.ts"
import { viewOn } from "../bot/known.ts"
import { actSchema } from "../garden/acts.ts"
import { reminderKindSchema } from "../garden/entry.ts"
import type { Person } from "../garden/garden.ts"
import type { ReplyContext } from "../replies/context.ts"
import type { Trace } from "../replies/trace.ts"
import { understand } from "../replies/understand.ts"
import { prepareWords, type Words } from "../replies/vocabulary.ts"
import { asDay, type Day } from "../values/day.ts"
import { type Problem, WrongInput } from "../values/problem.ts"
import { instantAt } from "../values/zone.ts"
import type { Command, World } from "./command.ts"
import { answerLines } from "./lines.ts"
import { readOptions } from "./options.ts"

const localTime = z.string().transform((text, context) => {
  const parts = /^(\d{4}-\d{2}-\d{2})[T ](\d{2}):(\d{2})/.exec(text)
  const day = asDay(parts?.[1] ?? "")
  const [hour, minute] = [Number(parts?.[2]), Number(parts?.[3])]
  if (day && hour < 24 && minute < 60) return { day, minutes: hour * 60 + minute }
  context.addIssue({ code: "custom", message: "expected a local date and time, YYYY-MM-DDTHH:MM" })
  return z.NEVER
})

const lineSchema = z.looseObject({
  id: z.union([z.string(), z.number()]).optional(),
  text: z.string(),
  now: localTime,
  dates: z.enum(["month-first", "day-first"]).default("month-first"),
  units: z.enum(["us", "metric"]).default("us"),
  beds: z.array(
    z.looseObject({
      id: z.string(),
      name: z.string(),
      also: z.array(z.string()).optional(),
      species: z.array(z.string()).default([]),
      state: z.string().optional(),
    }),
  ),
  open: z.array(z.looseObject({ n: z.number().int(), bed: z.string(), kind: reminderKindSchema })).default([]),
  last: z.looseObject({ acts: z.array(actSchema) }).nullish(),
})

/** How a reply would be understood. Changes nothing. */
export const understandCommand: Command = {
  name: "understand",
  summary: "how a reply is understood; changes nothing",
  usage: `usage: ryebell understand "TEXT" [--garden FILE] [--log FILE] [--person ID] [--on DAY] [--json]
       ryebell understand --batch

Shows which words of a reply became which act, in your garden, with the reminders that are open there.
  --garden FILE  a garden file other than the one that is set
  --log FILE     log lines (JSON Lines, as \`log --json\` prints them) in place of the store
  --person ID    who wrote it; without it, the first of the garden file
  --on DAY       as if written on that day; without it, today
  --json         one JSON value
  --batch        reads JSON Lines {"id", "text", "now", "dates"?, "units"?, "beds", "open", "last"?} from standard input
                 and answers each with {"id", "acts", "ask", "note"}`,
  async run(args, world) {
    const { options, words } = readOptions(
      args,
      { batch: "flag", garden: "text", log: "text", person: "text", on: "day", json: "flag" },
      { most: 1 },
    )
    const vocabulary = prepareWords(world.handbook())
    if (options.batch) return answerLines(world, (line) => answerLine(line, vocabulary))
    const text = words[0]
    if (text === undefined)
      throw new WrongInput([missing("TEXT", "nothing", "the reply in quotation marks, or --batch")])
    const context = await gardenContext(world, options, vocabulary)
    const read = understand(text, context)
    const { acts, ask, note } = read
    if (options.json) world.out(JSON.stringify({ acts, ask, note, words: read.trace.words }))
    else for (const line of shown(read.trace, { acts, ask, note })) world.out(line)
    return 0
  },
}

function answerLine(line: unknown, words: Words): unknown {
  const found = lineSchema.safeParse(line)
  if (!found.success) {
    const first = found.error.issues[0]
    throw new TypeError(`${first?.path.join(".") || "line"}: ${first?.message ?? "wrong"}`)
  }
  const { id, text, now, dates, units, beds, open, last } = found.data
  const { acts, ask, note } = understand(text, { now, dates, units, beds, open, last: last ?? undefined, words })
  return { ...(id === undefined ? {} : { id }), acts, ask, note }
}

/** The garden as it stands, seen by one of its people. */
async function gardenContext(
  world: World,
  asked: { garden?: string | undefined; log?: string | undefined; person?: string | undefined; on?: Day | undefined },
  words: Words,
): Promise<ReplyContext> {
  const known = await world.known({ garden: asked.garden, log: asked.log, on: asked.on })
  const view = viewOn(known.handbook, known.garden, known.entries, known.weather, known.on)
  const person = personIn(known.garden.people, asked.person)
  // Noon of the day: the hour decides nothing but "tonight", and the day is what was asked about.
  return contextOf(view, person, words, instantAt(known.on, 12 * 60, person.zone))
}

function personIn(people: readonly Person[], id: string | undefined): Person {
  const person = id === undefined ? people[0] : people.find((each) => each.id === id)
  if (person) return person
  const known = people.map((each) => each.id).join(", ")
  throw new WrongInput([
    missing("--person", id ?? "no people in the garden file", `one of ${known || "the garden's people"}`),
  ])
}

function missing(field: string, found: string, expected: string): Problem {
  return { code: "missing", place: null, field, found, expected }
}

/** Lines for a person: each run of words and what it was taken as, then what each clause came to. */
function shown(trace: Trace, result: { acts: readonly unknown[]; ask: unknown; note: boolean }): string[] {
  const width = Math.min(32, Math.max(...trace.words.map((word) => word.text.length), 5))
  const lines = trace.words.map((word) => `  ${word.text.padEnd(width)}  ${word.as}`)
  const clauses = trace.clauses.flatMap((clause) => {
    const came = [
      ...clause.acts.map((act) => JSON.stringify(act)),
      ...(clause.ask ? [`asks ${clause.ask.which}`] : []),
      ...(clause.note ? ["kept as a remark"] : []),
    ]
    return came.length > 0 ? [`  "${clause.text}" -> ${came.join("; ")}`] : []
  })
  return [...lines, ...(clauses.length > 0 ? ["", ...clauses] : []), "", JSON.stringify(result)]
}
