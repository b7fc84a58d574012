import { copyFileSync, existsSync, readdirSync, readFileSync, writeFileSync } from "node:fs"
import { join } from "node:path"
import { DatabaseSync } from "node:sqlite"
import { describe, expect, it } from "vitest"
import { DATABASE, knownSteps, openStore } from "../../src/store/open.ts"
import { openReadOnly } from "../../src/store/read-only.ts"
import { temporaryFolders } from "./folders.ts"
import { GARDEN, reply } from "./samples.ts"
import { upgradeKilledAt } from "./upgrade-killed.ts"
import { troubleWhile, used } from "./used.ts"

const temporary = temporaryFolders()
const NOW = knownSteps().length
const NEXT = NOW + 1

describe("versions", () => {
  const second = {
    version: NEXT,
    sql: "create table extra (x text) strict; insert into extra values ('made'); select die(1); alter table memory add column at text; select die(2);",
  }
  const steps = [...knownSteps(), { version: NEXT, sql: second.sql.replace(/select die\(\d\);/g, "") }]

  it("brings an older database up to date and keeps a copy of it as it was (S11)", async () => {
    const folder = await used(temporary())
    const store = await openStore({ folder, steps })
    expect(await store.entries(GARDEN)).toHaveLength(2)
    await store.close()
    const copy = new DatabaseSync(join(folder, `before-version-${NEXT}.db`), { readOnly: true })
    expect({ ...copy.prepare("pragma user_version").get() }).toEqual({ user_version: NOW })
    expect({ ...copy.prepare("select count(*) as n from entry").get() }).toEqual({ n: 2 })
    copy.close()
    const again = await openStore({ folder, steps })
    expect(again.isNew).toBe(false)
    await again.close()
  })

  it.each([1, 2])(
    "leaves the older database whole where the upgrade is killed at step %i, and finishes it at the next start (S11)",
    async (at) => {
      const folder = await used(temporary())
      await upgradeKilledAt(join(folder, DATABASE), NOW, [...knownSteps(), second], at)
      const reader = await openReadOnly({ folder })
      expect(await reader?.entries(GARDEN)).toHaveLength(2)
      await reader?.close()
      const store = await openStore({ folder, steps })
      expect(await store.entries(GARDEN)).toHaveLength(2)
      await store.close()
    },
  )

  it("undoes an upgrade that fails half-way and says what failed", async () => {
    const folder = await used(temporary())
    const broken = [
      ...knownSteps(),
      { version: NEXT, sql: "create table extra (x text) strict; insert into nowhere values (1);" },
    ]
    await expect(openStore({ folder, steps: broken })).rejects.toThrow(/nowhere/)
    const store = await openStore({ folder })
    expect(await store.entries(GARDEN)).toHaveLength(2)
    await store.close()
  })

  it("refuses a newer database, names both versions and touches nothing (S12)", async () => {
    const folder = temporary()
    await (await openStore({ folder, steps })).close()
    const before = readFileSync(join(folder, DATABASE))
    const trouble = await troubleWhile(() => openStore({ folder }))
    expect(trouble.code).toBe("newer")
    expect(trouble.message).toContain(`has version ${NEXT}; this program knows versions up to ${NOW}`)
    expect(readFileSync(join(folder, DATABASE)).equals(before)).toBe(true)
    expect(readdirSync(folder).filter((name) => name.startsWith(DATABASE))).toEqual([DATABASE])
    expect((await troubleWhile(() => openReadOnly({ folder }))).code).toBe("newer")
  })

  it("refuses a newer database also where its version stands only in the log of a killed process", async () => {
    const folder = temporary()
    const live = await openStore({ folder, steps })
    const copy = temporary()
    for (const name of [DATABASE, `${DATABASE}-wal`]) copyFileSync(join(folder, name), join(copy, name))
    await live.close()
    const before = [DATABASE, `${DATABASE}-wal`].map((name) => readFileSync(join(copy, name)))
    expect((await troubleWhile(() => openStore({ folder: copy }))).code).toBe("newer")
    expect([DATABASE, `${DATABASE}-wal`].map((name) => readFileSync(join(copy, name)))).toEqual(before)
  })

  it("refuses the database of another program, and a file that is none", async () => {
    const folder = temporary()
    const other = new DatabaseSync(join(folder, DATABASE))
    other.exec("create table recipes (x)")
    other.close()
    expect((await troubleWhile(() => openStore({ folder }))).code).toBe("foreign")
    const text = temporary()
    writeFileSync(join(text, DATABASE), "beds and borders\n".repeat(400))
    expect((await troubleWhile(() => openStore({ folder: text }))).code).toBe("damaged")
    expect(readFileSync(join(text, DATABASE), "utf8")).toMatch(/^beds and borders/)
  })

  it("does not start anew where the database is gone but its log is not", async () => {
    const folder = temporary()
    const store = await openStore({ folder })
    await store.append([reply("one")])
    const copy = temporary()
    copyFileSync(join(folder, `${DATABASE}-wal`), join(copy, `${DATABASE}-wal`))
    await store.close()
    const trouble = await troubleWhile(() => openStore({ folder: copy }))
    expect(trouble.code).toBe("damaged")
    expect(trouble.message).toContain("missing or empty")
    expect(existsSync(join(copy, `${DATABASE}-wal`))).toBe(true)
  })
})
