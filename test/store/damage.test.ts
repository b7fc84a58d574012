import { copyFileSync, readFileSync, writeFileSync } from "node:fs"
import { join } from "node:path"
import { DatabaseSync } from "node:sqlite"
import { describe, expect, it } from "vitest"
import type { Store } from "../../src/bot/needs.ts"
import { DATABASE, openStore } from "../../src/store/open.ts"
import { openReadOnly } from "../../src/store/read-only.ts"
import { StoreTrouble } from "../../src/store/trouble.ts"
import { temporaryFolders } from "./folders.ts"
import { seeded } from "./kills.ts"
import { GARDEN, incoming, LEASE, nudge, plus, reply, START } from "./samples.ts"

const temporary = temporaryFolders()

const NUMBERS = Array.from({ length: 60 }, (_, i) => i)
let template: Buffer | null = null

/** A folder with sixty of everything. */
async function filled(): Promise<string> {
  const folder = temporary()
  if (template === null) {
    const store = await openStore({ folder })
    await store.append(NUMBERS.map((i) => reply(`cut the south bed, no. ${i}`)))
    await store.queue(NUMBERS.map((i) => nudge(`k${i}`)))
    for (const i of NUMBERS) await store.keepIncoming(incoming(`SM${i}`))
    await store.placeReminders(
      GARDEN,
      NUMBERS.map((i) => ({ id: `r${i}`, person: "ines", speaksAt: plus(i) })),
    )
    await store.close()
    template = readFileSync(join(folder, DATABASE))
  }
  writeFileSync(join(folder, DATABASE), template)
  return folder
}

/** All words that the store holds, as it gives them out. */
async function words(store: Store): Promise<unknown> {
  const outgoing = []
  for (const i of NUMBERS) outgoing.push((await store.outgoing(`k${i}`))?.text)
  const kept = []
  for (let one = await store.claimIncoming(START, LEASE); one; one = await store.claimIncoming(START, LEASE))
    kept.push(one.text)
  return { entries: await store.entries(GARDEN), outgoing, kept }
}

async function opened(folder: string): Promise<unknown> {
  const store = await openStore({ folder })
  try {
    return await words(store)
  } finally {
    await store.close()
  }
}

describe("a damaged database (S13)", () => {
  it("is found at the start or holds every word, wherever a byte is flipped: nothing wrong is ever given out", async () => {
    const folder = await filled()
    const file = join(folder, DATABASE)
    const whole = readFileSync(file)
    const expected = await opened(folder)
    const random = seeded(13)
    let found = 0
    for (let i = 0; i < 120; i += 1) {
      const bytes = Buffer.from(whole)
      const at = Math.floor(random() * bytes.length)
      bytes[at] = (bytes[at] ?? 0) ^ (1 << Math.floor(random() * 8))
      writeFileSync(file, bytes)
      try {
        expect(await opened(folder), `byte ${at}`).toEqual(expected)
      } catch (error) {
        if (!(error instanceof StoreTrouble)) throw error
        found += 1
        expect(["damaged", "foreign", "newer"], `byte ${at}: ${error.message}`).toContain(error.code)
        expect(readFileSync(file).equals(bytes), `byte ${at}: the damaged file was changed`).toBe(true)
      }
    }
    expect(found).toBeGreaterThan(40)
  })

  it("tells how to restore, and is found by a reader too", async () => {
    const folder = await filled()
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
    const folder = await filled()
    const file = join(folder, DATABASE)
    const whole = readFileSync(file)
    for (const part of [0.01, 0.3, 0.6, 0.9, 0.999]) {
      writeFileSync(file, whole.subarray(0, Math.floor(whole.length * part)))
      await expect(openStore({ folder }), `${part}`).rejects.toMatchObject({ code: "damaged" })
    }
  })

  it("is not mistaken for a sound one where rows of the log are missing", async () => {
    const folder = await filled()
    const file = join(folder, DATABASE)
    const db = new DatabaseSync(file)
    const trigger = db.prepare("select sql from sqlite_schema where name = 'entry_is_never_deleted'").get()?.sql
    db.exec(`drop trigger entry_is_never_deleted; delete from entry where seq = 20; ${trigger}`)
    db.close()
    await expect(openStore({ folder })).rejects.toThrow(/entry 20 of garden long-acre is missing/)
  })

  it("is found where a trigger that guards the log is gone", async () => {
    const folder = await filled()
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
    const folder = await filled()
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
