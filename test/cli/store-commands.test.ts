import { existsSync } from "node:fs"
import { join } from "node:path"
import { describe, expect, it } from "vitest"
import { backup } from "../../src/cli/backup.ts"
import type { World } from "../../src/cli/command.ts"
import { log } from "../../src/cli/log.ts"
import { restore } from "../../src/cli/restore.ts"
import type { NewEntry } from "../../src/garden/entry.ts"
import { readLogLines } from "../../src/garden/read-log.ts"
import { openStore } from "../../src/store/open.ts"
import { day } from "../../src/values/day.ts"
import { CouldNot, WrongInput } from "../../src/values/problem.ts"
import { temporaryFolders } from "../store/folders.ts"
import { GARDEN, nudge, reply, START, sent } from "../store/samples.ts"

const temporary = temporaryFolders()

function worldOf(data: string): { world: World; out: string[]; err: string[] } {
  const out: string[] = []
  const err: string[] = []
  const world = {
    settings: { data, databaseUrl: null },
    clock: { now: () => START },
    out: (text: string) => void out.push(text),
    err: (text: string) => void err.push(text),
    gardenFile: async () => {
      throw new CouldNot("no garden file")
    },
  } as unknown as World
  return { world, out, err }
}

const said = (text: string, acts: unknown[] = []): NewEntry => ({ ...reply(text), acts }) as NewEntry
const SOIL = { act: "measure", bed: "south", what: "soil_c", value: -9.5, on: day("2026-05-12") }

async function folderWith(...entries: NewEntry[]): Promise<string> {
  const folder = temporary()
  const store = await openStore({ folder })
  await store.append(entries)
  await store.close()
  return folder
}

/** A reader of CSV by RFC 4180, written for these tests: quotes doubled within quotes, CRLF between rows. */
function readCsv(text: string): string[][] {
  const table: string[][] = [[]]
  const cell = /(?:"((?:[^"]|"")*)"|([^",\r\n]*))(,|\r\n|$)/y
  while (cell.lastIndex < text.length) {
    const [, quoted, plain, end] = cell.exec(text) ?? []
    if (end === undefined) throw new Error(`no CSV at ${cell.lastIndex}: ${text}`)
    table.at(-1)?.push(quoted === undefined ? (plain ?? "") : quoted.replaceAll('""', '"'))
    if (end === "\r\n") table.push([])
  }
  return table.filter((row) => row.length > 0)
}

describe("log", () => {
  it("prints JSON Lines that give the same entries again, while the store is being written", async () => {
    const folder = await folderWith(said("cut \u{1F33E}\nthe bed"), sent("two"), said("plot"))
    const store = await openStore({ folder })
    await store.append([{ ...said("other"), garden: "allotment" } as NewEntry, said("four")])
    const { world, out } = worldOf(folder)
    expect(await log.run(["--json"], world)).toBe(0)
    const read = readLogLines(out.map((line) => `${line}\n`).join(""), "log.jsonl")
    expect(read.entries).toEqual([...(await store.entries("allotment")), ...(await store.entries(GARDEN))])
    await store.close()
  })

  it("shows behind each text what the carrier last said of it", async () => {
    const folder = temporary()
    const store = await openStore({ folder })
    await store.queue([nudge("first"), nudge("second"), nudge("answer:SM1", { kind: "answer", told: [] })])
    await store.append([
      { ...sent("one"), message: "first" } as NewEntry,
      { ...sent("two"), message: "second" } as NewEntry,
      {
        at: START,
        garden: GARDEN,
        by: "ryebell",
        via: "sms",
        kind: "answer",
        to: "ines",
        text: "Noted.",
        message: "answer:SM1",
      },
    ])
    await store.recordFate("first", "delivered", null)
    await store.recordFate("answer:SM1", "undelivered", "30003")
    await store.close()
    const { world, out } = worldOf(folder)
    await log.run([], world)
    expect(out.at(-3)).toMatch(/told ines: one {2}\[delivered\]$/)
    expect(out.at(-2)).toMatch(/told ines: two$/)
    expect(out.at(-1)).toMatch(/to ines: Noted\. {2}\[undelivered\]$/)
  })

  it("shows a person one line for each entry, without line breaks or control characters", async () => {
    const { world, out } = worldOf(await folderWith(said("soil \u001b[2Jis\ncold", [SOIL]), sent("1 Cut South bed")))
    expect(await log.run([], world)).toBe(0)
    expect(out).toEqual([
      "long-acre, times of UTC",
      '    1  2026-05-13 12:00  ines     sms      "soil [2Jis cold"  [measure south soil_c -9.5 2026-05-12]',
      "    2  2026-05-13 12:00  ryebell  sms      told ines: 1 Cut South bed",
    ])
  })

  it("keeps to one bed where asked, and names the nearest where there is no such bed", async () => {
    const north = { act: "watered", bed: "north", on: day("2026-05-13") }
    const folder = await folderWith(said("one", [SOIL]), said("two", [north]), said("three"), sent("four"))
    const { world, out } = worldOf(folder)
    expect(await log.run(["--bed", "south", "--json"], world)).toBe(0)
    expect(out.map((line) => JSON.parse(line).seq)).toEqual([1, 4])
    await expect(log.run(["--bed", "sout"], world)).rejects.toThrow(/Did you mean south\?/)
    await expect(log.run(["--json", "--csv"], world)).rejects.toThrow(WrongInput)
  })

  it("says on standard error that there is nothing, and makes nothing", async () => {
    const folder = join(temporary(), "data")
    const { world, out, err } = worldOf(folder)
    expect(await log.run([], world)).toBe(0)
    expect(await log.run(["--json"], world)).toBe(0)
    expect(out).toEqual([])
    expect(err.join()).toContain("nothing to show")
    expect(existsSync(folder)).toBe(false)
  })

  // Payloads: OWASP's page on CSV injection (first characters, full-width forms, after a separator), from memory.
  const PAYLOADS = [
    '=HYPERLINK("http://example.org","x")',
    "+1+1",
    "-1+1",
    "@SUM(1)",
    "\t=1",
    "\r=1",
    "\n=1",
    "\uff1d1+1",
    "\uff0b1",
    "\uff0d1",
    "\uff20x",
    " =1",
    "beans,=1+1",
    "beans;=1+1",
    'beans";=1+1',
    "beans\n=1+1",
    "beans\t@x",
  ]
  it("--csv gives a spreadsheet no formula in any cell, and leaves numbers numbers (X12)", async () => {
    const { world, out } = worldOf(await folderWith(...PAYLOADS.map((text) => said(text, [SOIL]))))
    expect(await log.run(["--csv"], world)).toBe(0)
    const [columns, ...rows] = readCsv(`${out.join("\n")}\n`)
    const column = (row: string[], name: string) => row[columns?.indexOf(name) ?? -1] ?? "missing"
    expect(rows).toHaveLength(PAYLOADS.length)
    for (const [i, row] of rows.entries()) {
      expect(row).toHaveLength(columns?.length ?? 0)
      const text = column(row, "text")
      // Wherever a cell could begin for any program: at its start, or behind a separator or quote inside it.
      for (const part of text.split(/[,;\t\r\n"]/))
        expect(part.trimStart(), text).not.toMatch(/^[=+\-@\uff0b\uff0d\uff1d\uff20]/)
      expect(text.replaceAll("'", "")).toBe(PAYLOADS[i])
      expect(column(row, "value")).toBe("-9.5")
      expect(column(row, "seq")).toBe(String(i + 1))
    }
    for (const line of out.join("\n").split("\r\n").slice(0, -1)) expect(line).not.toMatch(/^[=+\-@]/)
  })

  it("--csv has a row for each act, and one for an entry without any", async () => {
    const cut = { act: "cut", bed: "north", species: [], then: "leave", on: day("2026-05-13") }
    const { world, out } = worldOf(await folderWith(said("both", [SOIL, cut]), said("a fine day")))
    await log.run(["--csv"], world)
    const [columns, ...rows] = readCsv(`${out.join("\n")}\n`)
    const at = ["seq", "bed", "act", "what", "value", "on", "text"].map((name) => columns?.indexOf(name) ?? -1)
    expect(rows.map((row) => at.map((i) => row[i]))).toEqual([
      ["1", "south", "measure", "soil_c", "-9.5", "2026-05-12", "both"],
      ["1", "north", "cut", "", "", "2026-05-13", "both"],
      ["2", "", "", "", "", "", "a fine day"],
    ])
  })
})

describe("backup and restore", () => {
  it("go there and back, each with a sentence on what is in the file", async () => {
    const folder = await folderWith(said("one"), said("two"))
    const file = join(temporary(), "monday.db")
    const there = worldOf(folder)
    expect(await backup.run([file], there.world)).toBe(0)
    expect(there.out).toEqual([`${file} is whole: the log of long-acre up to entry 2.`])
    const target = join(temporary(), "data")
    const back = worldOf(target)
    expect(await restore.run([file], back.world)).toBe(0)
    expect(back.out).toEqual([`${target} holds the log of long-acre up to entry 2.`])
    expect(back.err.join()).toMatch(/start in hold/)
    await expect(restore.run([file], back.world)).rejects.toThrow(CouldNot)
    const { world, out } = worldOf(target)
    await log.run(["--json"], world)
    expect(out).toHaveLength(2)
  })

  it("want exactly one file", async () => {
    const { world } = worldOf(temporary())
    await expect(backup.run([], world)).rejects.toThrow(WrongInput)
    await expect(restore.run(["a", "b"], world)).rejects.toThrow(WrongInput)
    await expect(backup.run(["--fast", "a"], world)).rejects.toThrow(WrongInput)
  })
})
