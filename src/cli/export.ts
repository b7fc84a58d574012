import { mkdir, writeFile } from "node:fs/promises"
import { join } from "node:path"
import { viewOn } from "../bot/known.ts"
import { logLine } from "../garden/read-log.ts"
import { openReadOnly } from "../store/read-only.ts"
import { partsOf } from "../values/day.ts"
import { CouldNot, WrongInput } from "../values/problem.ts"
import { instantAt } from "../values/zone.ts"
import { calendarEvents, calendarText, reviseEvents } from "../wording/calendar.ts"
import { csv, logTable, planTable, reminderTable } from "../wording/export.ts"
import { comparisons } from "../wording/year-summary.ts"
import { yearSummaryPage } from "../wording/year-summary-page.ts"
import type { Command, KnownGarden, World } from "./command.ts"
import { writeFolder } from "./garden-folder.ts"
import { readOptions } from "./options.ts"

export const exportAll: Command = {
  name: "export",
  summary: "writes log, plan, calendar and the year's summary to a folder",
  usage: `usage: ryebell export --out DIR | --gardens DIR [--year YEAR] [--on DAY] [--garden FILE] [--log FILE] [--weather FILE]

Writes log.csv, log.jsonl, plan.csv, plan.json, reminders.csv, year.html (to print), year.json and, for each person,
season-PERSON.ics. Cells that a spreadsheet could take for formulas begin with an apostrophe.
  --gardens DIR   instead of all that: every garden that the database keeps (ID.yaml) and every garden's whole log
                  (ID.log.jsonl), as \`ryebell import DIR\` takes them into another database; also while the bot runs
  --out DIR       the folder to write to; it is made where it is missing
  --year YEAR     the year of the summary; without it, that of the day. The year before stands beside it
  --on DAY        as known at the end of that day (YYYY-MM-DD); without it, today`,
  async run(args, world) {
    const { options } = readOptions(args, {
      out: "text",
      gardens: "text",
      year: "text",
      on: "day",
      garden: "text",
      log: "text",
      weather: "text",
    })
    const { out, year } = options
    if (options.gardens !== undefined) return exportGardens(options.gardens, world)
    if (out === undefined) throw wrong("--out", "nothing", "a folder to write to")
    if (year !== undefined && !/^\d{4}$/.test(year)) throw wrong("--year", JSON.stringify(year), "a year, such as 2026")
    const known = await world.known(options)
    const files = filesOf(known, year === undefined ? partsOf(known.on).year : Number(year))
    try {
      await mkdir(out, { recursive: true })
      for (const [name, content] of files) await writeFile(join(out, name), content)
    } catch (error) {
      throw new CouldNot(
        `Could not write to ${out}: ${(error as Error).message}. Name a folder that can be written with --out.`,
      )
    }
    for (const [name] of files) world.out(join(out, name))
    return 0
  },
}

/** Everything that another database needs to go on where this one is. */
async function exportGardens(folder: string, world: World): Promise<number> {
  const store = await openReadOnly({ folder: world.settings.data, url: world.settings.databaseUrl })
  if (!store) throw new CouldNot("There is no database yet: nothing to write.")
  try {
    const gardens = (await store.keptGardens(0)).map(({ id, host, text }) => ({ id, host, text }))
    gardens.sort((a, b) => (a.id < b.id ? -1 : 1))
    const logs = []
    for (const garden of await store.gardens()) logs.push({ garden, entries: await store.entries(garden) })
    for (const file of writeFolder(folder, { gardens, logs })) world.out(file)
    return 0
  } finally {
    await store.close()
  }
}

function filesOf(known: KnownGarden, year: number): [string, string][] {
  const { handbook, garden, entries, weather, on } = known
  const view = viewOn(handbook, garden, entries, weather, on)
  const list = comparisons({
    garden,
    handbook,
    history: view.history,
    planOn: (day) => viewOn(handbook, garden, entries, weather, day).plan,
  })
  const feeds = garden.people.map((person): [string, string] => {
    const events = calendarEvents(view.plan, garden, handbook, person)
    return [
      `season-${person.id}.ics`,
      calendarText(`${garden.name} season`, reviseEvents(events, {}, instantAt(on, 0, garden.place.zone)).events),
    ]
  })
  return [
    ["log.csv", csv(logTable(view.entries))],
    ["log.jsonl", view.entries.map((each) => `${logLine(each)}\n`).join("")],
    ["plan.csv", csv(planTable(view.plan, garden))],
    ["plan.json", `${JSON.stringify({ ...view.plan, reminders: view.reminders }, null, 2)}\n`],
    ["reminders.csv", csv(reminderTable(view.reminders))],
    ["year.html", yearSummaryPage(garden, year, list)],
    ["year.json", `${JSON.stringify(list, null, 2)}\n`],
    ...feeds,
  ]
}

function wrong(field: string, found: string, expected: string): WrongInput {
  return new WrongInput([{ code: "option", place: null, field, found, expected }])
}
