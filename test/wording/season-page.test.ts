import { HtmlValidate } from "html-validate"
import { describe, expect, it } from "vitest"
import type { Entry, ReminderKind } from "../../src/garden/entry.ts"
import { understand } from "../../src/replies/understand.ts"
import { prepareWords } from "../../src/replies/vocabulary.ts"
import { addDays, type Day, day } from "../../src/values/day.ts"
import { instant } from "../../src/values/instant.ts"
import { bedPage, logPage, onePage, seasonPage } from "../../src/wording/season-page.ts"
import { notFoundPage, refusedPage, stopPage } from "../../src/wording/season-page-frame.ts"
import { pressesFor, pressText } from "../../src/wording/season-page-press.ts"
import type { SeasonView } from "../../src/wording/season-page-view.ts"
import { handbook } from "../given.ts"
import { BEDS, ENTRIES, garden, manyBeds, namesOnly, ON, person, plan, REMINDERS, reminder } from "./long-acre.ts"

const PATHS = { base: "/season/TOKEN", calendar: "/calendar/TOKEN.ics", form: "MARK" }

function view(over: Partial<SeasonView> = {}): SeasonView {
  return {
    garden: garden(BEDS),
    handbook: namesOnly(),
    person: person("ines"),
    on: ON,
    now: instant("2026-05-10T09:00:00-04:00"),
    plan: plan(),
    reminders: REMINDERS,
    entries: ENTRIES,
    numberOf: (id) => (id.includes("cut") ? 3 : null),
    ...over,
  }
}

/** The words of a page, as they are heard. */
const words = (page: string) =>
  page
    .replace(/<style>[\s\S]*?<\/style>/, "")
    .replace(/<[^>]+>/g, " ")
    .replace(/\s+/g, " ")

describe("the season page", () => {
  const page = seasonPage(view(), PATHS)

  it("says everything of the picture in tables, bed by bed", () => {
    const tables = words(page.slice(page.indexOf('id="beds-h"')))
    for (const each of [
      "South bed: vetch and rye",
      "Rye: first flower any day 10-19 May, likely 14 May",
      "Cut 14-22 May, ideally 17 May",
      "Rest over, ready for tomatoes about 5 June (28 May-14 June)",
      "East bed: oats and peas to be sown",
      "Cut none needed",
    ])
      expect(tables).toContain(each)
  })

  it("gives each thing to do its reason, without a script", () => {
    expect(page).toMatch(
      /<details><summary>Why<span class="soft">: South bed<\/span><\/summary><p>Rye cut before pollen shed grows back/,
    )
  })

  it("names what each button is about, for those who hear them one by one", () => {
    const names = [...page.matchAll(/<button[^>]*aria-label="([^"]+)"/g)].map((match) => match[1])
    expect(names).toContain("Done: cut South bed, best by about 22 May")
    expect(new Set(names).size).toBe(names.length)
  })

  it("names and links whose weather it is, where a service gave it", () => {
    const attribution = {
      words: "Weather by Somebody.",
      links: [{ words: "Somebody", to: "https://weather.example/" }],
    }
    const credited = seasonPage(view({ attribution }), PATHS)
    expect(credited).toContain('<a href="https://weather.example/">Somebody</a>')
    expect(page).not.toContain("Weather by")
  })

  it("offers Undo for what was told last, and only there", () => {
    expect(page.match(/>Undo<\/button>/g)).toHaveLength(1)
    expect(page).toContain('name="seq" value="5"')
  })

  it("shows photos through the link's own address", () => {
    expect(page).toContain(
      '<img src="/season/TOKEN/photo/2026-05-06-a1b2c3.jpg" alt="Photo sent with the note of 6 May, 18:12"',
    )
  })

  it("shows what an answer said for a quarter of an hour", () => {
    const at = (now: string) => words(seasonPage(view({ now: instant(now) }), PATHS))
    expect(at("2026-05-06T18:20:00-04:00")).toContain("That moves the best cut to 14-22 May")
    expect(at("2026-05-06T18:40:00-04:00")).not.toContain("That moves the best cut to 14-22 May")
  })

  it("says what a press was taken as where no answer was written", () => {
    const press: Entry = {
      seq: 6,
      at: instant("2026-05-10T08:59:00-04:00"),
      garden: "long-acre",
      by: "ines",
      via: "web",
      kind: "reply",
      text: "UP 2",
      acts: [{ act: "observe", bed: "kitchen", species: null, what: "up", on: ON }],
    }
    expect(words(seasonPage(view({ entries: [...ENTRIES, press] }), PATHS))).toContain(
      "Noted: up on Kitchen bed, 10 May.",
    )
  })

  it("says what was taken back, and does not show the word UNDO as a note", () => {
    const common = { at: instant("2026-05-10T08:59:00-04:00"), garden: "long-acre", by: "ines", via: "web" as const }
    const entries: Entry[] = [
      ...ENTRIES,
      { ...common, seq: 6, kind: "reply", text: "UNDO", acts: [{ act: "undo" }] },
      { ...common, seq: 7, kind: "undo", undone: 5, text: "UNDO" },
    ]
    const page = words(seasonPage(view({ entries }), PATHS))
    expect(page).toContain("Taken back: peppers into the west bed today")
    expect(page).toContain("8 May, 19:40, you, taken back")
    expect(page).not.toContain("UNDO")
  })

  it("stays under 60 kB with forty beds, in parts that link to each other", () => {
    const many = manyBeds(40)
    const long = view({ garden: garden(many.beds), plan: many.plan, reminders: many.reminders })
    const parts = [1, 2, 3, 4].map((part) => seasonPage(long, PATHS, part))
    for (const part of parts) expect(Buffer.byteLength(part)).toBeLessThan(60_000)
    for (const each of many.beds) expect(parts.some((part) => part.includes(`>${each.name}<`))).toBe(true)
    expect(parts[0]).toContain('href="/season/TOKEN?beds=4"')
  })

  it("is valid HTML, like every other page", async () => {
    const validator = new HtmlValidate({ extends: ["html-validate:recommended"], rules: { "long-title": "off" } })
    const pages = {
      page,
      bed: bedPage(view(), PATHS, "south"),
      thing: onePage(view(), PATHS, "south:2025-09-20:cut:1"),
      log: logPage(view(), PATHS),
      stop: stopPage("Long Acre"),
      gone: notFoundPage(),
      refused: refusedPage("/x"),
    }
    for (const [name, html] of Object.entries(pages)) {
      const report = await validator.validateString(html ?? "")
      const found = report.results.flatMap((each) =>
        each.messages.map((m) => `${name} ${m.line}:${m.column} ${m.ruleId} ${m.message}`),
      )
      expect(found).toEqual([])
    }
  })
})

describe("the page of one bed", () => {
  it("gives the reason of each day, and the ways out where both ends cannot be met", () => {
    const page = words(bedPage(view(), PATHS, "south") ?? "")
    expect(page).toContain("rye overwinters; 780-930 degree-days above 4.4 C after 1 January, at your normals")
    expect(page).toContain("It will not be ready by Mon 25 May")
    expect(page).toContain(
      "Carry the tops to the compost: ready Sun 24 May or so. About half of the nitrogen leaves with them.",
    )
  })

  it("is nobody's who does not mind it", () => {
    expect(bedPage(view({ person: person("tom", { minds: ["east"] }) }), PATHS, "south")).toBeNull()
    expect(onePage(view({ person: person("tom") }), PATHS, "south:2025-09-20:cut:1")).toBeNull()
  })
})

describe("buttons", () => {
  const labels = (words: string[], n: number | null, kind: ReminderKind = "cut") =>
    pressesFor({ words, kind }, n).map((press) => press.label)

  it("are the reply words of the text, with Snooze and Skip where there is a number to put off", () => {
    expect(labels(["DONE", "SNOOZE SAT"], 3)).toEqual(["Done", "Snooze", "Skip for good"])
    expect(labels(["DONE", "SNOOZE SAT"], null)).toEqual(["Done"])
    expect(labels(["UP", "PATCHY", "NOT YET"], 2, "check-emergence")).toEqual([
      "It is up",
      "Patchy",
      "Not yet",
      "Snooze",
      "Skip for good",
    ])
    expect(labels(["WHY"], null, "rest-over")).toEqual(["The stems crumble"])
  })

  it("offer nothing to see where the bed is only warned of being late, and lead to its ways out", () => {
    const warning = reminder("south:2025-09-20:rest-over:2", {
      kind: "rest-over",
      title: "see how South bed can be ready for tomatoes",
      text: "South bed should be ready about 12 June, later than you want it for tomatoes (25 May).",
      words: ["WHY"],
      days: { ready: day("2026-06-12"), wanted: day("2026-05-25") },
    })
    expect(pressesFor(warning, 3).map((press) => press.label)).toEqual(["Snooze", "Skip for good"])
    const page = seasonPage({ ...view(), reminders: [warning] }, PATHS)
    expect(page).toContain(`href="${PATHS.base}/bed/south">South bed: all ways out</a>`)
    expect(page).not.toContain("The stems crumble")
  })

  const place = {
    beds: [
      { id: "south", name: "South bed", species: ["hairy-vetch", "winter-rye"] },
      { id: "north", name: "North bed", species: ["winter-rye"] },
    ],
  }
  const words = prepareWords(handbook())
  const means = (word: string, kind: ReminderKind, n: number | null, day: Day | null = null) => {
    const text = pressText(
      { word, reminder: { bed: "south", kind }, n, day, until: word === "SNOOZE" ? addDays(ON, 6) : null },
      garden(BEDS),
      ON,
    )
    const open = [
      { n: 3, bed: "south", kind },
      { n: 4, bed: "south", kind: "watch-boot" as const },
      { n: 5, bed: "north", kind },
    ]
    return understand(text ?? "", {
      now: { day: ON, minutes: 600 },
      dates: "month-first",
      units: "us",
      ...place,
      open: n === null ? [] : open,
      words,
    })
  }
  const OBSERVED: [string, ReminderKind, string][] = [
    ["UP", "check-emergence", "up"],
    ["PATCHY", "check-emergence", "patchy"],
    ["NOT YET", "check-emergence", "not-up"],
    ["NOT YET", "watch-bloom", "no-bloom"],
    ["BLOOM", "watch-bloom", "bloom"],
    ["BOOT", "watch-boot", "boot"],
    ["REGROWTH", "check-regrowth", "regrowth"],
    ["NONE", "check-regrowth", "no-regrowth"],
    ["CRUMBLES", "rest-over", "broken-down"],
    ["KILLED", "frost", "frost-killed"],
    ["SURVIVED", "frost", "survived-frost"],
  ]

  it.each(OBSERVED.flatMap((each) => [[...each, 3] as const, [...each, null] as const]))(
    "are understood as what they say: %s of %s is %s (number %s)",
    (word, kind, what, n) => {
      const read = means(word, kind, n)
      expect(read.ask).toBeNull()
      expect(read.acts).toMatchObject([{ act: "observe", bed: "south", what, on: ON }])
    },
  )

  it.each([
    ["DONE", "cut"],
    ["SOWED", "sow"],
    ["PLANTED", "plant"],
  ] as const)("settle by number, on the day that was chosen: %s", (word, kind) => {
    expect(means(word, kind, 3).acts).toEqual([{ act: "done", n: [3], on: ON }])
    expect(means(word, kind, 3, addDays(ON, -2)).acts).toEqual([{ act: "done", n: [3], on: addDays(ON, -2) }])
  })

  it("say the deed where there is no number", () => {
    expect(means("DONE", "cut", null).acts).toMatchObject([{ act: "cut", bed: "south", on: ON }])
    expect(means("DONE", "water-in", null).acts).toMatchObject([{ act: "watered", bed: "south", on: ON }])
    expect(means("SOWED", "sow", null).acts).toMatchObject([{ act: "sowed", bed: "south", on: ON }])
    expect(means("PLANTED", "plant", null, addDays(ON, -2)).acts).toMatchObject([
      { act: "planted", bed: "south", on: addDays(ON, -2) },
    ])
  })

  it("put off by number only", () => {
    expect(means("SNOOZE", "cut", 3).acts).toEqual([{ act: "snooze", n: [3], until: addDays(ON, 6) }])
    expect(means("SKIP", "cut", 3).acts).toEqual([{ act: "skip", n: [3] }])
  })
})
