import { setTimeout as wait } from "node:timers/promises"
import type pg from "pg"
import type { Step } from "../migrate.ts"
import { StoreTrouble } from "../trouble.ts"
import { connectAlone, placeOf } from "./session.ts"
import { troubleIn } from "./trouble.ts"

/** The lock under which tables are made or changed: "Ryeb" in ASCII. */
const LOCK = 0x52796562
/** A change waits so long for statements of running workers before it lets them by and tries again. */
const LOCK_WAIT_MS = 2_000
const TRIES = 30
/** The server must know everything that our statements use. */
const LEAST_SERVER = 130_000

/**
 * Brings a database to the newest version: all missing steps and the version in one transaction under one lock, so that
 * of several workers that start at once one makes the change and the others wait for it. Returns the version found.
 * Throws a StoreTrouble: `newer`, `foreign`, `away`, `not-writable`.
 */
export async function migratePostgres(url: string, steps: readonly Step[]): Promise<number> {
  const place = placeOf(url)
  const client = await connectAlone(url)
  try {
    await refuseOldServer(client, place)
    const found = await versionIn(client, place)
    refuseNewerDatabase(found, steps.length, place)
    if (found === steps.length) return found
    for (let tries = 1; ; tries += 1) {
      try {
        return await change(client, place, steps)
      } catch (error) {
        if (tries >= TRIES || (error as { code?: unknown }).code !== "55P03") throw error
        await wait(200)
      }
    }
  } catch (error) {
    throw troubleIn(error, place) ?? error
  } finally {
    await client.end().catch(() => {})
  }
}

async function change(client: pg.Client, place: string, steps: readonly Step[]): Promise<number> {
  await client.query("begin")
  try {
    // Waited for without end: whoever holds it is making the change that we want.
    await client.query(`select pg_advisory_xact_lock(${LOCK})`)
    await client.query(`set local lock_timeout = ${LOCK_WAIT_MS}`)
    const found = await versionIn(client, place)
    refuseNewerDatabase(found, steps.length, place)
    for (const step of steps.filter((each) => each.version > found)) await client.query(step.sql)
    await client.query("delete from ryebell.version")
    await client.query("insert into ryebell.version (version) values ($1)", [steps.length])
    await client.query("commit")
    return found
  } catch (error) {
    await client.query("rollback").catch(() => {})
    throw error
  }
}

/** The version of a database; 0 where nothing of ours is in it. */
export async function versionIn(client: pg.Client, place: string): Promise<number> {
  // Looked up in the catalogue's own tables: the functions for it answer from a memory that may be older than our lock.
  const { rows } = await client.query<{ ours: boolean; versioned: boolean }>(`
    select exists (select from pg_namespace where nspname = 'ryebell') as ours,
           exists (select from pg_class c join pg_namespace n on n.oid = c.relnamespace
                    where n.nspname = 'ryebell' and c.relname = 'version') as versioned`)
  if (!rows[0]?.ours) return 0
  if (!rows[0].versioned)
    throw new StoreTrouble(
      "foreign",
      `The database ${place} has a schema \`ryebell\` that is not ours; nothing in it was changed. Choose another database.`,
    )
  const found = await client.query<{ version: number }>("select version from ryebell.version")
  return found.rows[0]?.version ?? 0
}

export function refuseNewerDatabase(version: number, newest: number, place: string): void {
  if (version <= newest) return
  throw new StoreTrouble(
    "newer",
    `The database ${place} has version ${version}; this program knows versions up to ${newest}. Nothing in it was changed. Start the newer program.`,
  )
}

async function refuseOldServer(client: pg.Client, place: string): Promise<void> {
  const { rows } = await client.query<{ server_version_num: string }>("show server_version_num")
  const version = Number(rows[0]?.server_version_num)
  if (version >= LEAST_SERVER) return
  throw new StoreTrouble(
    "foreign",
    `The server of ${place} is PostgreSQL ${Math.floor(version / 10_000)}; Ryebell needs 13 or newer. Upgrade the server.`,
  )
}
