import { existsSync, readdirSync, readFileSync, writeFileSync } from "node:fs"
import { join } from "node:path"
import { setTimeout as wait } from "node:timers/promises"
import { afterAll, beforeAll, describe, expect, it, vi } from "vitest"
import { DATABASE } from "../../src/store/open.ts"
import { drawer } from "../stand-ins/carrier-book.ts"
import { type PostgresServer, startPostgres, WITHOUT_POSTGRES } from "../stand-ins/postgres.ts"
import { newerProgram } from "./newer-program.ts"
import { judge, NO_HARM, nudgesOf, quiet, repliesIn, told } from "./office-judge.ts"
import { type Bot, bot, command, freshFolder } from "./program.ts"
import { type Office, openOffice } from "./workers.ts"

// A machine that does much else takes its time: what counts is what is lost, not when.
vi.setConfig({ testTimeout: 1_800_000 })

const newer = newerProgram()
const older = { postgres: newer.versions.postgres - 1, sqlite: newer.versions.sqlite - 1 }

/** What writes, what only reads, and what takes everything along. */
const COMMANDS = [["run"], ["log"], ["backup", "copy"], ["export", "--gardens", "out"]]

describe.skipIf(WITHOUT_POSTGRES)(WITHOUT_POSTGRES ?? "an upgrade of several workers, one after the other", () => {
  let server: PostgresServer
  beforeAll(async () => {
    server = await startPostgres()
  })
  afterAll(() => server?.remove())

  const versionOf = async (office: Office) =>
    (await server.run(office.database, "select version from ryebell.version"))[0]?.version

  it("loses and doubles nothing: older ones go on while a newer one changes the tables, dies, and takes over", async () => {
    const office = await openOffice(server, { gardens: 300, speed: 20, seed: 11 })
    const draw = drawer(11)
    const asked: string[] = []
    const somebodyAsks = async () => {
      const id = `SM${String(asked.length).padStart(32, "0")}`
      asked.push(id)
      await office.hears(office.phones[Math.floor(draw() * office.phones.length)] as string, "what next", id)
    }
    try {
      // A carrier so slow that the morning outlasts the upgrade.
      office.carrier.knobs.lateMs = 1500
      const before = [office.hire(0), office.hire(45_000)]
      await Promise.all(before.map((worker) => worker.says("Ryebell is running", 120_000)))
      await told(office, 10)
      expect(await versionOf(office)).toBe(older.postgres)
      const first = office.hire(0, newer.start)
      await first.says("Ryebell is running", 120_000)
      expect(await versionOf(office)).toBe(newer.versions.postgres)
      await first.kill()
      // Only the older ones are left, on tables that are newer than they know.
      for (let i = 0; i < 10; i += 1) await somebodyAsks()
      await told(office, nudgesOf(office).length + 20)
      const next: Bot[] = []
      for (const worker of before) {
        next.push(office.hire(-45_000, newer.start))
        await next.at(-1)?.says("Ryebell is running", 120_000)
        for (let i = 0; i < 10; i += 1) await somebodyAsks()
        await worker.stop()
        expect(worker.child.exitCode).toBe(0)
        expect(worker.text()).not.toContain('"level":50')
      }
      const amid = nudgesOf(office).length
      expect(await quiet(office, 900)).toBe(true)
      const found = await judge(office)
      console.log(
        `${amid} of ${found.texts} texts had gone when the last older worker stopped; ${asked.length} replies: ${found.lost} lost, ${found.doubled} doubled`,
      )
      expect(found).toMatchObject(NO_HARM)
      expect(amid).toBeLessThan(found.texts)
      expect(found.bodies.size).toBe(1)
      const logs = await office.logs()
      expect(logs.flatMap(repliesIn).sort()).toEqual(asked.sort())
      for (const worker of next) expect(worker.child.exitCode).toBeNull()
    } finally {
      await office.close()
    }
  })

  it("turns an older program away from newer tables in words, whatever is asked of it, and changes nothing (S12)", async () => {
    const office = await openOffice(server, { gardens: 3, speed: 1, seed: 1 })
    try {
      const worker = office.hire(0, newer.start)
      await worker.says("Ryebell is running", 120_000)
      await worker.stop()
      const state = () =>
        server.run(
          office.database,
          `select (select version from ryebell.version) as version, (select count(*)::int from ryebell.reminder) as reminders,
                  (select md5(string_agg(garden || seq || body, '' order by garden, seq)) from ryebell.entry) as log,
                  (select md5(string_agg(name || value, '' order by name)) from ryebell.memory) as memory`,
        )
      const before = await state()
      expect(before[0]?.version).toBe(newer.versions.postgres)
      for (const args of COMMANDS) {
        const { status, err } = await command(args, { env: office.settings(), cwd: freshFolder("older") })
        expect({ args, status }).toEqual({ args, status: 1 })
        expect(err).toContain(
          `has version ${newer.versions.postgres}; this program knows versions up to ${older.postgres}`,
        )
        expect(err).toContain("Start the newer program")
      }
      expect(await state()).toEqual(before)
    } finally {
      await office.close()
    }
  })
})

describe("an older program on the file database of a newer one", () => {
  it("is turned away in words, whatever is asked of it, and changes not a byte (S12)", async () => {
    const folder = freshFolder("file")
    const env = { RYEBELL_DATA: join(folder, "data"), RYEBELL_GARDEN: join(folder, "garden.yaml"), LOG_LEVEL: "error" }
    writeFileSync(env.RYEBELL_GARDEN, readFileSync(new URL("../../config/garden.yaml", import.meta.url)))
    const first = bot([], env)
    await first.says("Ryebell is running", 120_000)
    await first.stop()
    const second = bot([], env, newer.start)
    await second.says("Ryebell is running", 120_000)
    second.type("done 1")
    await wait(1000)
    await second.stop()
    expect(readdirSync(env.RYEBELL_DATA)).toContain(`before-version-${newer.versions.sqlite}.db`)
    const file = join(env.RYEBELL_DATA, DATABASE)
    // Whoever only reads may leave the engine's own shared memory and an empty log beside it.
    const bytes = () => ({
      file: readFileSync(file).toString("base64"),
      log: existsSync(`${file}-wal`) ? readFileSync(`${file}-wal`).length : 0,
    })
    const before = bytes()
    for (const args of COMMANDS) {
      const { status, err } = await command(args, { env, cwd: freshFolder("older") })
      expect({ args, status }).toEqual({ args, status: 1 })
      expect(err).toContain(`has version ${newer.versions.sqlite}; this program knows versions up to ${older.sqlite}`)
    }
    expect(bytes()).toEqual(before)
    const third = bot([], env, newer.start)
    await third.says("Ryebell is running", 120_000)
    await third.stop()
  })
})
