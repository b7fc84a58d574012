import { restore as bringBack } from "../store/backup.ts"
import { instantText } from "../values/instant.ts"
import { inWords } from "./backup.ts"
import type { Command } from "./command.ts"
import { readOptions } from "./options.ts"

export const restore: Command = {
  name: "restore",
  summary: "makes the data folder out of a backup; overwrites nothing",
  usage: `usage: ryebell restore FILE

Makes the database of the data folder (RYEBELL_DATA), or of DATABASE_URL where that is set, out of a backup. Refused while a bot runs there, and where data are
there already: move the folder aside first, or set RYEBELL_DATA to a new one. The backup is not changed.
A restored bot starts in hold: replies are kept, and nothing is sent until you have looked and ended the hold, since
what was sent after the backup was made is not in it.`,
  async run(args, world) {
    const file = readOptions(args, {}, { least: 1, most: 1 }).words[0] as string
    const { data, databaseUrl } = world.settings
    const contents = await bringBack({ folder: data, url: databaseUrl }, file, instantText(world.clock.now()))
    world.out(`${databaseUrl === null ? data : "The database"} holds ${inWords(contents)}.`)
    world.err("The bot will start in hold: replies are kept, and nothing is sent before you end the hold.")
    return 0
  },
}
