import {
  chmodSync,
  copyFileSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  statSync,
  writeFileSync,
} from "node:fs"
import { join } from "node:path"
import { DatabaseSync } from "node:sqlite"
import { describe, expect, it } from "vitest"
import { backupStore, restoreStore } from "../../src/store/backup.ts"
import { DATABASE, openStore } from "../../src/store/open.ts"
import { StoreTrouble } from "../../src/store/trouble.ts"
import { temporaryFolders } from "./folders.ts"
import { GARDEN, incoming, nudge, reply } from "./samples.ts"

const temporary = temporaryFolders()
const WHEN = "2026-05-14T07:00:00Z"

async function used(): Promise<string> {
  const folder = temporary()
  const store = await openStore({ folder })
  await store.append([reply("one"), reply("two"), reply("plot", "allotment")])
  await store.keepIncoming(incoming("SM1"))
  await store.queue([nudge("k1")])
  await store.close()
  return folder
}

function bytes(folder: string): Record<string, string> {
  return Object.fromEntries(readdirSync(folder).map((name) => [name, readFileSync(join(folder, name), "base64")]))
}

describe("a backup", () => {
  it("taken while the store is written is whole, private, one file, and tells its last numbers (S8)", async () => {
    const folder = await used()
    const store = await openStore({ folder })
    await store.append([reply("three")])
    const to = temporary()
    const file = join(to, "monday.db")
    expect(backupStore({ folder }, file)).toEqual([
      { garden: "allotment", lastSeq: 1 },
      { garden: GARDEN, lastSeq: 3 },
    ])
    await store.append([reply("four")])
    await store.close()
    expect(readdirSync(to)).toEqual(["monday.db"])
    expect(statSync(file).mode & 0o777).toBe(0o600)
    const target = join(temporary(), "restored")
    restoreStore({ folder: target }, file, WHEN)
    const restored = await openStore({ folder: target })
    expect((await restored.entries(GARDEN)).map((entry) => entry.kind === "reply" && entry.text)).toEqual([
      "one",
      "two",
      "three",
    ])
    expect(await restored.depth()).toEqual({ outgoing: 1, incoming: 1, reminders: 0 })
    expect(await restored.keepIncoming(incoming("SM1"))).toBe("repeat")
    await restored.close()
  })

  it("replaces an older backup in one step, and nothing else", async () => {
    const folder = await used()
    const file = join(temporary(), "backup.db")
    backupStore({ folder }, file)
    const store = await openStore({ folder })
    await store.append([reply("three")])
    await store.close()
    expect(backupStore({ folder }, file)).toContainEqual({ garden: GARDEN, lastSeq: 3 })

    const note = join(temporary(), "note.txt")
    writeFileSync(note, "beans in row 3")
    expect(() => backupStore({ folder }, note)).toThrow(/is no backup of Ryebell: nothing was changed/)
    expect(readFileSync(note, "utf8")).toBe("beans in row 3")
    expect(() => backupStore({ folder }, join(folder, DATABASE))).toThrow(/is the running database itself/)
    expect(() => backupStore({ folder }, temporary())).toThrow(/is no file/)
  })

  it("says what is missing where there is nothing to copy, or nowhere to put it", async () => {
    expect(() => backupStore({ folder: temporary() }, join(temporary(), "x.db"))).toThrow(/nothing to back up/)
    const folder = await used()
    expect(() => backupStore({ folder }, join(temporary(), "missing", "x.db"))).toThrow(/There is no folder/)
  })

  it("is not made of a damaged database: the old backup stays, and no part is left", async () => {
    const folder = await used()
    const to = temporary()
    const file = join(to, "backup.db")
    backupStore({ folder }, file)
    const before = readFileSync(file)
    const database = readFileSync(join(folder, DATABASE))
    database.write("tvo", database.indexOf('"two"') + 1)
    writeFileSync(join(folder, DATABASE), database)
    expect(() => backupStore({ folder }, file)).toThrow(/entry 2 of garden long-acre is not what was written/)
    expect(readFileSync(file).equals(before)).toBe(true)
    expect(readdirSync(to)).toEqual(["backup.db"])
  })
})

describe("a restore", () => {
  it("opens in hold, saying from what and when (S10)", async () => {
    const folder = await used()
    const file = join(temporary(), "backup.db")
    backupStore({ folder }, file)
    const before = readFileSync(file)
    const target = join(temporary(), "new", "data")
    expect(restoreStore({ folder: target }, file, WHEN)).toContainEqual({ garden: GARDEN, lastSeq: 2 })
    expect(readFileSync(file).equals(before)).toBe(true)
    const store = await openStore({ folder: target })
    expect(store.isNew).toBe(false)
    expect(await store.recall("hold")).toBe(`restored on ${WHEN} from ${file}`)
    await store.close()
  })

  it("takes a plain copy of a data folder too, with the log beside it", async () => {
    const folder = await used()
    const store = await openStore({ folder })
    await store.append([reply("only in the log beside it")])
    const copy = temporary()
    for (const name of [DATABASE, `${DATABASE}-wal`]) copyFileSync(join(folder, name), join(copy, name))
    await store.close()
    const target = join(temporary(), "data")
    expect(restoreStore({ folder: target }, join(copy, DATABASE), WHEN)).toContainEqual({ garden: GARDEN, lastSeq: 3 })
  })

  describe("refuses, and changes nothing (S9)", () => {
    it("while a bot runs on the folder", async () => {
      const folder = await used()
      const file = join(temporary(), "backup.db")
      backupStore({ folder }, file)
      const target = temporary()
      const store = await openStore({ folder: target })
      await store.append([reply("new life")])
      expect(() => restoreStore({ folder: target }, file, WHEN)).toThrow(/is there already/)
      expect(await store.entries(GARDEN)).toHaveLength(1)
      await store.close()
    })

    it("while a bot is just starting there: the lock is held and no data are there yet", async () => {
      const folder = await used()
      const file = join(temporary(), "backup.db")
      backupStore({ folder }, file)
      const target = temporary()
      const lock = new DatabaseSync(join(target, "ryebell.lock"))
      lock.exec("begin exclusive")
      expect(() => restoreStore({ folder: target }, file, WHEN)).toThrow(/already runs on/)
      lock.close()
      expect(existsSync(join(target, DATABASE))).toBe(false)
    })

    it.each([DATABASE, `${DATABASE}-wal`])("onto a folder in which there is %s", async (name) => {
      const folder = await used()
      const file = join(temporary(), "backup.db")
      backupStore({ folder }, file)
      const target = temporary()
      writeFileSync(join(target, name), "")
      const before = bytes(target)
      expect(() => restoreStore({ folder: target }, file, WHEN)).toThrow(/overwrites nothing/)
      expect(bytes(target)).toEqual(before)
    })

    it("what is no backup: a text, a missing file, a folder, an empty file, another program's database, a newer one", async () => {
      const from = temporary()
      const at = (name: string) => join(from, name)
      writeFileSync(at("text"), "beans in row 3\n".repeat(200))
      writeFileSync(at("empty"), "")
      mkdirSync(at("folder"))
      const other = new DatabaseSync(at("other"))
      other.exec("create table recipes (x)")
      other.close()
      backupStore({ folder: await used() }, at("newer"))
      const newer = new DatabaseSync(at("newer"))
      newer.exec("pragma user_version = 99")
      newer.close()
      for (const name of ["text", "missing", "folder", "empty", "other", "newer"]) {
        const target = join(temporary(), "data")
        const before = name === "missing" || name === "folder" ? null : readFileSync(at(name))
        expect(() => restoreStore({ folder: target }, at(name), WHEN), name).toThrow(
          /no backup|damaged|another program|version 99/,
        )
        expect(existsSync(join(target, DATABASE)), name).toBe(false)
        if (before) expect(readFileSync(at(name)).equals(before), name).toBe(true)
      }
    })

    it("a backup that was damaged since it was made", async () => {
      const file = join(temporary(), "backup.db")
      backupStore({ folder: await used() }, file)
      const content = readFileSync(file)
      content.write("tvo", content.indexOf('"two"') + 1)
      writeFileSync(file, content)
      const target = join(temporary(), "data")
      expect(() => restoreStore({ folder: target }, file, WHEN)).toThrow(StoreTrouble)
      expect(readdirSync(target).filter((name) => name.startsWith(DATABASE))).toEqual([])
    })
  })

  it("leaves a backup that may not be changed as it is", async () => {
    const file = join(temporary(), "backup.db")
    backupStore({ folder: await used() }, file)
    chmodSync(file, 0o400)
    const target = join(temporary(), "data")
    restoreStore({ folder: target }, file, WHEN)
    expect(statSync(join(target, DATABASE)).mode & 0o777).toBe(0o600)
    expect(statSync(file).mode & 0o777).toBe(0o400)
  })
})
