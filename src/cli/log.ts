import type { Act } from "../garden/acts.ts"
import type { Entry } from "../garden/entry.ts"
import { bedsOfEntries } from "../garden/entry-beds.ts"
import type { Garden } from "../garden/garden.ts"
import { readGarden } from "../garden/read.ts"
import { logLine } from "../garden/read-log.ts"
import { openReadOnly } from "../store/read-only.ts"
import { instantText } from "../values/instant.ts"
import { nearestWord } from "../values/nearest.ts"
import { CouldNot, WrongInput } from "../values/problem.ts"
import { localText } from "../values/zone.ts"
import { type Cell, csv } from "../wording/export.ts"
import { oneLine } from "../wording/html.ts"
import type { Command, World } from "./command.ts"
import { readOptions } from "./options.ts"

/** An entry with the beds that it is about, and what the carrier last said of the message it tells of. */
type Line = { entry: Entry; beds: string[]; fate: string | null }

export const log: Command = {
  name: "log",
  summary: "the log: what people said and what the bot did",
  usage: `usage: ryebell log [--bed ID] [--json | --csv]

Prints every entry of the log, oldest first, also while the bot runs; behind a text stands what the carrier last said of it.
  --bed ID  only entries about that bed
  --json    JSON Lines, one entry a line, as \`plan --log\` reads them
  --csv     a table for a spreadsheet, a row for each thing that was said; texts that a spreadsheet could take for
            a formula begin with an apostrophe`,
  async run(args, world) {
    const { options } = readOptions(args, { bed: "text", json: "flag", csv: "flag" })
    if (options.json && options.csv) throw wrong("--csv", "--json beside it", "one of the two")
    const lines = await readLines(world)
    const garden = await gardenIfGood(world)
    if (options.bed !== undefined) checkBed(options.bed, lines, garden)
    const chosen = lines.filter(({ beds }) => options.bed === undefined || beds.includes(options.bed))
    if (options.json) for (const { entry } of chosen) world.out(logLine(entry))
    else if (options.csv) world.out(csv({ columns: COLUMNS, rows: chosen.flatMap(rows) }).slice(0, -1))
    else showLines(chosen, garden, world)
    return 0
  },
}

async function readLines(world: World): Promise<Line[]> {
  const store = await openReadOnly({ folder: world.settings.data, url: world.settings.databaseUrl })
  if (!store) return []
  try {
    const lines: Line[] = []
    for (const garden of await store.gardens()) {
      const entries = await store.entries(garden)
      const beds = bedsOfEntries(entries)
      const fates = await store.fates(garden)
      const fateOf = (entry: Entry) =>
        entry.kind === "sent" || entry.kind === "answer" ? (fates.get(entry.message ?? "") ?? null) : null
      lines.push(...entries.map((entry) => ({ entry, beds: beds.get(entry.seq) ?? [], fate: fateOf(entry) })))
    }
    return lines
  } finally {
    await store.close()
  }
}

/** The garden gives zone and bed names; the log is shown without them where its file cannot be read. */
async function gardenIfGood(world: World): Promise<Garden | null> {
  try {
    const file = await world.gardenFile()
    const read = readGarden(await world.read(file), file, world.handbook())
    return "garden" in read ? read.garden : null
  } catch (error) {
    if (error instanceof WrongInput || error instanceof CouldNot) return null
    throw error
  }
}

function checkBed(id: string, lines: readonly Line[], garden: Garden | null): void {
  const known = new Set([...(garden?.beds ?? []).map((bed) => bed.id), ...lines.flatMap((line) => line.beds)])
  if (known.has(id)) return
  const nearest = nearestWord(id, known)
  throw wrong("--bed", JSON.stringify(id), known.size > 0 ? `one of ${[...known].join(", ")}` : "a bed", nearest)
}

function showLines(lines: readonly Line[], garden: Garden | null, world: World): void {
  if (lines.length === 0) world.err(`The log in ${world.settings.data} has nothing to show.`)
  let shown: string | null = null
  for (const { entry, fate } of lines) {
    if (entry.garden !== shown) {
      shown = entry.garden
      world.out(`${entry.garden}, times of ${garden?.id === shown ? garden.place.zone : "UTC"}`)
    }
    const at = garden?.id === entry.garden ? localText(entry.at, garden.place.zone) : instantText(entry.at)
    const when = at.slice(0, 16).replace("T", " ")
    world.out(
      `${String(entry.seq).padStart(5)}  ${when}  ${entry.by.padEnd(8)} ${entry.via.padEnd(8)} ${said(entry)}${fate ? `  [${fate}]` : ""}`,
    )
  }
}

/** What an entry says, on one line. */
function said(entry: Entry): string {
  switch (entry.kind) {
    case "reply": {
      const acts = entry.acts.map(actWords).join(", ")
      const outcome = entry.ignored
        ? `not acted on: ${entry.ignored}`
        : entry.ask
          ? `asked which ${entry.ask.which}`
          : acts
      return `"${oneLine(entry.text)}"${outcome ? `  [${outcome}]` : ""}`
    }
    case "undo":
      return `takes back ${entry.undone}${entry.text ? `: "${oneLine(entry.text)}"` : ""}`
    case "answer":
      return `to ${entry.to}: ${oneLine(entry.text)}`
    case "sent":
      return `told ${entry.to}: ${oneLine(entry.text)}`
    case "digest":
      return `weekly mail to ${entry.to} for ${entry.week}`
    case "failed":
      return `could not reach ${entry.to} (${entry.code}): ${oneLine(entry.text)}`
    case "lapsed":
      return `let ${entry.of} lapse: ${oneLine(entry.because)}`
    case "channel":
      return `${entry.channel} of ${entry.person} ${entry.state}: ${oneLine(entry.because)}`
    default:
      return entry satisfies never
  }
}

function actWords(act: Act): string {
  const { act: name, ...rest } = act
  const parts = Object.values(rest).flatMap((value) => (value === null || value === undefined ? [] : [value].flat()))
  return [name, ...parts].join(" ")
}

const COLUMNS = [
  "garden",
  "seq",
  "at",
  "by",
  "via",
  "kind",
  "bed",
  "act",
  "what",
  "value",
  "on",
  "to",
  "text",
  "of",
  "undone",
]

/** A row for each act of an entry; one for an entry without any. */
function rows({ entry, beds }: Line): Cell[][] {
  const acts = entry.kind === "reply" && entry.acts.length > 0 ? entry.acts : [null]
  return acts.map((act) => [
    entry.garden,
    entry.seq,
    instantText(entry.at),
    entry.by,
    entry.via,
    entry.kind,
    act && "bed" in act && act.bed !== null ? act.bed : beds.join(" ") || null,
    act?.act ?? null,
    act && "what" in act ? act.what : act?.act === "tell" ? act.about : null,
    act?.act === "measure" ? act.value : null,
    act && "on" in act ? act.on : act && "until" in act ? act.until : null,
    "to" in entry ? entry.to : entry.kind === "channel" ? entry.person : null,
    "text" in entry ? (entry.text ?? null) : "because" in entry ? entry.because : null,
    "of" in entry ? [entry.of].flat().join(" ") || null : null,
    entry.kind === "undo" ? entry.undone : null,
  ])
}

function wrong(field: string, found: string, expected: string, nearest?: string): WrongInput {
  return new WrongInput([{ code: "option", place: null, field, found, expected, ...(nearest ? { nearest } : {}) }])
}
