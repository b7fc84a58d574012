import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs"
import { tmpdir } from "node:os"
import { join } from "node:path"
import { fileURLToPath } from "node:url"
import { afterEach, beforeEach, describe, expect, it } from "vitest"
import { check, PARTS } from "../../src/cli/check.ts"
import type { World } from "../../src/cli/command.ts"
import type { Entry } from "../../src/garden/entry.ts"
import { readSettings } from "../../src/settings.ts"
import { CouldNot, type Problem, WrongInput } from "../../src/values/problem.ts"
import { at, handbook } from "../given.ts"

const root = new URL("../../", import.meta.url)
const path = (name: string) => fileURLToPath(new URL(name, root))

function worldWith(garden: string, entries: () => Promise<Entry[]> = async () => [], env: Record<string, string> = {}) {
  const out: string[] = []
  const err: string[] = []
  const world = {
    handbook,
    settings: readSettings({ RYEBELL_GARDEN: garden, ...env }),
    clock: { now: () => at("2026-05-10 08:00") },
    out: (text: string) => out.push(text),
    err: (text: string) => err.push(text),
    read: async (file: string) => readFileSync(file, "utf8"),
    storedEntries: entries,
  } as unknown as World
  return { world, out, err }
}

async function run(garden: string, ...args: string[]) {
  const { world, out, err } = worldWith(garden)
  expect(await check.run(args, world)).toBe(0)
  return { text: out.join("\n"), err }
}

describe("check", () => {
  it("shows the garden that is set as it is understood", async () => {
    const { text, err } = await run(path("config/garden.yaml"))
    expect(err).toEqual([])
    for (const words of [
      "Long Acre (garden)",
      "40.04 N, 76.31 W; America/New_York; us units, dates month-first",
      "York, PA (york-pa), as the file says",
      "last 05-04, first 10-12 (MM-DD), as the file says",
      "Ines (ines): texts to +17175550142, 08:00 to 19:30, at most 2 a day",
      "Walt (walt): mails to walt@example.org, 07:00 to 20:00, at most 1 a day",
      "weekly mail: saturday 07:30",
      "South bed (south, also long one): raised, 32 sq ft",
      "sown 2025-09-20: hairy vetch 40% + winter rye 60%; then leave; next tomato, wanted 2026-05-25",
      "planned 2026-06-18: buckwheat",
    ])
      expect(text).toContain(words)
  })

  it("says which stations a climate is made of, and takes frosts from it, where the file names none", async () => {
    const { text } = await run("unused", path("config/examples/one-bed.yaml"))
    expect(text).toMatch(/Climate {2}Ithaca.*NY, \d+ km/)
    expect(text).toMatch(/Frosts {3}last 05-\d\d, first (09|10)-\d\d \(MM-DD\), from the normals/)
  })

  it("checks every garden of a folder", async () => {
    const { text } = await run(path("config/examples"))
    for (const name of ["Windbreak", "Hinterm Haus", "One bed"]) expect(text).toContain(name)
  })

  // The legal time of New York: UTC-5 in January, UTC-4 in July (from memory).
  it("shows the run-time, the version of its zone data, and two probes of it (failures T7, O15)", async () => {
    const { text } = await run(path("config/garden.yaml"))
    expect(text).toContain(`Node ${process.versions.node}`)
    expect(text).toContain(`zone data ${process.versions.tz}`)
    expect(text).toContain("probe: 2026-01-15T12:00:00Z is 2026-01-15T07:00:00-05:00")
    expect(text).toContain("probe: 2026-07-15T12:00:00Z is 2026-07-15T08:00:00-04:00")
  })

  it("has a part for each thing that is switched on, each with its own title", () => {
    expect(PARTS.length).toBeGreaterThanOrEqual(6)
    expect(new Set(PARTS.map((part) => part.title)).size).toBe(PARTS.length)
  })

  it("names log entries that belong to nothing in the file any more, and goes on where the log cannot be read", async () => {
    const entry = {
      seq: 7,
      at: at("2026-05-01 09:00"),
      garden: "garden",
      by: "ines",
      via: "terminal",
      kind: "reply",
      text: "cut the east bed",
      acts: [{ act: "cut", bed: "east", species: [], then: null, on: "2026-05-01" }],
      note: false,
    } as unknown as Entry
    const stray = worldWith(path("config/garden.yaml"), async () => [entry])
    await check.run([], stray.world)
    expect(stray.out.join("\n")).toMatch(/NOTE: entry 7 of the log is about east.*not in the file/)
    const locked = worldWith(path("config/garden.yaml"), async () => {
      throw new CouldNot("It is locked.")
    })
    expect(await check.run([], locked.world)).toBe(0)
    expect(locked.out.join("\n")).toContain("the log could not be read: It is locked.")
  })
})

describe("check of a file with something wrong", () => {
  let folder: string
  beforeEach(() => {
    folder = mkdtempSync(join(tmpdir(), "ryebell-check-"))
  })
  afterEach(() => rmSync(folder, { recursive: true }))

  const problemsOf = async (...args: string[]): Promise<readonly Problem[]> => {
    const { world, out } = worldWith("unused")
    const error = await check.run(args, world).catch((caught: unknown) => caught)
    expect(error).toBeInstanceOf(WrongInput)
    expect(out).toEqual([])
    return (error as WrongInput).problems
  }

  it("is wrong input with every problem, of every file of a folder", async () => {
    const broken = path("test/fixtures/gardens/broken/two-people-one-phone.yaml")
    const codes = (await problemsOf(broken)).map((problem) => problem.code)
    expect(codes).toEqual(["same-phone", "same-mail", "same-id"])
    writeFileSync(join(folder, "a.yaml"), readFileSync(broken))
    writeFileSync(join(folder, "b.yaml"), "beds: []")
    const files = new Set((await problemsOf(folder)).map((problem) => problem.place?.file))
    expect(files).toEqual(new Set([join(folder, "a.yaml"), join(folder, "b.yaml")]))
  })

  it("says warnings and goes on, and notes days that contradict the calendar", async () => {
    const text = readFileSync(path("config/examples/one-bed.yaml"), "utf8")
    const file = join(folder, "g.yaml")
    writeFileSync(
      file,
      text
        .replace("America/New_York", "EST")
        .replace("sown: 2025-09-14", "sown: 2026-09-14")
        .replace("wanted: 2026-06-01 }", "wanted: 2027-06-01 }\n      - planned: 2025-03-01\n        species: [oats]"),
    )
    const { text: shown, err } = await run("unused", file)
    expect(err.join("\n")).toMatch(/note: .*EST.*Did you mean America\/New_York/)
    expect(shown).toMatch(/sown 2026-09-14.*NOTE: this day is still to come/)
    expect(shown).toMatch(/planned 2025-03-01.*NOTE: planned, and long past/)
  })
})
