import { readdirSync, readFileSync } from "node:fs"
import { dirname, join, normalize, relative } from "node:path"
import { describe, expect, it } from "vitest"

/** The rooms of src/, lowest first: a room may import from rooms before it and from nothing behind it. */
const PURE = ["values", "handbook", "garden", "agronomy", "season", "reminders", "replies", "wording"]
const EDGES = ["store", "channels", "weather", "jobs", "web", "files"]
const ORDER = [...PURE, "bot", ...EDGES, "cli"]
/** Files of the pure rooms that read from disk, and why. */
const READERS = new Set(["handbook/open.ts", "handbook/open-climates.ts"])
/** Files at the top of src/: the composition root and what it alone hands out. */
const TOP = [
  "main.ts",
  "assemble.ts",
  "assemble-channels.ts",
  "assemble-held.ts",
  "assemble-house.ts",
  "assemble-metrics.ts",
  "assemble-web.ts",
  "settings.ts",
  "logging.ts",
]

const src = new URL("../src", import.meta.url).pathname
const files = readdirSync(src, { recursive: true, encoding: "utf8" }).filter((file) => file.endsWith(".ts"))

type Import = { from: string; to: string }

function importsOf(file: string): { inside: Import[]; outside: string[] } {
  const text = readFileSync(join(src, file), "utf8")
  const inside: Import[] = []
  const outside: string[] = []
  for (const match of text.matchAll(
    /(?:^|\n)\s*(?:import|export)\s+(?:type\s+)?[^"'\n;]*?(?:[^"';]*?from\s+)?["']([^"']+)["']|import\(\s*["']([^"']+)["']\s*\)/g,
  )) {
    const target = match[1] ?? match[2] ?? ""
    if (target.startsWith("."))
      inside.push({
        from: file,
        to: relative(src, normalize(join(src, dirname(file), target))),
      })
    else outside.push(target)
  }
  return { inside, outside }
}

const room = (file: string) => (file.includes("/") ? (file.split("/")[0] as string) : file)
const all = files.flatMap((file) => importsOf(file).inside)
const show = (found: Import[]) => found.map((each) => `${each.from} imports ${each.to}`)

describe("the rooms of src/", () => {
  it("are the ones that DEVELOPERS.md lists: a new folder is named in this test and there", () => {
    expect([...new Set(files.map(room))].filter((name) => !ORDER.includes(name) && !TOP.includes(name))).toEqual([])
  })

  it("import downwards only: move what is shared to the lower room, or hand it in as an argument", () => {
    const upward = all.filter(({ from, to }) => {
      const [a, b] = [ORDER.indexOf(room(from)), ORDER.indexOf(room(to))]
      return a >= 0 && b >= 0 && b > a
    })
    expect(show(upward)).toEqual([])
  })

  it("keep the edges apart: store, channels, weather, jobs, web and files meet only in main.ts", () => {
    const across = all.filter(
      ({ from, to }) => EDGES.includes(room(from)) && EDGES.includes(room(to)) && room(from) !== room(to),
    )
    expect(show(across)).toEqual([])
  })

  it("let the edges know of the bot only what it needs (bot/needs.ts); web may call the procedures it is given types of", () => {
    const deep = all.filter(
      ({ from, to }) =>
        EDGES.includes(room(from)) && room(from) !== "web" && room(to) === "bot" && to !== "bot/needs.ts",
    )
    expect(show(deep)).toEqual([])
  })

  it("keep replies free of season and reminders: beds, states and open reminders come as its context", () => {
    expect(
      show(all.filter(({ from, to }) => room(from) === "replies" && ["season", "reminders"].includes(room(to)))),
    ).toEqual([])
  })

  it("leave main.ts and assemble.ts alone, and settings.ts to the commands: a room takes the options it needs", () => {
    const root = (file: string) => file === "main.ts" || file.startsWith("assemble")
    const wrong = all
      .filter(({ from }) => !root(from))
      .filter(({ from, to }) => root(to) || (room(from) !== "cli" && (to === "settings.ts" || room(to) === "cli")))
    expect(show(wrong)).toEqual([])
  })

  it("hold no circle of imports, not even of types: take the shared part out into a file of its own", () => {
    const next = new Map(files.map((file) => [file, all.filter((each) => each.from === file).map((each) => each.to)]))
    const done = new Set<string>()
    const circles: string[] = []
    const walk = (file: string, path: string[]) => {
      if (path.includes(file)) circles.push([...path.slice(path.indexOf(file)), file].join(" -> "))
      if (done.has(file) || path.includes(file)) return
      for (const to of next.get(file) ?? []) walk(to, [...path, file])
      done.add(file)
    }
    for (const file of files) walk(file, [])
    expect(circles).toEqual([])
  })
})

describe("the pure core", () => {
  const core = files.filter((file) => PURE.includes(room(file)) && !READERS.has(file))

  it("touches nothing of the machine: fetch first, at the edge, and hand the result in", () => {
    const touching = core.flatMap((file) =>
      importsOf(file)
        .outside.filter((name) => name.startsWith("node:"))
        .map((name) => `${file} imports ${name}`),
    )
    expect(touching).toEqual([])
  })

  it("reads no clock, draws no lots and waits for nothing: now is an argument", () => {
    const word = /\bDate\.now\b|\bnew Date\(\)|\bMath\.random\b|\basync\b|\bawait\b|\bperformance\.now\b/
    const reading = core.filter((file) => word.test(withoutComments(readFileSync(join(src, file), "utf8"))))
    expect(reading).toEqual([])
  })

  it("knows Date only in values/ and luxon only in values/zone.ts", () => {
    const dated = files.filter(
      (file) =>
        room(file) !== "values" &&
        /\bnew Date\b/.test(withoutComments(readFileSync(join(src, file), "utf8"))) &&
        PURE.includes(room(file)),
    )
    const luxon = files.filter((file) => file !== "values/zone.ts" && importsOf(file).outside.includes("luxon"))
    expect([...dated, ...luxon]).toEqual([])
  })
})

function withoutComments(text: string): string {
  return text.replace(/\/\*[\s\S]*?\*\//g, "").replace(/\/\/.*$/gm, "")
}
