import { readdirSync, readFileSync, writeFileSync } from "node:fs"
import { join } from "node:path"
import { setTimeout as wait } from "node:timers/promises"
import { afterAll, beforeAll, describe, expect, it } from "vitest"
import type { Store } from "../../src/bot/needs.ts"
import { backup, restore } from "../../src/store/backup.ts"
import { openStore } from "../../src/store/open.ts"
import { knownPostgresSteps, openPostgres } from "../../src/store/postgres.ts"
import { openReadOnly } from "../../src/store/read-only.ts"
import { type PostgresServer, startPostgres, WITHOUT_POSTGRES } from "../stand-ins/postgres.ts"
import { temporaryFolders } from "./folders.ts"
import { BLOOM, CUT, GARDEN, incoming, LEASE, nudge, plus, reply, SENT, START, sent } from "./samples.ts"
import { troubleWhile } from "./used.ts"

const temporary = temporaryFolders()
const WHEN = "2026-05-13T12:00:00.000Z"

/** Fills a store with one of everything. */
async function fill(store: Store): Promise<void> {
  await store.append([reply("one \u0000 \ud83c"), sent("two"), reply("a", "allotment")])
  await store.keepIncoming(incoming("SM1"))
  await store.keepIncoming({ ...incoming("SM2 \u0000"), from: "+17175550143" })
  await store.settleIncoming("SM1", [reply("three")], [nudge("answer", { kind: "answer" })])
  await store.placeReminders(GARDEN, [
    { id: CUT, person: "ines", speaksAt: plus(-5) },
    { id: BLOOM, person: "ines", speaksAt: plus(600) },
  ])
  await store.queue([nudge("k1"), nudge("k2"), nudge("k3", { notBefore: plus(60) })])
  for (let i = 0; i < 3; i += 1) await store.claimOutgoing(START, LEASE)
  await store.settleOutgoing("k1", 1, SENT, [sent("cut")])
  await store.recordFate("k1", "delivered", null)
  await store.remember("tick", "7 \u{1F33E}")
  await store.keepGarden({ id: "plot-1", host: "acre", text: "garden: \u{1F33E}\n" }, null)
}

/** Everything that a store tells, in the order in which it matters. */
async function told(store: Store): Promise<unknown> {
  const messages = await Promise.all(["answer", "k1", "k2", "k3"].map((key) => store.outgoing(key)))
  return {
    entries: [await store.entries(GARDEN), await store.entries("allotment")],
    messages,
    depth: await store.depth(),
    tick: await store.recall("tick"),
    kept: await store.keptGardens(0),
    again: await store.keepIncoming(incoming("SM1")),
    open: await store.claimIncoming(START, LEASE),
    unsettled: (await store.unsettledOutgoing(plus(600))).map((message) => message.key),
  }
}

describe.skipIf(WITHOUT_POSTGRES)(WITHOUT_POSTGRES ?? "a database of many workers", () => {
  let server: PostgresServer
  beforeAll(async () => {
    server = await startPostgres()
  })
  afterAll(() => server?.remove())
  const newUrl = async () => server.url(await server.create())

  it("is backed up and restored whole, and in hold", async () => {
    const url = await newUrl()
    const store = await openStore({ folder: null, url })
    await fill(store)
    const file = join(temporary(), "beds.backup")
    expect(await backup({ folder: "", url }, file)).toEqual([
      { garden: "allotment", lastSeq: 1 },
      { garden: GARDEN, lastSeq: 4 },
    ])
    await store.close()
    const expected = await openStore({ folder: null, url })
    const other = await newUrl()
    await restore({ folder: "", url: other }, file, WHEN)
    const restored = await openStore({ folder: null, url: other })
    expect(await restored.recall("hold")).toContain("restored on 2026-05-13")
    expect(await told(restored)).toEqual(await told(expected))
    expect((await restored.append([reply("four")])).map((entry) => entry.seq)).toEqual([5])
    expect(await restored.claimPerson(plus(600), LEASE)).toBeNull()
    await restored.settleOutgoing("k2", 1, SENT, [])
    await restored.settleOutgoing("answer", 1, SENT, [])
    await restored.close()
    await expected.close()
  })

  it("takes the backup of a folder, and a folder takes its backup", async () => {
    const folder = temporary()
    const first = await openStore({ folder })
    await fill(first)
    await first.close()
    const again = await openStore({ folder })
    const [one, two] = [join(temporary(), "one.backup"), join(temporary(), "two.backup")]
    await backup({ folder }, one)
    const url = await newUrl()
    await restore({ folder: "", url }, one, WHEN)
    await backup({ folder: "", url }, two)
    const moved = join(temporary(), "moved")
    await restore({ folder: moved }, two, WHEN)
    const back = await openStore({ folder: moved })
    expect(await told(back)).toEqual(await told(again))
    await back.close()
    await again.close()
  })

  it("holds in a backup every entry that was acknowledged before it began, while workers write on", async () => {
    const url = await newUrl()
    const store = await openStore({ folder: null, url })
    let acknowledged = 0
    let writing = true
    const writers = Array.from({ length: 4 }, async (_, i) => {
      while (writing) {
        await store.append([reply(`text of ${i}`, `garden-${i}`)])
        acknowledged += 1
      }
    })
    const folder = temporary()
    for (let i = 0; i < 10; i += 1) {
      await wait(30)
      const before = acknowledged
      const contents = await backup({ folder: "", url }, join(folder, `${i}.backup`))
      expect(contents.reduce((sum, { lastSeq }) => sum + lastSeq, 0)).toBeGreaterThanOrEqual(before)
    }
    writing = false
    await Promise.all(writers)
    expect(readdirSync(folder).filter((name) => name.endsWith(".partial"))).toEqual([])
    await store.close()
  })

  it("is restored into an empty database only, and no other file is overwritten", async () => {
    const url = await newUrl()
    const store = await openStore({ folder: null, url })
    await store.append([reply("one")])
    const file = join(temporary(), "beds.backup")
    await backup({ folder: "", url }, file)
    await expect(restore({ folder: "", url }, file, WHEN)).rejects.toThrow(/holds data already/)
    expect(await store.entries(GARDEN)).toHaveLength(1)
    const letter = join(temporary(), "letter.txt")
    writeFileSync(letter, "dear aunt")
    await expect(backup({ folder: "", url }, letter)).rejects.toThrow(/is no backup of Ryebell/)
    expect(readFileSync(letter, "utf8")).toBe("dear aunt")
    await expect(restore({ folder: "", url: await newUrl() }, letter, WHEN)).rejects.toThrow()
    await expect(backup({ folder: "", url: await newUrl() }, join(temporary(), "none"))).rejects.toThrow(
      /nothing to back up/,
    )
    await store.close()
  })

  it("is read while workers write, and is not made by reading", async () => {
    const url = await newUrl()
    expect(await openReadOnly({ folder: "", url })).toBeNull()
    const store = await openStore({ folder: null, url })
    await store.append([reply("one"), reply("a", "allotment")])
    const reader = await openReadOnly({ folder: "", url })
    expect(await reader?.gardens()).toEqual(["allotment", GARDEN])
    await store.append([reply("two")])
    expect(await reader?.entries(GARDEN)).toHaveLength(2)
    await reader?.close()
    await store.close()
  })

  it("is made once by ten workers that start at the same time", async () => {
    const url = await newUrl()
    const stores = await Promise.all(Array.from({ length: 10 }, () => openStore({ folder: null, url })))
    expect(stores.filter((store) => store.isNew)).toHaveLength(1)
    await Promise.all(stores.map((store) => store.append([reply("one")])))
    expect(await stores[0]?.entries(GARDEN)).toHaveLength(10)
    await Promise.all(stores.map((store) => store.close()))
  })

  it("is brought up to date under a running worker of the version before, which then cannot start again (S11, S12)", async () => {
    const url = await newUrl()
    const now = knownPostgresSteps()
    const next = [
      ...now,
      {
        version: now.length + 1,
        sql: "alter table ryebell.entry add column extra text; create table ryebell.extra (x int)",
      },
    ]
    const old = await openPostgres(url)
    await old.append([reply("one")])
    const fresh = await openPostgres(url, { steps: next })
    expect(fresh.isNew).toBe(false)
    await old.append([reply("two")])
    expect(await fresh.entries(GARDEN)).toHaveLength(2)
    expect(await old.entries(GARDEN)).toHaveLength(2)
    await old.close()
    const trouble = await troubleWhile(() => openPostgres(url))
    expect(trouble.code).toBe("newer")
    expect(trouble.message).toContain(`has version ${next.length}; this program knows versions up to ${now.length}`)
    expect((await troubleWhile(() => openReadOnly({ folder: "", url }).then(() => undefined))).code).toBe("newer")
    await fresh.close()
  })

  it("is left as it was by an upgrade that fails half-way (S11)", async () => {
    const url = await newUrl()
    const now = knownPostgresSteps()
    await (await openPostgres(url)).close()
    const broken = [
      ...now,
      { version: now.length + 1, sql: "create table ryebell.extra (x int); insert into nowhere values (1)" },
    ]
    await expect(openPostgres(url, { steps: broken })).rejects.toThrow(/nowhere/)
    const store = await openPostgres(url)
    await store.append([reply("one")])
    await store.close()
  })

  it("refuses a schema of that name that is not ours", async () => {
    const database = await server.create()
    await server.run(database, "create schema ryebell; create table ryebell.recipes (x int)")
    expect((await troubleWhile(() => openStore({ folder: null, url: server.url(database) }))).code).toBe("foreign")
  })

  it("keeps its log from every change, also by those who own it", async () => {
    const database = await server.create()
    const store = await openStore({ folder: null, url: server.url(database) })
    await store.append([reply("one")])
    for (const change of [
      "update ryebell.entry set body = '{}'",
      "delete from ryebell.entry",
      "truncate ryebell.entry",
    ])
      await expect(server.run(database, change)).rejects.toThrow(/append-only/)
    await store.close()
  })

  it("comes back by itself after the server was away: verbs fail with a word, then work again", async () => {
    const url = await newUrl()
    const store = await openStore({ folder: null, url })
    await store.append([reply("one")])
    await server.halt("kill")
    expect((await troubleWhile(() => store.append([reply("two")]))).code).toBe("away")
    expect((await troubleWhile(() => store.claimOutgoing(START, LEASE))).code).toBe("away")
    await server.start()
    expect((await store.append([reply("three")])).map((entry) => entry.seq)).toEqual([2])
    await store.probe()
    await store.close()
  })
})
