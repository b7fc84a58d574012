import {
  mkdtempSync,
  readFileSync,
  renameSync,
  rmSync,
  symlinkSync,
  truncateSync,
  unlinkSync,
  writeFileSync,
} from "node:fs"
import { tmpdir } from "node:os"
import { join } from "node:path"
import { setTimeout as sleep } from "node:timers/promises"
import { afterEach, beforeEach, describe, expect, it } from "vitest"
import { whoSent } from "../../src/bot/who.ts"
import { type OpenShelf, openGardenShelf, type ShelfOptions } from "../../src/files/garden-shelf.ts"
import { openHandbook } from "../../src/handbook/open.ts"
import { CouldNot, type Problem, WrongInput } from "../../src/values/problem.ts"

const handbook = openHandbook(new URL("../../shared/", import.meta.url))
const source = readFileSync(new URL("../../config/garden.yaml", import.meta.url), "utf8")
const STILL_MS = 15

let folder: string
let file: string
let shelf: OpenShelf | null
let broken: { file: string; problems: readonly Problem[] }[]

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "ryebell-shelf-"))
  file = join(folder, "garden.yaml")
  writeFileSync(file, source)
  shelf = null
  broken = []
})
afterEach(async () => {
  await shelf?.close()
  rmSync(folder, { recursive: true })
})

async function open(options: Partial<ShelfOptions> = {}): Promise<OpenShelf> {
  shelf = await openGardenShelf({
    path: file,
    handbook,
    onBroken: (name, problems) => broken.push({ file: name, problems }),
    stillMs: STILL_MS,
    cutMs: 60_000,
    // Far off: these tests look by hand, save where they say otherwise.
    pollMs: 600_000,
    ...options,
  })
  return shelf
}

/** Looks until what was written has stood still and been judged. */
async function settle(): Promise<void> {
  await shelf?.look()
  await sleep(STILL_MS + 2)
  await shelf?.look()
}

const renamed = (name: string) => source.replace("garden: Long Acre", `garden: ${name}`)
const names = () => shelf?.all().map((garden) => garden.name)

describe("a garden on the shelf", () => {
  it("is read at the start, by id too", async () => {
    const opened = await open()
    expect(opened.all().map((garden) => garden.id)).toEqual(["garden"])
    expect(opened.byId("garden")?.name).toBe("Long Acre")
    expect(opened.byId("other")).toBeUndefined()
  })

  it("that is broken at the start is wrong input with all problems, and one that is not there says what to do", async () => {
    writeFileSync(file, source.replace("sown: 2025-09-20", "sown: 2025-9-20").replace("by: text", "bye: text"))
    const error = await open().catch((caught) => caught)
    expect(error).toBeInstanceOf(WrongInput)
    expect(error.problems.map((problem: Problem) => problem.code).sort()).toEqual(["not-a-day", "unknown-key"])
    unlinkSync(file)
    await expect(open()).rejects.toThrow(WrongInput)
    const empty = mkdtempSync(join(folder, "empty-"))
    await expect(open({ path: empty })).rejects.toThrow(CouldNot)
    await expect(open({ path: empty })).rejects.toThrow(/NAME\.yaml/)
  })

  it("is swapped when a good save has stood still, and the version rises", async () => {
    const opened = await open()
    const before = opened.version()
    writeFileSync(file, renamed("Second"))
    await opened.look()
    expect(names()).toEqual(["Long Acre"])
    await settle()
    expect(names()).toEqual(["Second"])
    expect(opened.version()).toBeGreaterThan(before)
    const after = opened.version()
    await settle()
    expect(opened.version()).toBe(after)
  })

  it("keeps its last good state when a save is broken, tells it once, and takes the next good save (failure C9)", async () => {
    const opened = await open()
    const before = opened.all()
    writeFileSync(file, source.replace("beds:", "bedz:"))
    await settle()
    await settle()
    await settle()
    expect(opened.all()).toEqual(before)
    expect(broken).toHaveLength(1)
    expect(broken[0]?.problems.map((problem) => problem.code)).toContain("unknown-key")
    expect(broken[0]?.problems[0]?.place?.file).toBe(file)
    writeFileSync(file, renamed("Mended"))
    await settle()
    expect(names()).toEqual(["Mended"])
    writeFileSync(file, source.replace("beds:", "bedz:"))
    await settle()
    expect(broken).toHaveLength(2)
  })

  it("is as before when a broken save is taken back, without another swap", async () => {
    const opened = await open()
    const before = opened.version()
    writeFileSync(file, "garden: [")
    await settle()
    writeFileSync(file, source)
    await settle()
    expect(names()).toEqual(["Long Acre"])
    expect(broken).toHaveLength(1)
    expect(opened.version() - before).toBeLessThanOrEqual(1)
  })

  it("is unchanged by a file cut at any place, and takes the next good save", async () => {
    const opened = await open()
    const before = JSON.stringify(opened.all())
    const version = opened.version()
    for (let place = 0; place < source.length; place += Math.ceil(source.length / 60)) {
      writeFileSync(file, source)
      truncateSync(file, place)
      await settle()
      expect(JSON.stringify(opened.all()), `cut at ${place}`).toBe(before)
    }
    expect(opened.version()).toBe(version)
    expect(broken.length).toBeGreaterThan(10)
    writeFileSync(file, renamed("After"))
    await settle()
    expect(names()).toEqual(["After"])
  })

  it("takes a save that is shorter at its end once it has stood long enough, if its last line is whole", async () => {
    const opened = await open({ cutMs: 3 * STILL_MS })
    const shorter = source.slice(0, source.indexOf("  - id: frame"))
    writeFileSync(file, shorter.trimEnd())
    for (let n = 0; n < 6; n += 1) await settle()
    expect(opened.all()[0]?.beds).toHaveLength(6)
    expect(broken.at(-1)?.problems.map((problem) => problem.code)).toEqual(["cut-off"])
    // The bed's minder names it still, so a whole file says so too.
    writeFileSync(file, source)
    await settle()
    const unminded = source.replace(", frame]", "]")
    writeFileSync(file, unminded)
    await settle()
    expect(opened.all()[0]?.beds).toHaveLength(6)
    writeFileSync(file, unminded.slice(0, unminded.indexOf("  - id: frame")))
    for (let n = 0; n < 6; n += 1) await settle()
    expect(opened.all()[0]?.beds).toHaveLength(5)
  })

  it("outlives the file itself: gone, a folder in its place, unreadable", async () => {
    await open()
    unlinkSync(file)
    await settle()
    await settle()
    expect(names()).toEqual(["Long Acre"])
    expect(broken.map((each) => each.problems.map((problem) => problem.code))).toEqual([["no-file"]])
    writeFileSync(file, renamed("Back"))
    await settle()
    expect(names()).toEqual(["Back"])
  })
})

describe("saves as editors make them (failure C10)", () => {
  it("by rename, by truncating first, in three writes, through a link that is turned", async () => {
    const opened = await open()
    const aside = join(folder, ".garden.yaml.tmp")
    writeFileSync(aside, renamed("By rename"))
    renameSync(aside, file)
    await settle()
    expect(names()).toEqual(["By rename"])

    truncateSync(file, 0)
    await opened.look()
    writeFileSync(file, renamed("By truncate"))
    await settle()
    expect(names()).toEqual(["By truncate"])

    const text = renamed("In three")
    for (const part of [text.slice(0, 300), text.slice(0, 1200), text]) {
      writeFileSync(file, part)
      await opened.look()
    }
    await settle()
    expect(names()).toEqual(["In three"])
    expect(broken).toEqual([])

    writeFileSync(join(folder, "other.txt"), renamed("By link"))
    unlinkSync(file)
    symlinkSync("other.txt", file)
    await settle()
    expect(names()).toEqual(["By link"])
  })

  it.each([
    ["the system's watcher alone", { pollMs: 600_000 }],
    ["a poll alone", { pollMs: 10 }],
  ])("are seen by %s", async (_how, options) => {
    const swapped = new Promise<string>((resolve) => {
      void open({ ...options, onSwap: (garden) => resolve(garden.name) }).then(() => {
        writeFileSync(join(folder, "x"), renamed("Seen"))
        renameSync(join(folder, "x"), file)
      })
    })
    expect(await swapped).toBe("Seen")
  })
})

describe("a folder of gardens", () => {
  const other = (name: string, phone = "+12025550123") =>
    `garden: ${name}\nplace: { latitude: 40, longitude: -76, zone: America/New_York }\npeople: [{ id: a, phone: "${phone}" }]\nbeds: [{ id: a, size: 3 m2 }]\n`

  it("serves every garden file in it, leaves other files alone, and takes a new one", async () => {
    writeFileSync(join(folder, "second.yml"), other("Second"))
    writeFileSync(join(folder, "notes.txt"), "garden: [")
    writeFileSync(join(folder, ".hidden.yaml"), "garden: [")
    await open({ path: folder })
    expect(names()).toEqual(["Long Acre", "Second"])
    writeFileSync(
      join(folder, "third.json"),
      JSON.stringify({
        place: { latitude: 40, longitude: -76, zone: "America/New_York" },
        beds: [{ id: "a", size: "3 m2" }],
      }),
    )
    await settle()
    expect(names()?.sort()).toEqual(["Long Acre", "Second", "Third"])
    unlinkSync(join(folder, "second.yml"))
    await settle()
    expect(names()).toContain("Second")
    expect(broken.map((each) => each.problems[0]?.code)).toEqual(["no-file"])
  })

  it("refuses two gardens of one name, at the start and later, and takes the second once it has another name", async () => {
    writeFileSync(join(folder, "garden.json"), "{}")
    const error = await open({ path: folder }).catch((caught) => caught)
    expect(error.problems.map((problem: Problem) => problem.code)).toContain("missing")
    unlinkSync(join(folder, "garden.json"))
    await open({ path: folder })
    const second = JSON.stringify({
      place: { latitude: 40, longitude: -76, zone: "America/New_York" },
      beds: [{ id: "a", size: "3 m2" }],
    })
    writeFileSync(join(folder, "garden.json"), second)
    await settle()
    expect(broken.map((each) => each.problems[0]?.code)).toEqual(["same-garden"])
    expect(names()).toEqual(["Long Acre"])
    renameSync(join(folder, "garden.json"), join(folder, "second.json"))
    await settle()
    expect(names()).toHaveLength(2)
  })

  it("serves one phone and one mail address in two gardens, and refuses them twice in one", async () => {
    const twice = other("Second", "+17175550142").replace("id: a, phone", "id: a, email: ines@example.org, phone")
    writeFileSync(join(folder, "second.yml"), twice)
    const opened = await open({ path: folder })
    expect(names()).toEqual(["Long Acre", "Second"])
    expect(whoSent({ via: "sms", from: "+17175550142" }, opened).map(({ garden }) => garden.id)).toEqual([
      "garden",
      "second",
    ])
    writeFileSync(join(folder, "second.yml"), twice.replace("people: [", 'people: [{ id: b, phone: "+17175550142" }, '))
    await settle()
    expect(broken.map((each) => each.problems[0]?.code)).toEqual(["same-phone"])
  })
})

describe("a shelf that is closed", () => {
  it("watches no more and keeps what it has", async () => {
    const opened = await open({ pollMs: 5 })
    await opened.close()
    writeFileSync(file, renamed("Too late"))
    await settle()
    expect(names()).toEqual(["Long Acre"])
    expect(process.getActiveResourcesInfo().filter((name) => name === "FSEventWrap")).toEqual([])
  })
})
