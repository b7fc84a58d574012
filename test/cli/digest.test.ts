import { spawnSync } from "node:child_process"
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs"
import { tmpdir } from "node:os"
import { join } from "node:path"
import ICAL from "ical.js"
import { type ParsedMail, simpleParser } from "mailparser"
import { afterEach, beforeEach, describe, expect, it } from "vitest"
import { knownWeather } from "../../src/bot/known.ts"
import type { World } from "../../src/cli/command.ts"
import { digest } from "../../src/cli/digest.ts"
import { exportAll } from "../../src/cli/export.ts"
import type { Entry } from "../../src/garden/entry.ts"
import type { GardenPlan, SowingPlan } from "../../src/season/bed-plan.ts"
import { addDays, type Day, day } from "../../src/values/day.ts"
import { CouldNot, WrongInput } from "../../src/values/problem.ts"
import { aBed, aGarden, aPerson, aSowing, handbook, historyOf, log, reply } from "../given.ts"

const GARDEN = aGarden({
  people: [aPerson(), aPerson({ id: "tom", name: "Tom", email: "tom@example.org", minds: ["north"] })],
  beds: [
    aBed({ id: "south", sowings: [aSowing({ bed: "south", next: { crop: "tomato", wanted: day("2026-05-25") } })] }),
    aBed({ id: "north", sowings: [aSowing({ bed: "north", species: [{ id: "winter-rye", share: 1 }] })] }),
  ],
})
const ENTRIES: Entry[] = log(
  reply(
    "ines",
    "2026-05-06 18:12",
    [{ act: "observe", bed: "south", species: "hairy-vetch", what: "bloom", on: day("2026-05-06") }],
    "=first purple <3",
  ),
)

/** An event as a reader of calendars gives it: its first day, the day after its last, its title. */
type Read = { from: Day; end: Day; summary: string }

const BY_PYTHON = `
import sys, json, icalendar
c = icalendar.Calendar.from_ical(sys.stdin.buffer.read())
print(json.dumps([{"from": e.decoded("dtstart").isoformat(), "end": e.decoded("dtend").isoformat(), "summary": str(e["summary"])} for e in c.walk("vevent")]))`
const PYTHON = ["/usr/bin/python3", "python3"].find((each) => spawnSync(each, ["-c", "import icalendar"]).status === 0)
if (!PYTHON) console.log("Skipping one reader of the feed: there is no Python with the icalendar library here.")

const READERS: [string, (text: string) => Read[]][] = [
  [
    "ical.js",
    (text) =>
      new ICAL.Component(ICAL.parse(text)).getAllSubcomponents("vevent").map((each) => {
        const { startDate, endDate, summary } = new ICAL.Event(each)
        return { from: day(startDate.toString()), end: day(endDate.toString()), summary }
      }),
  ],
  ...(PYTHON
    ? ([
        [
          "Python's icalendar",
          (text) => JSON.parse(spawnSync(PYTHON, ["-c", BY_PYTHON], { input: text }).stdout.toString()),
        ],
      ] satisfies [string, (text: string) => Read[]][])
    : []),
]

/** What a feed must hold of a sowing, read off the plan: first day, last day, the title up to its first comma or colon. */
function windowsOf(sowing: SowingPlan): string[] {
  const name = GARDEN.beds.find((bed) => bed.id === sowing.bed)?.name
  const { sow, cut, wasCut, state } = sowing
  const flowers = sowing.species.filter(({ firstFlower, gone }) => firstFlower && !gone)
  const setter = flowers.find(({ id }) => id === cut?.setBy.species)
  const flower =
    setter ?? flowers.toSorted((a, b) => ((a.firstFlower?.likely ?? "") < (b.firstFlower?.likely ?? "") ? -1 : 1))[0]
  const ready = sowing.next?.ready ?? sowing.rest?.transplants
  const crop = sowing.next ? ` for ${{ tomato: "tomatoes" }[sowing.next.crop]}` : ""
  return [
    ...(sow && sowing.sown === null ? [`${sow.from} ${sow.by} Sow ${name}`] : []),
    ...(flower?.firstFlower && !wasCut && flower.firstFlower.early !== flower.firstFlower.late
      ? [`${flower.firstFlower.early} ${flower.firstFlower.late} ${COMMON[flower.id]} on ${name} may flower`]
      : []),
    ...(cut ? [`${cut.from} ${cut.by} Cut ${name}`] : []),
    ...(ready && !["planned", "planted"].includes(state)
      ? [`${ready.early} ${ready.late} ${name} ready to plant${crop}`]
      : []),
  ]
}

const COMMON: Record<string, string> = { "hairy-vetch": "Vetch", "winter-rye": "Rye" }

let folder = ""
let out: string[] = []
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "ryebell-digest-"))
  out = []
})
afterEach(() => rmSync(folder, { recursive: true }))

function world(): World {
  return {
    settings: { mailFrom: "Ryebell <bot@example.org>" },
    out: (text: string) => out.push(text),
    known: async (asked: { on?: Day }) => ({
      handbook: handbook(),
      garden: GARDEN,
      entries: ENTRIES,
      history: historyOf(GARDEN, ENTRIES),
      weather: knownWeather(handbook(), GARDEN, null),
      on: asked.on ?? day("2026-05-10"),
    }),
  } as unknown as World
}

describe("ryebell digest", () => {
  it("writes the mail as .eml, .html, .txt and .png, named by person and day", async () => {
    expect(await digest.run(["--out", folder, "--person", "tom", "--on", "2026-05-17"], world())).toBe(0)
    expect(readdirSync(folder).toSorted()).toEqual(["eml", "html", "png", "txt"].map((end) => `tom-2026-05-17.${end}`))
    expect(out.slice(1)).toHaveLength(4)
  })

  it("writes a mail that another library reads back part by part: words, picture, headers", async () => {
    await digest.run(["--out", folder], world())
    const mail: ParsedMail = await simpleParser(readFileSync(join(folder, "ines-2026-05-10.eml")))
    expect(mail.subject).toBe(out[0])
    expect(mail.from?.text).toContain("bot@example.org")
    expect(mail.text?.trim()).toBe(readFileSync(join(folder, "ines-2026-05-10.txt"), "utf8").trim())
    expect(mail.headers.get("auto-submitted")).toBe("auto-generated")
    const [picture, ...others] = mail.attachments
    expect(others).toEqual([])
    expect([picture?.contentType, picture?.contentDisposition, picture?.cid]).toEqual([
      "image/png",
      "inline",
      "season@ryebell",
    ])
    expect(picture?.content.equals(readFileSync(join(folder, "ines-2026-05-10.png")))).toBe(true)
    // mailparser puts the picture in the place of its content id: the HTML's only picture is the one that came along.
    expect(mail.html).toContain('<img src="data:image/png;base64,')
    expect(
      String(mail.html)
        .replaceAll(/<[^>]+>/g, " ")
        .replaceAll(/\s+/g, " "),
    ).toContain("&quot;=first purple &lt;3&quot;")
  })

  it("keeps the whole message under 100 kB without its picture", async () => {
    await digest.run(["--out", folder], world())
    const [eml, png] = ["eml", "png"].map((end) => readFileSync(join(folder, `ines-2026-05-10.${end}`)).length) as [
      number,
      number,
    ]
    expect(eml - (png * 4) / 3).toBeLessThan(100_000)
  })

  it("points the HTML at the picture beside it", async () => {
    await digest.run(["--out", folder], world())
    expect(readFileSync(join(folder, "ines-2026-05-10.html"), "utf8")).toContain('src="ines-2026-05-10.png"')
  })

  it("needs a folder, and names the nearest person where one is mistyped", async () => {
    await expect(digest.run([], world())).rejects.toThrow(WrongInput)
    await expect(digest.run(["--out", folder, "--person", "inez"], world())).rejects.toThrow(/Did you mean ines\?/)
    writeFileSync(join(folder, "file"), "")
    await expect(digest.run(["--out", join(folder, "file", "x")], world())).rejects.toThrow(CouldNot)
  })
})

describe("ryebell export", () => {
  it("writes log, plan, reminders, year and a calendar for each person", async () => {
    expect(await exportAll.run(["--out", folder], world())).toBe(0)
    expect(readdirSync(folder).toSorted()).toEqual(
      [
        "log.csv",
        "log.jsonl",
        "plan.csv",
        "plan.json",
        "reminders.csv",
        "season-ines.ics",
        "season-tom.ics",
        "year.html",
        "year.json",
      ].toSorted(),
    )
    const read = (name: string) => readFileSync(join(folder, name), "utf8")
    expect(read("log.csv")).toContain("'=first purple <3")
    expect(JSON.parse(read("log.jsonl"))).toMatchObject({
      seq: 1,
      text: "=first purple <3",
      at: "2026-05-06T22:12:00.000Z",
    })
    expect(JSON.parse(read("plan.json")).beds).toHaveLength(2)
    expect(JSON.parse(read("year.json"))).toMatchObject([
      { what: "first flower", seen: "2026-05-06", predicted: { knownOn: "2026-04-08" } },
    ])
  })

  it.each(READERS)(
    "writes calendars whose every event is a window of the plan and every window an event, as read by %s",
    async (_, read) => {
      for (const on of ["2026-05-10", "2025-10-01"]) {
        await exportAll.run(["--out", folder, "--on", on], world())
        const plan = JSON.parse(readFileSync(join(folder, "plan.json"), "utf8")) as GardenPlan
        const windows = (minds: readonly string[] | null) =>
          plan.beds
            .filter((bed) => minds === null || minds.includes(bed.bed))
            .flatMap(({ sowings }) => sowings.flatMap(windowsOf))
            .toSorted()
        const events = (person: string) =>
          read(readFileSync(join(folder, `season-${person}.ics`), "utf8"))
            .map(({ from, end, summary }) => `${from} ${addDays(end, -1)} ${summary.split(/[,:]/)[0]}`)
            .toSorted()
        expect(windows(null).length).toBeGreaterThan(windows(["north"]).length)
        expect(events("ines")).toEqual(windows(null))
        expect(events("tom")).toEqual(windows(["north"]))
      }
    },
  )

  it("takes a year as four digits only", async () => {
    await expect(exportAll.run(["--out", folder, "--year", "26"], world())).rejects.toThrow(WrongInput)
  })
})
