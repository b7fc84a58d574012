import { copyFileSync, readFileSync, writeFileSync } from "node:fs"
import { join } from "node:path"
import { DatabaseSync } from "node:sqlite"
import { describe, expect, it } from "vitest"
import { DATABASE, openStore } from "../../src/store/open.ts"
import { openReadOnly } from "../../src/store/read-only.ts"
import { filled, flipAndOpen } from "./flips.ts"
import { temporaryFolders } from "./folders.ts"
import { GARDEN } from "./samples.ts"

const temporary = temporaryFolders()

describe("a damaged database (S13)", () => {
  it("is found at the start or holds every word, wherever a byte is flipped: nothing wrong is ever given out", async () => {
    const found = await flipAndOpen(temporary(), 60, 13)
    expect(found).toBeGreaterThan(20)
  })

  it("tells how to restore, and is found by a reader too", async () => {
    const folder = await filled(temporary())
    const file = join(folder, DATABASE)
    const bytes = readFileSync(file)
    const at = bytes.indexOf("cut the south bed, no. 33")
    bytes.write("cut the north bed, no. 33", at)
    writeFileSync(file, bytes)
    await expect(openStore({ folder })).rejects.toThrow(
      /is damaged \(entry 34 of garden long-acre is not what was written\).*ryebell restore FILE/,
    )
    const reader = await openReadOnly({ folder })
    await expect(reader?.entries(GARDEN)).rejects.toThrow(/entry 34 of garden long-acre is not what was written/)
    expect(await reader?.entries(GARDEN, 34)).toHaveLength(26)
    await reader?.close()
  })

  it("is found where it was cut off at any length", async () => {
    const folder = await filled(temporary())
    const file = join(folder, DATABASE)
    const whole = readFileSync(file)
    for (const part of [0.01, 0.3, 0.6, 0.9, 0.999]) {
      writeFileSync(file, whole.subarray(0, Math.floor(whole.length * part)))
      await expect(openStore({ folder }), `${part}`).rejects.toMatchObject({ code: "damaged" })
    }
  })

  it("is not mistaken for a sound one where rows of the log are missing", async () => {
    const folder = await filled(temporary())
    const file = join(folder, DATABASE)
    const db = new DatabaseSync(file)
    const trigger = db.prepare("select sql from sqlite_schema where name = 'entry_is_never_deleted'").get()?.sql
    db.exec(`drop trigger entry_is_never_deleted; delete from entry where seq = 20; ${trigger}`)
    db.close()
    await expect(openStore({ folder })).rejects.toThrow(/entry 20 of garden long-acre is missing/)
  })

  it("is found where a trigger that guards the log is gone", async () => {
    const folder = await filled(temporary())
    const db = new DatabaseSync(join(folder, DATABASE))
    db.exec("drop trigger entry_is_never_deleted")
    db.close()
    await expect(openStore({ folder })).rejects.toThrow(/its tables are not those that were made/)
  })
})

describe("the log, for any program that opens the file", () => {
  it.each([
    ["update entry set line = 'x' where seq = 2", /never changed/],
    ["delete from entry where seq = 2", /never deleted/],
    ["delete from entry", /never deleted/],
    ["insert or replace into entry values ('long-acre', 2, 'x', 0)", /in order, without holes/],
    ["insert into entry values ('long-acre', 62, 'x', 0)", /in order, without holes/],
    ["insert into entry values ('new-garden', 2, 'x', 0)", /in order, without holes/],
  ])("refuses: %s", async (sql, why) => {
    const folder = await filled(temporary())
    const db = new DatabaseSync(join(folder, DATABASE))
    expect(() => db.exec(sql)).toThrow(why)
    db.close()
    const copy = temporary()
    copyFileSync(join(folder, DATABASE), join(copy, DATABASE))
    const store = await openStore({ folder: copy })
    expect(await store.entries(GARDEN)).toHaveLength(60)
    await store.close()
  })
})
