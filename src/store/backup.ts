import { existsSync, statSync } from "node:fs"
import { dirname, join, resolve } from "node:path"
import type { DatabaseSync } from "node:sqlite"
import { CouldNot } from "../values/problem.ts"
import { copyDatabase } from "./copy.ts"
import { makeFolder, probeFolder } from "./file-system.ts"
import { takeLock } from "./lock.ts"
import { refuseNewer, versionOf } from "./migrate.ts"
import { DATABASE, knownSteps, openToRead } from "./open.ts"
import { backupRows } from "./postgres/backup.ts"
import { migratePostgres } from "./postgres/migrate.ts"
import { restoreRows } from "./postgres/restore.ts"
import { knownPostgresSteps } from "./postgres.ts"
import { type Contents, checkSound } from "./sound.ts"
import { StoreTrouble, troubleOf } from "./trouble.ts"

type Place = { folder: string; url?: string | null }

/**
 * Copies the database, as it is at one moment, into one file, while a bot may be writing in it. The copy is looked through
 * before it gets its name, and can be restored into a folder as well as into a database of PostgreSQL. An older backup of
 * that name is replaced in one step; any other file is refused.
 */
export async function backup({ folder, url }: Place, file: string): Promise<Contents> {
  if (!url) return backupStore({ folder }, file)
  refuseNowhere(file)
  if (existsSync(file)) refuseUnlessBackup(file, null)
  return backupRows(url, knownPostgresSteps().length, file)
}

/**
 * Makes a database out of a backup. Refuses where data are already; the backup itself is not changed. What was restored
 * remembers under `hold` that it was, so that the bot sends nothing before it was looked at: what was sent since the
 * backup is not in it.
 */
export async function restore({ folder, url }: Place, file: string, when: string): Promise<Contents> {
  if (!url) return restoreStore({ folder }, file, when)
  refuseNoFile(file)
  const db = withTroubles(file, () => openToRead(file))
  try {
    const contents = withTroubles(file, () => {
      refuseUnfit(db, file)
      return checkSound(db, file)
    })
    await migratePostgres(url, knownPostgresSteps())
    await restoreRows(url, db, holdReason(file, when))
    return contents
  } finally {
    db.close()
  }
}

/** `backup` of a folder. */
export function backupStore(place: { folder: string }, file: string): Contents {
  const source = join(place.folder, DATABASE)
  if (!existsSync(source))
    throw new CouldNot(`There is nothing to back up: no ${DATABASE} in ${place.folder}. Is RYEBELL_DATA right?`)
  refuseNowhere(file)
  if (existsSync(file)) refuseUnlessBackup(file, source)
  return withTroubles(source, () =>
    reading(source, (db) => {
      refuseNewer(versionOf(db, source), knownSteps().length, source)
      return copyDatabase(db, source, file)
    }),
  )
}

/** `restore` into a folder. Refuses while a bot runs there. */
export function restoreStore(place: { folder: string }, file: string, when: string): Contents {
  const target = join(place.folder, DATABASE)
  refuseNoFile(file)
  if (!existsSync(place.folder)) makeFolder(place.folder)
  refuseData(target)
  probeFolder(place.folder, [])
  const lock = takeLock(place.folder)
  try {
    refuseData(target)
    return withTroubles(file, () =>
      reading(file, (db) => {
        refuseUnfit(db, file)
        return copyDatabase(db, file, target, (copy) => holdIt(copy, holdReason(file, when)))
      }),
    )
  } finally {
    lock.release()
  }
}

function refuseNowhere(file: string): void {
  if (!existsSync(dirname(resolve(file))))
    throw new CouldNot(`There is no folder ${dirname(resolve(file))}: make it first.`)
}

function refuseNoFile(file: string): void {
  if (!existsSync(file) || !statSync(file).isFile()) throw new CouldNot(`There is no backup file ${file}.`)
}

function refuseUnfit(db: DatabaseSync, file: string): void {
  const version = versionOf(db, file)
  refuseNewer(version, knownSteps().length, file)
  if (version === 0) throw new StoreTrouble("foreign", `${file} is no backup of Ryebell: it is empty.`)
}

function holdReason(file: string, when: string): string {
  return `restored on ${when} from ${resolve(file)}`
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

function refuseUnlessBackup(file: string, source: string | null): void {
  const refused = (why: string) => new CouldNot(`${file} ${why}: nothing was changed. Choose another name.`)
  if (!statSync(file).isFile()) throw refused("is no file")
  if (source !== null && isSameFile(file, source)) throw refused("is the running database itself")
  try {
    if (reading(file, (db) => versionOf(db, file)) > 0) return
  } catch {
    // No database at all, or another program's.
  }
  throw refused("is there already and is no backup of Ryebell")
}

function isSameFile(one: string, other: string): boolean {
  const [a, b] = [statSync(one), statSync(other)]
  return a.dev === b.dev && a.ino === b.ino
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
