import { existsSync, statSync } from "node:fs"
import { join } from "node:path"
import { describe, expect, it } from "vitest"
import { BALLAST_BYTES, type Ballast, openBallast } from "../../src/store/ballast.ts"
import { migrate } from "../../src/store/migrate.ts"
import { knownSteps, openStore } from "../../src/store/open.ts"
import { type Connection, connect, type Journal } from "../../src/store/sqlite/connection.ts"
import { sqliteStore } from "../../src/store/sqlite.ts"
import { temporaryFolders } from "./folders.ts"
import { GARDEN, incoming, LEASE, nudge, plus, reply, SENT, sent } from "./samples.ts"

const temporary = temporaryFolders()

function pragma(connection: Connection, name: string): unknown {
  return Object.values({ ...connection.db.prepare(`pragma ${name}`).get() })[0]
}

describe("a connection", () => {
  it.each<[Journal]>([["wal"], ["truncate"]])(
    "with journal %s syncs every commit and keeps temporary files in memory (S3, S6)",
    (journal) => {
      const connection = connect(join(temporary(), "x.db"), journal, null)
      expect(pragma(connection, "journal_mode")).toBe(journal)
      // 2 is FULL; 2 is MEMORY; 1 is on.
      expect(pragma(connection, "synchronous")).toBe(2)
      expect(pragma(connection, "temp_store")).toBe(2)
      expect(pragma(connection, "foreign_keys")).toBe(1)
      expect(pragma(connection, "busy_timeout")).toBe(5000)
      connection.close()
    },
  )

  it("carries the write-ahead log into the database before it grows without end", () => {
    const file = join(temporary(), "x.db")
    const connection = connect(file, "wal", null)
    connection.db.exec("create table t (x text) strict")
    const add = connection.db.prepare("insert into t values (?)")
    for (let i = 0; i < 600; i += 1) connection.write("keep", () => add.run("x".repeat(4000)))
    expect(statSync(`${file}-wal`).size).toBeLessThan(4_500_000)
    expect(statSync(file).size).toBeGreaterThan(1_500_000)
    connection.close()
  })

  it("undoes a piece of work that throws, and goes on", () => {
    const connection = connect(join(temporary(), "x.db"), "wal", null)
    connection.db.exec("create table t (x text) strict")
    const add = connection.db.prepare("insert into t values (?)")
    const failing = () =>
      connection.write("keep", () => {
        add.run("one")
        throw new RangeError("no")
      })
    expect(failing).toThrow(RangeError)
    connection.write("keep", () => add.run("two"))
    expect(
      connection.db
        .prepare("select x from t")
        .all()
        .map((row) => row.x),
    ).toEqual(["two"])
    connection.close()
  })
})

/** A store whose file may grow to a few pages only, as on a full disk; `more` gives it room again. */
function onFullDisk(ballast: (more: () => void) => Ballast) {
  const file = join(temporary(), "x.db")
  let connection: Connection | null = null
  const limit = (pages: number) => connection?.db.exec(`pragma max_page_count = ${pages}`)
  const more = () => void limit(100_000)
  connection = connect(file, "wal", ballast(more))
  migrate(connection.db, 0, knownSteps())
  const fill = () => void limit(Number(pragma(connection as Connection, "page_count")))
  return { store: sqliteStore(connection, file), fill, more }
}

const LONG = "x".repeat(20_000)

describe("a full disk (S5)", () => {
  it("gives up the ballast to keep what has happened, and starts nothing new while it is gone", async () => {
    let held = true
    let room = false
    const { store, fill } = onFullDisk((more) => ({
      held: () => held,
      giveUp() {
        if (!held) return false
        held = false
        more()
        return true
      },
      takeUp() {
        held = room
        return room
      },
    }))
    await store.queue([nudge("k1"), nudge("k2")])
    const message = await store.claimOutgoing(plus(0), LEASE)
    fill()
    expect(await store.settleOutgoing("k1", message?.attempts ?? 0, SENT, [sent(LONG)])).toBe(true)
    expect(held).toBe(false)
    expect(await store.keepIncoming(incoming("SM1", LONG))).toBe("new")
    await expect(store.claimOutgoing(plus(0), LEASE)).rejects.toMatchObject({ code: "disk-full" })
    await expect(store.claimPerson(plus(0), LEASE)).rejects.toMatchObject({ code: "disk-full" })
    await expect(store.queue([nudge("k3")])).rejects.toMatchObject({ code: "disk-full" })
    expect(await store.outgoing("k2")).toMatchObject({ state: "waiting", attempts: 0 })
    room = true
    expect(await store.claimOutgoing(plus(0), LEASE)).toMatchObject({ key: "k2" })
    await store.close()
  })

  it("says so where there is no ballast either, loses nothing, and goes on when there is room again", async () => {
    const { store, fill, more } = onFullDisk(() => ({ held: () => false, giveUp: () => false, takeUp: () => true }))
    await store.append([reply("one")])
    fill()
    await expect(store.append([reply(LONG)])).rejects.toMatchObject({ code: "disk-full" })
    await expect(store.keepIncoming(incoming("SM1", LONG))).rejects.toMatchObject({ code: "disk-full" })
    expect((await store.entries(GARDEN)).map((entry) => entry.seq)).toEqual([1])
    more()
    expect((await store.append([reply(LONG)])).map((entry) => entry.seq)).toEqual([2])
    expect(await store.keepIncoming(incoming("SM1", LONG))).toBe("new")
    await store.close()
  })
})

describe("the ballast", () => {
  it("is a file of real bytes beside the database, given up and taken again", async () => {
    const folder = temporary()
    const store = await openStore({ folder })
    const file = join(folder, "ballast")
    expect(statSync(file).size).toBe(BALLAST_BYTES)
    expect(statSync(file).blocks * 512).toBeGreaterThanOrEqual(BALLAST_BYTES)
    await store.close()
    const ballast = openBallast(folder)
    expect(ballast.held()).toBe(true)
    expect(ballast.giveUp()).toBe(true)
    expect(ballast.giveUp()).toBe(false)
    expect(existsSync(file)).toBe(false)
    expect(ballast.takeUp()).toBe(true)
    expect(statSync(file).size).toBe(BALLAST_BYTES)
  })
})
