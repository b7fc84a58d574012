import { existsSync, statSync } from "node:fs"
import { dirname, join, resolve } from "node:path"
import type { DatabaseSync } from "node:sqlite"
import { CouldNot } from "../values/problem.ts"
import { copyDatabase } from "./copy.ts"
import { makeFolder, probeFolder } from "./file-system.ts"
import { takeLock } from "./lock.ts"
import { refuseNewer, versionOf } from "./migrate.ts"
import { DATABASE, knownSteps, openToRead, refuseUrl } from "./open.ts"
import type { Contents } from "./sound.ts"
import { StoreTrouble, troubleOf } from "./trouble.ts"

type Place = { folder: string; url?: string | null }

/**
 * Copies the database of a folder, as it is at one moment, into one file, while a bot may be writing in it. The copy is
 * looked through before it gets its name. An older backup of that name is replaced in one step; any other file is refused.
 */
export function backupStore(place: Place, file: string): Contents {
  refuseUrl(place.url)
  const source = join(place.folder, DATABASE)
  if (!existsSync(source))
    throw new CouldNot(`There is nothing to back up: no ${DATABASE} in ${place.folder}. Is RYEBELL_DATA right?`)
  if (!existsSync(dirname(resolve(file))))
    throw new CouldNot(`There is no folder ${dirname(resolve(file))}: make it first.`)
  if (existsSync(file)) refuseUnlessBackup(file, source)
  return withTroubles(source, () =>
    reading(source, (db) => {
      refuseNewer(versionOf(db, source), knownSteps().length, source)
      return copyDatabase(db, source, file)
    }),
  )
}

/**
 * Makes the database of a folder out of a backup. Refuses while a bot runs there and where data are already; the backup
 * itself is not changed. The restored store remembers under `hold` that it was restored, so that the bot sends nothing
 * before it was looked at: what was sent since the backup is not in it.
 */
export function restoreStore(place: Place, file: string, when: string): Contents {
  refuseUrl(place.url)
  const target = join(place.folder, DATABASE)
  if (!existsSync(file) || !statSync(file).isFile()) throw new CouldNot(`There is no backup file ${file}.`)
  if (!existsSync(place.folder)) makeFolder(place.folder)
  refuseData(target)
  probeFolder(place.folder, [])
  const lock = takeLock(place.folder)
  try {
    refuseData(target)
    return withTroubles(file, () =>
      reading(file, (db) => {
        const version = versionOf(db, file)
        refuseNewer(version, knownSteps().length, file)
        if (version === 0) throw new StoreTrouble("foreign", `${file} is no backup of Ryebell: it is empty.`)
        return copyDatabase(db, file, target, (copy) => holdIt(copy, `restored on ${when} from ${resolve(file)}`))
      }),
    )
  } finally {
    lock.release()
  }
}

function holdIt(copy: DatabaseSync, reason: string): void {
  copy.prepare("insert or replace into memory (name, value) values ('hold', ?)").run(reason)
}

function refuseData(target: string): void {
  const there = [target, `${target}-wal`, `${target}-journal`].find((each) => existsSync(each))
  if (there)
    throw new CouldNot(
      `${there} is there already, and a restore overwrites nothing. Move the folder aside, or set RYEBELL_DATA to a new one, and restore again.`,
    )
}

function refuseUnlessBackup(file: string, source: string): void {
  const refused = (why: string) => new CouldNot(`${file} ${why}: nothing was changed. Choose another name.`)
  if (!statSync(file).isFile()) throw refused("is no file")
  const [a, b] = [statSync(file), statSync(source)]
  if (a.dev === b.dev && a.ino === b.ino) throw refused("is the running database itself")
  try {
    if (reading(file, (db) => versionOf(db, file)) > 0) return
  } catch {
    // No database at all, or another program's.
  }
  throw refused("is there already and is no backup of Ryebell")
}

function reading<T>(file: string, work: (db: DatabaseSync) => T): T {
  const db = openToRead(file)
  try {
    return work(db)
  } finally {
    db.close()
  }
}

function withTroubles<T>(file: string, work: () => T): T {
  try {
    return work()
  } catch (error) {
    if (
      error instanceof Error &&
      "code" in error &&
      (error.code === "EACCES" || error.code === "ENOSPC" || error.code === "EROFS")
    )
      throw new CouldNot(`The copy could not be written (${error.message}).`, { cause: error })
    throw troubleOf(error, file) ?? error
  }
}
