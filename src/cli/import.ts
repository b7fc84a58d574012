import { gardenFiles } from "../files/garden-folder.ts"
import type { Entry } from "../garden/entry.ts"
import { gardenIdOf } from "../garden/read.ts"
import { logLine } from "../garden/read-log.ts"
import { openStore } from "../store/open.ts"
import type { OpenedStore } from "../store/opened.ts"
import { CouldNot } from "../values/problem.ts"
import type { Command } from "./command.ts"
import { type GardenFolder, readFolder } from "./garden-folder.ts"
import { readOptions } from "./options.ts"

/** Entries that are written in one transaction. */
const AT_ONCE = 500

export const importGardens: Command = {
  name: "import",
  summary: "takes a folder of gardens and their logs into the database",
  usage: `usage: ryebell import DIR

Takes what \`ryebell export --gardens DIR\` wrote, or any folder of garden files, into the database: NAME.yaml is kept as a
garden of the database, NAME.log.jsonl becomes the log of that garden. All of the folder is looked through first, and where
anything is wrong nothing is taken. A garden that is kept already under that name with another text, or a log that goes
another way, is left alone and named; what is there already is not taken twice, so an import that was broken off can be run
again. On the file database stop the bot first; on PostgreSQL it may run.`,
  async run(args, world) {
    const folder = readOptions(args, {}, { least: 1, most: 1 }).words[0] as string
    const found = readFolder(folder, world.handbook())
    const store = await openStore({ folder: world.settings.data, url: world.settings.databaseUrl })
    try {
      await refuseOthers(store, found)
      const served = new Set(gardenFiles(world.settings.garden).map(gardenIdOf))
      for (const { id } of found.gardens.filter((garden) => served.has(garden.id)))
        world.err(`note: ${id} is served from a file below ${world.settings.garden}: that file counts.`)
      const gardens = await takeGardens(store, found)
      const entries = await takeLogs(store, found)
      world.out(
        `${gardens} of ${found.gardens.length} gardens and ${entries} log entries were taken in; the rest was there.`,
      )
      return 0
    } finally {
      await store.close()
    }
  },
}

/** Refuses before anything is written where something else stands there. */
async function refuseOthers(store: OpenedStore, { gardens, logs }: GardenFolder): Promise<void> {
  const kept = new Map((await store.keptGardens(0)).map((garden) => [garden.id, garden]))
  const wrong = gardens
    .filter(({ id, text }) => kept.has(id) && kept.get(id)?.text !== text)
    .map(({ id }) => `the garden ${id} is kept already and reads otherwise`)
  for (const { garden, entries } of logs) {
    const there = await store.entries(garden)
    if (!isBeginning(there, entries) && !isBeginning(entries, there))
      wrong.push(`the log of ${garden} has ${there.length} entries already and goes another way`)
  }
  if (wrong.length > 0) throw new CouldNot(`Nothing was taken in: ${wrong.join("; ")}.`)
}

function isBeginning(of: readonly Entry[], whole: readonly Entry[]): boolean {
  return of.every((entry, i) => whole[i] !== undefined && logLine(whole[i]) === logLine(entry))
}

async function takeGardens(store: OpenedStore, { gardens }: GardenFolder): Promise<number> {
  const kept = new Set((await store.keptGardens(0)).map(({ id }) => id))
  const fresh = gardens.filter(({ id }) => !kept.has(id))
  for (const garden of fresh) await store.keepGarden(garden, null)
  return fresh.length
}

async function takeLogs(store: OpenedStore, { logs }: GardenFolder): Promise<number> {
  let taken = 0
  for (const { garden, entries } of logs) {
    const there = (await store.entries(garden)).length
    for (let from = there; from < entries.length; from += AT_ONCE) {
      const part = entries.slice(from, from + AT_ONCE)
      await store.append(
        part.map(({ seq: _seq, ...entry }) => entry),
        { garden, seq: from },
      )
      taken += part.length
    }
  }
  return taken
}
