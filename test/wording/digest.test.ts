import { HtmlValidate } from "html-validate"
import { describe, expect, it } from "vitest"
import type { Entry } from "../../src/garden/entry.ts"
import type { Reminder } from "../../src/reminders/reminder.ts"
import { addDays, type Day, day } from "../../src/values/day.ts"
import { instant } from "../../src/values/instant.ts"
import { type DigestInput, digest, nextMail, QUIET_LINES, weekOf } from "../../src/wording/digest.ts"
import {
  BEDS,
  ENTRIES,
  garden,
  manyBeds,
  namesOnly,
  ON,
  person,
  plan,
  REMINDERS,
  reminder,
  weather,
} from "./long-acre.ts"

const LINKS = {
  season: "https://garden.example.org/season/TOKEN",
  calendar: "https://garden.example.org/calendar/TOKEN.ics",
  stop: "https://garden.example.org/mail/TOKEN/stop",
}
const NUMBERS: Record<string, number> = {
  "south:2025-09-20:watch-bloom:1": 1,
  "kitchen:2026-04-25:check-emergence:1": 2,
}

function input(over: Partial<DigestInput> = {}): DigestInput {
  return {
    garden: garden(BEDS),
    handbook: namesOnly(),
    person: person("ines"),
    on: ON,
    plan: plan(),
    reminders: REMINDERS,
    entries: ENTRIES,
    weather: weather(),
    links: LINKS,
    numberOf: (id) => NUMBERS[id] ?? null,
    ...over,
  }
}

const QUIET = { reminders: REMINDERS.filter((each) => each.kind === "plant") }

/** The words of a mail's HTML, one line a block, as a reader would hear them. */
function heard(html: string): string {
  return html
    .replace(/<style>[\s\S]*?<\/style>|<!--[\s\S]*?-->|<title>[\s\S]*?<\/title>/g, "")
    .replace(/<(?:\/p|\/li|\/h1|\/h2|br|\/div)[^>]*>/g, "\n")
    .replace(/<[^>]+>/g, "")
    .replaceAll("&lt;", "<")
    .replaceAll("&gt;", ">")
    .replaceAll("&quot;", '"')
    .replaceAll("&#39;", "'")
    .replaceAll("&amp;", "&")
    .split("\n")
    .map((line) => line.trim())
    .filter((line) => line !== "")
    .join("\n")
}

describe("the subject of the weekly mail", () => {
  it("says the most urgent thing of the week and how many there are", () => {
    expect(digest(input()).subject).toBe("Cut South bed, best by about 22 May; 4 things this week")
    const one = input({ reminders: REMINDERS.filter((each) => each.kind === "cut") })
    expect(digest(one).subject).toBe("Cut South bed, best by about 22 May; that is all this week")
  })

  it("says that nothing is to be done where nothing is", () => {
    expect(digest(input(QUIET)).subject).toBe("Nothing to do this week at Long Acre")
  })

  it("is an overdue cut for two mails, which is then a line of the mail and no longer what it is about", () => {
    const by = plan().beds.find((bed) => bed.bed === "south")?.sowings[0]?.cut?.by
    const late = (days: number) => digest(input({ reminders: [], on: addDays(by as Day, days) }))
    const limit = "Cut South bed; its limit was 22 May"
    for (const days of [1, 8, 14]) expect(late(days).subject).toBe(`${limit}; that is all this week`)
    for (const days of [15, 22, 56]) {
      expect(late(days).subject).toBe("Nothing new this week at Long Acre")
      expect(late(days).text).toContain(`${limit}.`)
    }
    expect(late(57).subject).toBe("Nothing to do this week at Long Acre")
  })

  it("is one line, whatever the names hold", () => {
    const wild = digest(input({ garden: { ...garden(BEDS), name: "Long\r\nBcc: x@example.org\n Acre" }, ...QUIET }))
    expect(wild.subject).not.toMatch(/[\r\n]/)
  })
})

describe("the weekly mail", () => {
  const mail = digest(input())

  it("keeps the order of the week: do, changes, beds, ahead, log, weather, nitrogen, how to stop", () => {
    const titles = [
      "This week",
      "What changed, and why",
      "Every bed",
      "The next four weeks",
      "Last week, in your own words",
      "Weather that mattered",
      "Nitrogen so far",
      "Change or stop",
    ]
    for (const text of [mail.text, heard(mail.html)]) {
      const found = titles.map((title) => text.split("\n").indexOf(title))
      expect(found.every((place) => place >= 0)).toBe(true)
      expect(found).toEqual(found.toSorted((a, b) => a - b))
    }
  })

  it("holds the same in text and HTML: every line of one stands in the other", () => {
    const plain = (text: string) => text.replace(/<https?:[^>]*>/g, "").replace(/\s+/g, " ")
    const [text, html] = [plain(mail.text), plain(heard(mail.html))]
    for (const line of heard(mail.html).split("\n")) {
      const words = line.replace(/(Season page|Calendar feed|Stop these mails|\w+ bed: [\w ]+)+$/g, "").trim()
      expect(text).toContain(words.replace(/\s+/g, " "))
    }
    for (const item of mail.text.split(/\n(?=- |\S)/)) {
      const words = item.replace(/\n {2}(?=.*<https)[^\n]*/g, "").replace(/^- /, "")
      for (const sentence of words.split(/(?<=\.)\s+/)) expect(html).toContain(plain(sentence).trim())
    }
    const dates = (s: string) =>
      [...new Set(s.match(/\d{1,2}(?:-\d{1,2})? (?:Jan|Feb|Mar|Apr|May|June|July|Aug|Sep|Oct|Nov|Dec)/g))].toSorted()
    expect(dates(text)).toEqual(dates(html))
    const links = (s: string) => [...new Set(s.match(/https:\/\/garden[^">#]*/g))].toSorted()
    expect(links(mail.text)).toEqual(links(mail.html))
  })

  it("says what moved since it was last told, and that it was the gardener's own sight that moved it", () => {
    expect(mail.text).toContain("South bed, the cut: now 14-22 May, it was 18-26 May.")
    expect(mail.text.replace(/\s+/g, " ")).toContain('Because you wrote on 6 May: "rye on south has heads out')
  })

  it("lays a move to the weather where nobody reported anything", () => {
    const silent = digest(input({ entries: ENTRIES.filter((each) => each.kind !== "reply") })).text.replace(/\s+/g, " ")
    expect(silent).toContain("It has been warmer than normal since 3 May.")
    const unknown = digest(input({ weather: null, entries: ENTRIES.slice(0, 2) })).text.replace(/\s+/g, " ")
    expect(unknown).toContain("Worked out afresh with the days that have passed since 3 May.")
    expect(unknown).not.toContain("weather since")
  })

  it("says what is no longer asked, where it was asked and is not settled", () => {
    const lapsed = (of: string): Entry => ({
      seq: 90,
      at: instant("2026-05-09T08:00:00-04:00"),
      garden: "long-acre",
      by: "ryebell",
      via: "cli",
      kind: "lapsed",
      of,
      because: "its moment has passed",
    })
    const bloom = REMINDERS.find((each) => each.kind === "watch-bloom") as Reminder
    const other = REMINDERS.find((each) => each.kind === "check-emergence") as Reminder
    const lines = (reminders: Reminder[]) =>
      digest(input({ reminders, entries: [...ENTRIES, lapsed(bloom.id), lapsed(other.id)] }))
        .text.replaceAll(/\s+/g, " ")
        .match(/No longer asked[^.]*\./g)
    // The other was never told to her, so nothing was asked.
    expect(lines([bloom, other].map((each) => ({ ...each, state: "lapsed" })))).toEqual([
      "No longer asked, its time has passed: look for the first flowers on South bed.",
    ])
    expect(lines([{ ...bloom, state: "lapsed", title: "", short: "" }])).toEqual([
      "No longer asked, its time has passed: a look for the first bloom on South bed.",
    ])
    expect(lines([{ ...bloom, state: "done" }])).toBeNull()
    // Nobody needs to be told that a look at the stems is over while planting is asked for.
    const stems: Reminder = { ...bloom, kind: "rest-over", state: "lapsed" }
    expect(lines([stems])).toHaveLength(1)
    expect(lines([stems, { ...stems, id: "south:2025-09-20:plant:1", kind: "plant", state: "planned" }])).toBeNull()
  })

  it("tells the end of the rest and the planting in one line where they are the same", () => {
    const plant = REMINDERS.find((each) => each.kind === "plant") as Reminder
    const rest: Reminder = { ...plant, id: plant.id.replace("plant", "rest-over"), kind: "rest-over" }
    const told = [plant, rest].map(({ id, kind, bed }) => ({
      id,
      kind,
      bed,
      days: { early: day("2026-05-10"), likely: day("2026-05-18"), late: day("2026-05-27") },
    }))
    const entries = ENTRIES.map((each) => (each.kind === "digest" ? { ...each, told } : each))
    const moved = (reminders: Reminder[]) => digest(input({ reminders, entries })).text.match(/North bed, .*: now/g)
    expect(moved([plant, rest])).toEqual(["North bed, ready to plant: now"])
    expect(moved([rest])).toEqual(["North bed, the end of the rest: now"])
  })

  it("says nothing of a move of one day", () => {
    const told: Entry[] = ENTRIES.map((each) =>
      each.kind === "digest"
        ? {
            ...each,
            told: each.told.map((t) => ({
              ...t,
              days: { from: day("2026-05-15"), best: day("2026-05-18"), by: day("2026-05-23") },
            })),
          }
        : each,
    )
    expect(digest(input({ entries: told })).text).toContain("Nothing moved since you were last told.")
  })

  it("quotes last week's notes to the letter, with who and when", () => {
    expect(mail.text).toContain('Fri 8 May, you: "peppers into the west bed today, soil lovely"')
    expect(heard(mail.html)).toContain('smells like rain <3" (with a photo)')
  })

  it("marks a note that was taken back", () => {
    const undo: Entry = {
      seq: 6,
      at: instant("2026-05-08T20:00:00-04:00"),
      garden: "long-acre",
      by: "ines",
      via: "sms",
      kind: "undo",
      undone: 5,
    }
    expect(digest(input({ entries: [...ENTRIES, undo] })).text.replace(/\s+/g, " ")).toContain(
      'soil lovely", taken back later',
    )
  })

  it("numbers what a text has numbered, with reply words that fit", () => {
    expect(mail.text).toContain("- 2) See whether Kitchen bed is up.")
    expect(mail.text).toContain("Reply UP, PATCHY or NOT YET.")
  })

  it("leads each thing to a page with buttons, by words that say what they do", () => {
    expect(mail.html).toContain(`href="${LINKS.season}/do/south%3A2025-09-20%3Acut%3A1"`)
    expect(heard(mail.html)).toContain("South bed: done")
  })

  it("leads a warning of a late bed to all its ways out", () => {
    const warning = reminder("south:2025-09-20:rest-over:2", {
      kind: "rest-over",
      title: "see how South bed can be ready for tomatoes",
      text: "South bed should be ready about 12 June, later than you want it for tomatoes (25 May).",
      words: ["WHY"],
      days: { ready: day("2026-06-12"), wanted: day("2026-05-25") },
    })
    const { html } = digest(input({ reminders: [warning] }))
    expect(html).toMatch(/href="https:\/\/garden.example.org\/season\/TOKEN\/bed\/south"[^>]*>South bed: all ways out</)
    expect(html).not.toContain("tell what you see")
    const old = { ...warning, opens: addDays(warning.opens, -30) }
    expect(digest(input({ reminders: [old] })).subject).not.toContain("ready for tomatoes")
  })

  it("tells the days it named, so that next week's changes are held against them", () => {
    expect(mail.told.find((told) => told.kind === "cut")).toMatchObject({
      id: "south:2025-09-20:cut:1",
      days: { by: "2026-05-22" },
    })
    expect(mail.told.map((told) => told.n ?? null)).toEqual([null, 2, null, 1, null])
  })

  it("can be stopped by one press, by mail and by its foot (RFC 2369, RFC 8058)", () => {
    const { headers } = digest(input({ stopAddress: "stop@example.org" }))
    expect(headers["List-Unsubscribe"]).toBe(`<${LINKS.stop}>, <mailto:stop@example.org?subject=stop>`)
    expect(headers["List-Unsubscribe-Post"]).toBe("List-Unsubscribe=One-Click")
    expect(headers["Auto-Submitted"]).toBe("auto-generated")
    expect(mail.text).toContain(`Stop these mails <${LINKS.stop}>`)
  })

  it("names and links whose weather it is, where a service gave it, in a quiet week too (CC BY 4.0, 3(a)(1))", () => {
    const attribution = {
      words: "Weather data by Somebody, CC BY 4.0.",
      links: [
        { words: "Somebody", to: "https://weather.example/" },
        { words: "CC BY 4.0", to: "https://creativecommons.org/licenses/by/4.0/" },
      ],
    }
    for (const over of [{}, QUIET]) {
      const credited = digest(input({ ...over, attribution }))
      for (const { to } of attribution.links) {
        expect(credited.html).toContain(`href="${to}"`)
        expect(credited.text).toContain(`<${to}>`)
      }
      expect(heard(credited.html)).toContain("Weather data by Somebody, CC BY 4.0.")
    }
    expect(
      digest(input({ ...QUIET, attribution }))
        .text.trim()
        .split("\n").length,
    ).toBeLessThanOrEqual(QUIET_LINES)
  })

  it("tells frost that does our work under the weather, and other news for the mail alone under the weeks to come", () => {
    const only = (kind: "frost" | "rest-over", text: string) =>
      reminder(`east:2026-08-28:${kind}:1`, { kind, title: "x", text, state: "due", mailOnly: true, opens: ON })
    const news = [only("frost", "Frost may take the oats."), only("rest-over", "East bed will be late for onions.")]
    const { text } = digest(input({ reminders: [...REMINDERS, ...news] }))
    const part = (title: string) => text.split(`\n${title}\n`)[1]?.split("\n\n")[0]
    expect(part("Weather that mattered")).toContain("- Frost may take the oats.")
    expect(part("The next four weeks")).toContain("- East bed will be late for onions.")
    expect(text.match(/may take the oats|late for onions/g)).toHaveLength(2)
  })

  it("works without any page served: reply words only, no link, no promise of one-click", () => {
    const bare = digest(input({ links: null }))
    expect(bare.text + bare.html).not.toMatch(/https?:\/\/|href=/)
    expect(bare.headers).toEqual({ "Auto-Submitted": "auto-generated" })
    expect(bare.text.replace(/\s+/g, " ")).toContain("To stop these mails answer STOP")
  })

  it("loads nothing from outside (failure M12): its one picture goes with it", () => {
    const sources = [...mail.html.matchAll(/src="([^"]*)"/g)].map((match) => match[1])
    expect(sources).toEqual(["cid:season@ryebell"])
    expect(mail.html).not.toMatch(/url\(|<link|<script|@import/)
  })

  it("describes its picture by the one thing to do", () => {
    expect(mail.alt).toMatch(/^Cut South bed, best by about 22 May\. /)
    expect(mail.html).toContain(`alt="${mail.alt}"`)
  })

  it("is valid HTML, save for what mail programs need", async () => {
    const validator = new HtmlValidate({
      extends: ["html-validate:recommended"],
      rules: {
        // Mail programs drop style sheets, so styles stand on the elements.
        "no-inline-style": "off",
        // One program draws a column too wide unless told in its own comments; others throw native elements out.
        "no-conditional-comment": "off",
        "prefer-native-element": "off",
        // Old readers know this name of the role only.
        "presentation-role-style": "off",
      },
    })
    for (const each of [mail, digest(input(QUIET)), digest(input({ links: null }))]) {
      const report = await validator.validateString(each.html)
      expect(
        report.results.flatMap((result) =>
          result.messages.map((m) => `${m.line}:${m.column} ${m.ruleId} ${m.message}`),
        ),
      ).toEqual([])
    }
  })

  it("is the same to the letter for the same week", () => {
    expect(digest(input())).toEqual(mail)
  })
})

describe("what a person reads of others", () => {
  const tom = { ...person("tom"), minds: ["east"] }
  const people = [person("ines", { minds: ["south", "north", "kitchen", "west"] }), tom]
  const note = (seq: number, by: string, text: string, bed: string): Entry => ({
    seq,
    at: instant("2026-05-09T10:00:00-04:00"),
    garden: "long-acre",
    by,
    via: "sms",
    kind: "reply",
    text,
    acts: [{ act: "observe", bed, species: null, what: "up", on: day("2026-05-09") }],
  })

  it("is what concerns beds they mind, never a note on another plot", () => {
    const entries = [
      ...ENTRIES,
      note(6, "ines", "my back hurts, south is a jungle", "south"),
      note(7, "ines", "east is up", "east"),
    ]
    const mail = digest(input({ garden: garden(BEDS, people), person: tom, entries }))
    expect(mail.text).not.toContain("jungle")
    expect(mail.text).toContain('Sat 9 May, Ines: "east is up"')
    expect(mail.text).not.toContain("South bed")
  })
})

describe("a quiet week", () => {
  it("is ten lines, and says what comes next and when the next mail comes", () => {
    for (const over of [QUIET, { reminders: [] }, { ...QUIET, links: null }, { ...QUIET, entries: [] }]) {
      const mail = digest(input(over))
      const lines = mail.text.trim().split("\n")
      expect(lines.length).toBeLessThanOrEqual(QUIET_LINES)
      expect(lines.every((line) => line.trim() !== "")).toBe(true)
      expect(mail.text).toContain("The next mail comes on Sun 17 May.")
    }
    expect(digest(input(QUIET)).text).toContain("Next, from Tue 26 May: plant squash on North bed")
  })

  it("stays at ten lines with forty beds", () => {
    const many = manyBeds(40)
    const mail = digest(input({ garden: garden(many.beds), plan: many.plan, reminders: [] }))
    expect(mail.text.trim().split("\n").length).toBeLessThanOrEqual(QUIET_LINES)
    expect(mail.text).toMatch(/\d+ more beds stand in the picture/)
  })
})

describe("forty beds", () => {
  const many = manyBeds(40)
  const mail = digest(input({ garden: garden(many.beds), plan: many.plan, reminders: many.reminders }))

  it("stay under 100 kB without pictures", () => {
    expect(Buffer.byteLength(mail.html) + Buffer.byteLength(mail.text)).toBeLessThan(100_000)
  })

  it("name five things in full and the others in a line each, and leave none out", () => {
    expect(mail.html.match(/class="press"/g)).toHaveLength(5)
    for (const bed of many.beds) expect(mail.text).toContain(bed.name)
    expect(mail.subject).toBe("Cut Plot 11 of the long row, best by about 22 May; 32 things this week")
  })

  it("show a row for each in the picture, with the months repeated at its foot", () => {
    expect(mail.svg.match(/class="bed"/g)).toHaveLength(40)
    expect(mail.svg.match(/>May<\/text>/g)).toHaveLength(2)
  })
})

describe("after the limit of a cut", () => {
  it("only the weekly mail goes on about it, without blame, for eight weeks", () => {
    const late = (on: string) => digest(input({ on: day(on), reminders: [], plan: { ...plan(), on: day(on) } }))
    const mail = late("2026-06-30")
    expect(mail.text).toContain("Cut South bed; its limit was 22 May")
    expect(mail.text.replace(/\s+/g, " ")).toContain("What you cut now still saves weeding next year.")
    expect(late("2026-09-01").text).not.toContain("Cut South bed; its limit")
  })
})

describe("the week of a mail", () => {
  // ISO 8601: worked examples from memory, checked by hand against the rule that week 1 holds the first Thursday.
  it.each([
    ["2026-01-01", "2026-W01"],
    ["2025-12-29", "2026-W01"],
    ["2027-01-01", "2026-W53"],
    ["2026-05-10", "2026-W19"],
    ["2024-12-30", "2025-W01"],
  ])("of %s is %s", (d, week) => {
    expect(weekOf(day(d))).toBe(week)
  })

  it("comes again on the person's next weekday, a week on where today is one", () => {
    expect(nextMail({ person: person("ines"), on: ON })).toBe(addDays(ON, 7))
    expect(nextMail({ person: person("ines", { digest: { day: "wednesday", at: 480 } }), on: ON })).toBe(
      day("2026-05-13"),
    )
    expect(nextMail({ person: person("ines", { digest: null }), on: ON })).toBeNull()
  })
})
