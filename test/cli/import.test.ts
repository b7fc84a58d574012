import { mkdirSync, readdirSync, readFileSync, writeFileSync } from "node:fs"
import { join } from "node:path"
import { describe, expect, it } from "vitest"
import type { World } from "../../src/cli/command.ts"
import { exportAll } from "../../src/cli/export.ts"
import { importGardens } from "../../src/cli/import.ts"
import { openStore } from "../../src/store/open.ts"
import { CouldNot, WrongInput } from "../../src/values/problem.ts"
import { handbook } from "../given.ts"
import { temporaryFolders } from "../store/folders.ts"
import { GARDEN, reply, sent } from "../store/samples.ts"

const temporary = temporaryFolders()
const PLOT = `# kept as it was written
garden: Sam's garden
place: { latitude: 40.04, longitude: -76.31, zone: America/New_York }
people:
  - { id: keeper, name: Sam, phone: "+17175550150" }
beds:
  - { id: long, size: 4 x 8 ft }   # with its comment
`

function worldOf(data: string): { world: World; out: string[] } {
  const out: string[] = []
  const world = {
    settings: { data, databaseUrl: null, garden: join(data, "none.yaml") },
    handbook,
    out: (text: string) => void out.push(text),
    err: () => {},
  } as unknown as World
  return { world, out }
}

const filesIn = (folder: string) =>
  Object.fromEntries(
    readdirSync(folder)
      .sort()
      .map((name) => [name, readFileSync(join(folder, name), "utf8")]),
  )

async function aDatabase(): Promise<string> {
  const data = temporary()
  const store = await openStore({ folder: data })
  await store.keepGarden({ id: "acre-1", host: "acre", text: PLOT }, null)
  await store.append([
    reply("one \u{1F33E}"),
    sent("two"),
    ...Array.from({ length: 1200 }, (_, i) => reply(`text ${i}`, "acre-1")),
  ])
  await store.close()
  return data
}

async function exported(data: string): Promise<string> {
  const folder = join(temporary(), "out")
  await exportAll.run(["--gardens", folder], worldOf(data).world)
  return folder
}

describe("gardens out of one database into another", () => {
  it("lose nothing: what is written out again is the same to the byte", async () => {
    const first = await exported(await aDatabase())
    const data = temporary()
    const { world, out } = worldOf(data)
    expect(await importGardens.run([first], world)).toBe(0)
    expect(out.at(-1)).toMatch(/^1 of 1 gardens and 1202 log entries/)
    expect(filesIn(await exported(data))).toEqual(filesIn(first))
    expect(filesIn(first)["acre-1.yaml"]).toBe(PLOT)
  })

  it("are taken once however often, and a broken-off import goes on", async () => {
    const first = await exported(await aDatabase())
    const data = temporary()
    const store = await openStore({ folder: data })
    await store.append([reply("text 0", "acre-1"), reply("text 1", "acre-1")])
    await store.close()
    const { world, out } = worldOf(data)
    await importGardens.run([first], world)
    await importGardens.run([first], world)
    expect(out.at(-1)).toMatch(/^0 of 1 gardens and 0 log entries/)
    expect(filesIn(await exported(data))).toEqual(filesIn(first))
  })

  it("take the place of nothing: another text, or a log that goes another way, stops all", async () => {
    const first = await exported(await aDatabase())
    const data = temporary()
    const store = await openStore({ folder: data })
    await store.append([reply("something else")])
    await store.keepGarden({ id: "acre-1", host: null, text: `${PLOT}# mine\n` }, null)
    await store.close()
    const before = filesIn(await exported(data))
    const run = importGardens.run([first], worldOf(data).world)
    await expect(run).rejects.toThrow(/acre-1 is kept already.*log of .* goes another way/)
    expect(filesIn(await exported(data))).toEqual(before)
  })

  it("are refused whole where one file is wrong, each problem with its line", async () => {
    const folder = temporary()
    writeFileSync(join(folder, "good.yaml"), PLOT)
    writeFileSync(join(folder, "bad.yaml"), PLOT.replace("4 x 8 ft", "large"))
    writeFileSync(
      join(folder, `${GARDEN}.log.jsonl`),
      '{"seq":2,"at":"2026-05-01T00:00:00Z","garden":"x","by":"i","via":"sms","kind":"reply","text":"a","acts":[]}\n',
    )
    const data = temporary()
    await expect(importGardens.run([folder], worldOf(data).world)).rejects.toThrow(WrongInput)
    const empty = join(temporary(), "empty")
    mkdirSync(empty)
    await expect(importGardens.run([empty], worldOf(data).world)).rejects.toThrow(CouldNot)
  })

  it("do not write over files that are there", async () => {
    const data = await aDatabase()
    const folder = await exported(data)
    await expect(exportAll.run(["--gardens", folder], worldOf(data).world)).rejects.toThrow(/is there already/)
  })
})
