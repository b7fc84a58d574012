import { closeSync, existsSync, openSync, readdirSync, rmSync, statSync } from "node:fs"
import { join } from "node:path"
import { DatabaseSync } from "node:sqlite"
import { fileURLToPath, pathToFileURL } from "node:url"
import { syncFolder } from "./atomic-file.ts"
import { type Ballast, openBallast } from "./ballast.ts"
import { copyDatabase } from "./copy.ts"
import { folderTrouble, freeBytes, makeFolder, probeFolder, sharedKind } from "./file-system.ts"
import { type Lock, takeLock } from "./lock.ts"
import { migrate, readSteps, refuseNewer, type Step, versionOf } from "./migrate.ts"
import type { OpenedStore } from "./opened.ts"
import { checkSound } from "./sound.ts"
import { type Connection, connect } from "./sqlite/connection.ts"
import { endLeases, sqliteStore } from "./sqlite.ts"
import { damaged, StoreTrouble, troubleOf } from "./trouble.ts"

/** Name of the database in the data folder. */
export const DATABASE = "ryebell.db"
/** Below this many free bytes the operator is told. */
export const LOW_SPACE = 200_000_000

/** `folder`: where the data lie; null: in memory, for trials. `url`: a PostgreSQL database instead of the file. */
export type StoreOptions = {
  folder: string | null
  url?: string | null
  /** For tests: other steps, and another look at the kind of the disk. */
  steps?: readonly Step[]
  statfs?: Parameters<typeof sharedKind>[1]
}

/** The steps that this program knows. */
export function knownSteps(): Step[] {
  return readSteps(fileURLToPath(new URL("./sqlite/", import.meta.url)))
}

/**
 * Opens the store for writing, as the only process that does so in that folder. Makes folder and database where there
 * are none, brings an older database up to date (a copy of it is kept before), and looks the whole of it through.
 * Throws a StoreTrouble: `held`, `not-writable`, `newer`, `foreign`, `damaged`, `disk-full`, `io`.
 */
export async function openStore(options: StoreOptions): Promise<OpenedStore> {
  // Loaded where it is set: a household has no server.
  if (options.url) return (await import("./postgres.ts")).openPostgres(options.url)
  return options.folder === null ? openMemoryStore(options.steps) : openFolder(options.folder, options)
}

/** A store that is gone with the process. */
export function openMemoryStore(steps: readonly Step[] = knownSteps()): OpenedStore {
  const connection = connect(":memory:", "truncate", null)
  migrate(connection.db, 0, steps)
  return { ...sqliteStore(connection, "in memory"), isNew: true, notices: () => [], broken: connection.broken }
}

function openFolder(folder: string, { steps = knownSteps(), statfs }: StoreOptions): OpenedStore {
  const file = join(folder, DATABASE)
  makeFolder(folder)
  const ballast = openBallast(folder)
  probeWithBallast(folder, file, ballast)
  const lock = takeLock(folder)
  let connection: Connection | null = null
  try {
    const shared = sharedKind(folder, statfs)
    const version = examine(file, steps.length)
    const isNew = version === 0
    if (isNew && !existsSync(file)) closeSync(openSync(file, "wx", 0o600))
    connection = connect(file, shared ? "truncate" : "wal", ballast)
    if (!isNew && version < steps.length)
      copyDatabase(connection.db, file, join(folder, `before-version-${steps.length}.db`))
    migrate(connection.db, version, steps)
    endLeases(connection, file)
    // The engine neither syncs the folder after the removal of a journal nor minds where it cannot be synced: after a
    // power cut a new database could be gone, or an old journal back.
    syncFolder(folder)
    removeLeftovers(folder)
    ballast.takeUp()
    return opened(folder, file, connection, lock, ballast, { isNew, shared })
  } catch (error) {
    connection?.close()
    lock.release()
    throw asTrouble(error, folder, file)
  }
}

function opened(
  folder: string,
  file: string,
  connection: Connection,
  lock: Lock,
  ballast: Ballast,
  { isNew, shared }: { isNew: boolean; shared: string | null },
): OpenedStore {
  const files = [file, `${file}-wal`].filter((each) => existsSync(each)).map((each) => ({ each, at: identity(each) }))
  const look = () => {
    for (const { each, at } of files) {
      if (!existsSync(each) || identity(each) !== at)
        throw new StoreTrouble(
          "io",
          `${each} was removed or replaced while Ryebell runs. Stop it, put the file back or restore a backup, and start again.`,
        )
    }
  }
  const store = sqliteStore(connection, file, look)
  return {
    ...store,
    isNew,
    broken: connection.broken,
    notices() {
      const notices: string[] = []
      if (shared)
        notices.push(
          `${folder} lies on ${shared}, which is not a local disk: the write-ahead log is off, writing is slower, and only one machine may use it.`,
        )
      const free = freeBytes(folder)
      if (free < LOW_SPACE) notices.push(`Only ${Math.floor(free / 1e6)} MB are free on the disk of ${folder}.`)
      if (!ballast.held())
        notices.push(`The room kept for emergencies in ${folder} is used up or could not be taken: free some space.`)
      return notices
    },
    async close() {
      await store.close()
      lock.release()
    },
  }
}

/** Errors of the engine and of the file system in our words; a defect of ours stays what it is. */
function asTrouble(error: unknown, folder: string, file: string): unknown {
  if (error instanceof StoreTrouble) return error
  const fromSystem = error instanceof Error && "syscall" in error
  return fromSystem ? folderTrouble(folder, folder, error) : (troubleOf(error, file) ?? error)
}

/** A full disk gives up the ballast, so that a start is still possible and replies can be logged. */
function probeWithBallast(folder: string, file: string, ballast: Ballast): void {
  const files = [file, `${file}-wal`, `${file}-shm`]
  try {
    probeFolder(folder, files)
  } catch (error) {
    if (!(error instanceof StoreTrouble && error.code === "disk-full" && ballast.giveUp())) throw error
    probeFolder(folder, files)
  }
}

/**
 * The version of a database file, after it was looked through, without changing a byte of it; 0: there is none yet.
 * Throws where it is newer, foreign, damaged or no database.
 */
function examine(file: string, newest: number): number {
  const log = `${file}-wal`
  if (isEmpty(file)) {
    // The engine would throw such a log away, and acknowledged entries with it.
    if (!isEmpty(log)) throw damaged(file, `it is missing or empty, although its log ${log} is there`)
    return 0
  }
  // A rollback journal that was left behind must be played back first, which a reader cannot do. Without any log, the
  // file is read as one that nobody changes (we hold the lock): nothing is made beside it.
  const db = isEmpty(`${file}-journal`) ? openToRead(file, isEmpty(log)) : new DatabaseSync(file)
  try {
    const version = versionOf(db, file)
    refuseNewer(version, newest, file)
    if (version > 0) checkSound(db, file)
    return version
  } finally {
    db.close()
  }
}

function isEmpty(file: string): boolean {
  return !existsSync(file) || statSync(file).size === 0
}

/** A connection that cannot write. `unchanging`: the caller knows that nobody writes meanwhile. */
export function openToRead(file: string, unchanging = false): DatabaseSync {
  const url = pathToFileURL(file)
  if (unchanging) url.searchParams.set("immutable", "1")
  return new DatabaseSync(url, { readOnly: true, timeout: 5000 })
}

/** Copies that were never finished, by processes that are gone. */
function removeLeftovers(folder: string): void {
  for (const name of readdirSync(folder)) {
    if (name.startsWith(`before-version-`) && name.endsWith(".partial")) rmSync(join(folder, name), { force: true })
    if (name.startsWith(`${DATABASE}.`) && name.endsWith(".partial")) rmSync(join(folder, name), { force: true })
  }
}

function identity(file: string): string {
  const { dev, ino } = statSync(file)
  return `${dev}:${ino}`
}
