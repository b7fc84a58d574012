import { readdirSync, readFileSync } from "node:fs"
import { join } from "node:path"
import type { DatabaseSync } from "node:sqlite"
import { sumOf } from "./sqlite/sum.ts"
import { StoreTrouble } from "./trouble.ts"

/** One step of the database's shape: `0001.sql` brings it to version 1. */
export type Step = { version: number; sql: string }

/** Marks a file as ours: "Ryeb" in ASCII, kept in the place that SQLite reserves for it. */
export const APPLICATION_ID = 0x52796562

/** The steps of a folder in order; they count up from 1 without holes. */
export function readSteps(folder: string): Step[] {
  const names = readdirSync(folder)
    .filter((name) => /^\d{4}\.sql$/.test(name))
    .sort()
  return names.map((name, index) => {
    const version = Number(name.slice(0, 4))
    if (version !== index + 1)
      throw new RangeError(`migration ${String(index + 1).padStart(4, "0")}.sql is missing before ${name}`)
    return { version, sql: readFileSync(join(folder, name), "utf8") }
  })
}

/** The version of an open database: 0 where nothing was ever made in it. Throws `foreign` where it is another program's. */
export function versionOf(db: DatabaseSync, file: string): number {
  const { application_id: id } = db.prepare("pragma application_id").get() as { application_id: number }
  const { user_version: version } = db.prepare("pragma user_version").get() as { user_version: number }
  const { n: tables } = db.prepare("select count(*) as n from sqlite_schema").get() as { n: number }
  if (id === APPLICATION_ID) return version
  if (id === 0 && version === 0 && tables === 0) return 0
  throw new StoreTrouble(
    "foreign",
    `${file} is a database of another program; nothing in it was changed. Set RYEBELL_DATA to another folder.`,
  )
}

/** Throws `newer` where a database has a version above the newest step that this program knows. */
export function refuseNewer(version: number, newest: number, file: string): void {
  if (version <= newest) return
  throw new StoreTrouble(
    "newer",
    `The database ${file} has version ${version}; this program knows versions up to ${newest}. Nothing in it was changed. ` +
      "Start the newer program again, or restore a backup that is older.",
  )
}

/**
 * Brings a database to the newest version: all missing steps and the version in one transaction, so that a crash leaves
 * it as it was or done.
 */
export function migrate(db: DatabaseSync, from: number, steps: readonly Step[]): void {
  const missing = steps.filter((step) => step.version > from)
  if (missing.length === 0) return
  db.exec("begin immediate")
  try {
    for (const step of missing) db.exec(step.sql)
    db.exec(`pragma application_id = ${APPLICATION_ID}`)
    db.exec(`pragma user_version = ${missing.at(-1)?.version}`)
    db.prepare("insert or replace into memory (name, value) values ('schema_sum', ?)").run(String(schemaSum(db)))
    db.exec("commit")
  } catch (error) {
    if (db.isTransaction) db.exec("rollback")
    throw error
  }
}

/** Sum of all tables, indexes and triggers, kept at each migration: a damaged byte in one of them is found by it. */
export function schemaSum(db: DatabaseSync): number {
  const parts = db.prepare("select type, name, tbl_name, sql from sqlite_schema order by type, name").all()
  return sumOf(JSON.stringify(parts.map((part) => Object.values(part))))
}
