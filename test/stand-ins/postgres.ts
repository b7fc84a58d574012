import { type ChildProcess, execFileSync, spawn } from "node:child_process"
import { chownSync, existsSync, mkdtempSync, readdirSync, rmSync } from "node:fs"
import { createServer } from "node:net"
import { tmpdir } from "node:os"
import { join } from "node:path"
import { setTimeout as wait } from "node:timers/promises"
import pg from "pg"

/** A PostgreSQL server of its own on loopback, gone with the test. */
export type PostgresServer = {
  port: number
  /** Address of a database of the server; `port` may be that of a way in between. */
  url(database: string, port?: number): string
  /** An empty database under a new name. */
  create(): Promise<string>
  drop(database: string): Promise<void>
  /** Runs statements as the owner of everything. */
  run(database: string, sql: string, values?: unknown[]): Promise<Record<string, unknown>[]>
  /** Kills every process of the server, as a power cut ends them, or stops it in order. */
  halt(how: "kill" | "stop"): Promise<void>
  start(): Promise<void>
  remove(): Promise<void>
}

/** Where the server's programs are; null where it is not installed. */
export function postgresPrograms(): string | null {
  const versions = "/usr/lib/postgresql"
  const found = existsSync(versions)
    ? readdirSync(versions)
        .sort((a, b) => Number(b) - Number(a))
        .map((version) => join(versions, version, "bin"))
    : []
  return [...found, "/usr/bin", "/usr/local/bin"].find((folder) => existsSync(join(folder, "initdb"))) ?? null
}

/** Why the tests that need a server are skipped; null where there is one. */
export const WITHOUT_POSTGRES = postgresPrograms() ? null : "skipped: PostgreSQL is not installed (package postgresql)"

/**
 * Starts a throw-away server. `durable`: writes reach the disk as in earnest; without, it is faster. As root it runs as the
 * user `postgres`, since the server refuses to be root.
 */
export async function startPostgres(
  options: { durable?: boolean; settings?: readonly string[] } = {},
): Promise<PostgresServer> {
  const programs = postgresPrograms()
  if (!programs) throw new Error("PostgreSQL is not installed")
  const owner = process.getuid?.() === 0 ? idsOf("postgres") : null
  const home = mkdtempSync(join(tmpdir(), "ryebell-postgres-"))
  if (owner) chownSync(home, owner.uid, owner.gid)
  const data = join(home, "data")
  const port = await freePort()
  const as = owner ?? {}
  const env = { PATH: process.env.PATH, LC_ALL: "C.UTF-8" }
  execFileSync(join(programs, "initdb"), ["-D", data, "-A", "trust", "-U", "ryebell", "-E", "UTF8", "--no-sync"], {
    ...as,
    cwd: home,
    env,
    stdio: "ignore",
  })
  const settings = [
    "listen_addresses=127.0.0.1",
    `unix_socket_directories=${home}`,
    "max_connections=200",
    "logging_collector=off",
    ...(options.durable ? [] : ["fsync=off", "full_page_writes=off"]),
    ...(options.settings ?? []),
  ]
  let child: ChildProcess | null = null
  let ended: Promise<void> = Promise.resolve()

  async function start(): Promise<void> {
    // As a child of ours and not through pg_ctl: a server that was killed is then reaped, and can start again.
    const started = spawn(
      join(programs as string, "postgres"),
      ["-D", data, "-p", String(port), ...settings.flatMap((each) => ["-c", each])],
      { ...as, cwd: home, env, stdio: "ignore" },
    )
    child = started
    ended = new Promise((resolve) => started.once("exit", () => resolve()))
    for (let tries = 0; tries < 600; tries += 1) {
      if (started.exitCode !== null) throw new Error(`the server ended at once with status ${started.exitCode}`)
      try {
        await run("postgres", "select 1")
        return
      } catch {
        await wait(50)
      }
    }
    throw new Error("the server does not answer")
  }

  async function run(database: string, sql: string, values?: unknown[]): Promise<Record<string, unknown>[]> {
    const client = new pg.Client({ connectionString: url(database) })
    client.on("error", () => {})
    await client.connect()
    try {
      return (await client.query(sql, values)).rows
    } finally {
      await client.end().catch(() => {})
    }
  }

  function url(database: string, through = port): string {
    return `postgres://ryebell@127.0.0.1:${through}/${database}`
  }

  async function halt(how: "kill" | "stop"): Promise<void> {
    if (!child?.pid || child.exitCode !== null) return
    if (how === "kill") for (const pid of [child.pid, ...childrenOf(child.pid)]) killQuietly(pid, "SIGKILL")
    else killQuietly(child.pid, "SIGINT")
    await ended
  }

  let made = 0
  await start()
  return {
    port,
    url,
    run,
    start,
    halt,
    async create() {
      made += 1
      const name = `garden_${process.pid}_${made}`
      await run("postgres", `create database ${name}`)
      return name
    },
    async drop(database) {
      await run("postgres", `drop database if exists ${database} with (force)`)
    },
    async remove() {
      await halt("stop")
      rmSync(home, { recursive: true, force: true })
    },
  }
}

function idsOf(user: string): { uid: number; gid: number } {
  const id = (flag: string) => Number(execFileSync("id", [flag, user], { encoding: "utf8" }))
  return { uid: id("-u"), gid: id("-g") }
}

function childrenOf(pid: number): number[] {
  const listed = execFileSync("ps", ["-e", "-o", "pid=,ppid="], { encoding: "utf8" })
  return listed
    .trim()
    .split("\n")
    .map((line) => line.trim().split(/\s+/).map(Number))
    .filter(([, parent]) => parent === pid)
    .map(([child]) => child as number)
}

function killQuietly(pid: number, signal: NodeJS.Signals): void {
  try {
    process.kill(pid, signal)
  } catch {
    // It ended by itself meanwhile.
  }
}

/** A port that nobody listened on a moment ago. */
export async function freePort(): Promise<number> {
  const server = createServer()
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve))
  const { port } = server.address() as { port: number }
  await new Promise<void>((resolve) => server.close(() => resolve()))
  return port
}
