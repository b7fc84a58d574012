import { mkdirSync, readFileSync, writeFileSync } from "node:fs"
import { join } from "node:path"
import { DatabaseSync } from "node:sqlite"
import { describe, expect, it } from "vitest"
import { readPhoto } from "../../src/channels/photos.ts"
import { DATABASE, knownSteps, openStore } from "../../src/store/open.ts"
import { temporaryFolders } from "./folders.ts"
import { incoming, LEASE, START } from "./samples.ts"
import { upgradeKilledAt } from "./upgrade-killed.ts"

/** The database of the first whole store, and what its own verbs said was in it (`fixtures/store/`). */
const FIXTURES = new URL("../fixtures/store/", import.meta.url)
const SQL = readFileSync(new URL("version-1.sql", FIXTURES), "utf8")
const SAID = JSON.parse(readFileSync(new URL("version-1.json", FIXTURES), "utf8")) as {
  entries: Record<string, unknown[]>
  outgoing: Record<string, unknown>
  memory: Record<string, string>
  depth: unknown
}
const PHOTO = "MM9-0.jpg"
/** A JPEG's first bytes are enough to be told for one. */
const PIXELS = new Uint8Array([0xff, 0xd8, 0xff, 0xe0, 0, 16, 0x4a, 0x46, 0x49, 0x46])
const temporary = temporaryFolders()

function firstFolder(): string {
  const folder = temporary()
  const db = new DatabaseSync(join(folder, DATABASE))
  db.exec(SQL)
  db.close()
  mkdirSync(join(folder, "photos"))
  writeFileSync(join(folder, "photos", PHOTO), PIXELS)
  return folder
}

type Rows = { table: string; columns: string; rows: unknown[] }[]

/** Every row of every table of the first store, column by column; of `memory` all but the sum of the schema. */
function rowsIn(folder: string, like?: Rows): Rows {
  const db = new DatabaseSync(join(folder, DATABASE), { readOnly: true })
  const named = () =>
    db
      .prepare("select name as 'table' from sqlite_schema where type = 'table' order by name")
      .all()
      .map(({ table }) => ({
        table: String(table),
        columns: db
          .prepare(`select name from pragma_table_info('${table}')`)
          .all()
          .map(({ name }) => name)
          .join(", "),
      }))
  const rows = (like ?? named()).map(({ table, columns }) => ({
    table,
    columns,
    rows: db
      .prepare(
        `select ${columns} from ${table} ${table === "memory" ? "where name <> 'schema_sum'" : ""} order by 1, 2`,
      )
      .all()
      .map((row) => ({ ...row })),
  }))
  db.close()
  return rows
}

describe("a data folder of the first whole store, opened by the program of today", () => {
  it("is several versions behind", () => {
    expect(SQL).toContain("pragma user_version = 1;")
    expect(knownSteps().length).toBeGreaterThan(1)
  })

  it("has every entry, message, reminder, address and picture, equal to what went in", async () => {
    const folder = firstFolder()
    const before = rowsIn(folder)
    expect(before.map(({ table, rows }) => [table, rows.length])).toEqual([
      ["entry", 5],
      ["incoming", 4],
      ["memory", 2],
      ["outgoing", 4],
      ["reminder", 2],
      ["turn", 0],
    ])
    const store = await openStore({ folder })
    for (const [garden, entries] of Object.entries(SAID.entries)) expect(await store.entries(garden)).toEqual(entries)
    for (const [key, message] of Object.entries(SAID.outgoing))
      expect(await store.outgoing(key)).toMatchObject(message as object)
    for (const [name, value] of Object.entries(SAID.memory)) expect(await store.recall(name)).toBe(value)
    expect(await store.depth()).toEqual(SAID.depth)
    await store.close()
    expect(rowsIn(folder, before)).toEqual(before)
    expect(readPhoto(join(folder, "photos"), PHOTO)?.bytes).toEqual(PIXELS)
  })

  it("goes on with what was under way: replies that wait are applied in order, known ones are known", async () => {
    const store = await openStore({ folder: firstFolder() })
    expect(await store.keepIncoming(incoming("SM1"))).toBe("repeat")
    const waiting = []
    for (let i = 0; i < 3; i += 1) waiting.push(await store.claimIncoming(START, LEASE))
    expect(waiting.map((each) => [each?.id, each?.from, each?.text])).toEqual([
      ["MM9", "+17175550142", "bloom south"],
      ["SM3", "+17175550142", "next"],
      ["mail:a1", "ines@example.org", "patchy north"],
    ])
    expect(waiting[0]?.media).toEqual([{ url: `photos/${PHOTO}`, type: "image/jpeg" }])
    await store.close()
  })

  it.each(
    knownSteps()
      .slice(1)
      .map((step) => step.version),
  )(
    "is as it was where the upgrade is killed behind step %i, and whole after the next start (S11)",
    async (version) => {
      const folder = firstFolder()
      const before = rowsIn(folder)
      const steps = knownSteps().map((step) => ({ ...step, sql: `${step.sql}\nselect die(${step.version});` }))
      await upgradeKilledAt(join(folder, DATABASE), 1, steps, version)
      expect(rowsIn(folder)).toEqual(before)
      const store = await openStore({ folder })
      for (const [garden, entries] of Object.entries(SAID.entries)) expect(await store.entries(garden)).toEqual(entries)
      await store.close()
      expect(rowsIn(folder, before)).toEqual(before)
    },
  )
})
