import { existsSync, statSync } from "node:fs"
import { join } from "node:path"
import type { DatabaseSync } from "node:sqlite"
import { refuseNewer, versionOf } from "./migrate.ts"
import { DATABASE, knownSteps, openToRead } from "./open.ts"
import type { StoreReader } from "./opened.ts"
import { keptReader } from "./sqlite/kept.ts"
import { logReader } from "./sqlite/log.ts"
import { memoryReader } from "./sqlite/memory.ts"
import { fateReader } from "./sqlite/outbox.ts"
import { StoreTrouble, troubleOf } from "./trouble.ts"

/**
 * Opens the store of a folder (or a database of PostgreSQL) for reading; null: nothing was ever written there. Takes no lock and changes nothing.
 * Throws a StoreTrouble: `newer`, `older`, `foreign`, `damaged`, `not-writable`.
 */
export async function openReadOnly(options: { folder: string; url?: string | null }): Promise<StoreReader | null> {
  if (options.url) return (await import("./postgres.ts")).readPostgres(options.url)
  const file = join(options.folder, DATABASE)
  const db = openFile(file)
  if (!db) return null
  const guarded = <T>(work: () => T): T => {
    try {
      return work()
    } catch (error) {
      throw troubleOf(error, file) ?? error
    }
  }
  try {
    guarded(() => refuseOlder(db, file))
    const log = logReader(db, file)
    const { recall } = memoryReader(db)
    const { kept } = keptReader(db, file)
    const { fates } = fateReader(db)
    return {
      gardens: async () => guarded(log.gardens),
      entries: async (garden, after) => guarded(() => log.entries(garden, after)),
      keptGardens: async (after) => guarded(() => kept(after)),
      recall: async (name) => guarded(() => recall(name)),
      fates: async (garden) => guarded(() => fates(garden)),
      close: async () => db.close(),
    }
  } catch (error) {
    db.close()
    throw error
  }
}

function openFile(file: string): DatabaseSync | null {
  if (!existsSync(file) || statSync(file).size === 0) return null
  try {
    return openToRead(file)
  } catch (error) {
    throw troubleOf(error, file) ?? error
  }
}

function refuseOlder(db: DatabaseSync, file: string): void {
  const version = versionOf(db, file)
  const newest = knownSteps().length
  refuseNewer(version, newest, file)
  if (version < newest)
    throw new StoreTrouble(
      "older",
      `The database ${file} has version ${version}, this program works with ${newest}. Start \`ryebell run\` once: it brings it up to date.`,
    )
}
