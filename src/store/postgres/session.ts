import { setTimeout as wait } from "node:timers/promises"
import pg from "pg"
import { LogMovedOn } from "../../bot/needs.ts"
import { type Instant, instant } from "../../values/instant.ts"
import { StoreTrouble } from "../trouble.ts"
import { connectionLost, troubleIn } from "./trouble.ts"

/** A statement by its name: the server keeps it prepared under that name. */
export type Statement = { name: string; text: string }

/** Connections to one database, and the one way in which statements run on it. */
export type Session = {
  /** Host, port and database, fit to be shown. */
  place: string
  pool: pg.Pool
  /** Runs a statement that may run twice without harm: tried again where the connection was lost under it. */
  again<Row>(statement: Statement, values: unknown[]): Promise<Row[]>
  /** Runs a statement that must not run twice: where the connection was lost under it, nobody knows whether it did. */
  once<Row>(statement: Statement, values: unknown[]): Promise<Row[]>
  close(): Promise<void>
}

/** Statements of the bot take milliseconds: longer than this and the server or the way to it is stuck. */
const STATEMENT_MS = 10_000
const ANSWER_MS = 15_000
const CONNECT_MS = 5_000
/** Waits before a statement is tried again after its connection was lost; then the caller is told. */
const AGAIN_AFTER_MS = [20, 200, 1_000]

/** What `ryebell.follows` ends a statement with. */
const MOVED_ON = "RY001"
const TIMESTAMPTZ = 1184
const INT8 = 20

const types = {
  getTypeParser(oid: number, format?: string): (text: string) => unknown {
    if (oid === TIMESTAMPTZ) return readInstant
    if (oid === INT8) return Number
    return pg.types.getTypeParser(oid, format as "text")
  },
}

/** `2026-05-13 12:00:00.5+00` or, as a server in another zone writes it, `2026-05-13 17:30:00.5+05:30`. */
function readInstant(text: string): Instant {
  return instant(text.replace(" ", "T").replace(/([+-]\d\d)$/, "$1:00"))
}

/** Opens connections as they are needed, `most` at once. */
export function openSession(url: string, most: number): Session {
  const pool = new pg.Pool({ ...optionsOf(url), max: most, statement_timeout: STATEMENT_MS, query_timeout: ANSWER_MS })
  // A connection that breaks is replaced by the next that is needed; whoever is using it is told by its statement.
  pool.on("error", () => {})
  pool.on("connect", (client) => client.on("error", () => {}))
  const place = placeOf(url)
  let closed = false

  async function run<Row>(statement: Statement, values: unknown[]): Promise<Row[]> {
    if (closed) throw new StoreTrouble("closed", `The database ${place} was closed.`)
    const client = await pool.connect()
    let lost: Error | undefined
    try {
      const { rows } = await client.query({ ...statement, values })
      return rows as Row[]
    } catch (error) {
      if (connectionLost(error)) lost = error as Error
      throw error
    } finally {
      client.release(lost)
    }
  }

  function told(error: unknown): unknown {
    if ((error as { code?: unknown }).code === MOVED_ON)
      return new LogMovedOn((error as Error).message, { cause: error })
    return troubleIn(error, place) ?? error
  }

  return {
    place,
    pool,
    async again(statement, values) {
      for (let tried = 0; ; tried += 1) {
        try {
          return await run(statement, values)
        } catch (error) {
          const pause = AGAIN_AFTER_MS[tried]
          if (pause === undefined || closed || !(connectionLost(error) || collided(error))) throw told(error)
          await wait(pause)
        }
      }
    },
    async once(statement, values) {
      for (let tried = 0; ; tried += 1) {
        try {
          return await run(statement, values)
        } catch (error) {
          // Two statements that waited for each other: the server undid this one.
          const pause = AGAIN_AFTER_MS[tried]
          if (pause === undefined || closed || !collided(error)) throw told(error)
          await wait(pause)
        }
      }
    },
    async close() {
      if (closed) return
      closed = true
      await pool.end()
    },
  }
}

/** One connection of its own, for work that takes long (a copy, a change of the tables). The caller ends it. */
export async function connectAlone(url: string): Promise<pg.Client> {
  const client = new pg.Client(optionsOf(url))
  client.on("error", () => {})
  try {
    await client.connect()
    return client
  } catch (error) {
    throw troubleIn(error, placeOf(url)) ?? error
  }
}

function optionsOf(url: string): pg.ClientConfig {
  return {
    connectionString: url,
    application_name: "ryebell",
    connectionTimeoutMillis: CONNECT_MS,
    keepAlive: true,
    types: types as pg.CustomTypesConfig,
  }
}

/** What may be shown of an address: never the password. */
export function placeOf(url: string): string {
  const { hostname, port, pathname } = new URL(url)
  return `${hostname || "localhost"}${port ? `:${port}` : ""}${pathname}`
}

/** Deadlock or serialisation failure: undone by the server, fit to be run again. */
function collided(error: unknown): boolean {
  const code = (error as { code?: unknown }).code
  return code === "40P01" || code === "40001"
}

/** Text that a column can hold: PostgreSQL takes every character but one. */
export function plain(text: string): string {
  return text.replaceAll("\u0000", "\u2400")
}
