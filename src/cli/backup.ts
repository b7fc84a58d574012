import { backup as backUp } from "../store/backup.ts"
import type { Contents } from "../store/sound.ts"
import type { Command } from "./command.ts"
import { readOptions } from "./options.ts"

export const backup: Command = {
  name: "backup",
  summary: "a copy of the log and all that waits, also while the bot runs",
  usage: `usage: ryebell backup FILE

Writes the database as it is at this moment into one file, looks it through, and only then gives it its name. An older
backup of that name is replaced; any other file is left alone. A backup can be restored into a folder or, where
DATABASE_URL is set, into an empty database of PostgreSQL, whichever of the two it was made from. Photos, mails and the garden file are files of their own:
copy the data folder's photos and the garden file beside it.`,
  async run(args, world) {
    const file = readOptions(args, {}, { least: 1, most: 1 }).words[0] as string
    const contents = await backUp({ folder: world.settings.data, url: world.settings.databaseUrl }, file)
    world.out(`${file} is whole: ${inWords(contents)}.`)
    return 0
  },
}

/** What a database holds, in words. */
export function inWords(contents: Contents): string {
  if (contents.length === 0) return "no log entries yet"
  return contents.map(({ garden, lastSeq }) => `the log of ${garden} up to entry ${lastSeq}`).join(", ")
}
