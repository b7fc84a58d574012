import type { Entry } from "../../src/garden/entry.ts"
import type { Handbook } from "../../src/handbook/handbook.ts"
import { instant } from "../../src/values/instant.ts"
import { digest } from "../../src/wording/digest.ts"
import { bedPage, logPage, onePage, seasonPage } from "../../src/wording/season-page.ts"
import type { SeasonView } from "../../src/wording/season-page-view.ts"
import { yearSummaryPage } from "../../src/wording/year-summary-page.ts"
import { bed, ENTRIES, garden, namesOnly, ON, person, plan, REMINDERS, weather } from "./long-acre.ts"

const PATHS = { base: "/season/TOKEN", calendar: "/calendar/TOKEN.ics", form: "MARK" }

/** Everything that people see, with one text wherever people, files or other servers can put one. */
export function shown(word: string): Record<string, string> {
  const beds = ["south", "north", "kitchen", "west", "east"].map((id) => bed(id, word))
  const inside = garden(beds, [person("ines", { name: word })])
  const g = { ...inside, name: word }
  const handbook = {
    ...namesOnly(),
    species: new Map([...namesOnly().species].map(([id, each]) => [id, { ...each, names: [word] }])),
    crops: new Map([...namesOnly().crops].map(([id, each]) => [id, { ...each, names: [word] }])),
  } as unknown as Handbook
  const wordy = plan().beds.map((each) => ({
    ...each,
    sowings: each.sowings.map((s) => ({
      ...s,
      cut: s.cut && { ...s.cut, why: word },
      noCut: s.noCut && word,
      remarks: [word],
      cautions: [{ about: "other" as const, text: word, source: ["x"] }],
      hazards: [{ what: word, until: null, why: word }],
      next: s.next && { ...s.next, why: word, ways: s.next.ways.map((way) => ({ ...way, way: word, cost: word })) },
    })),
  }))
  const entries: Entry[] = [
    ...ENTRIES.map((each) => ("text" in each ? ({ ...each, text: word } as Entry) : each)),
    {
      seq: 6,
      at: instant("2026-05-10T08:55:00-04:00"),
      garden: "long-acre",
      by: "ryebell",
      via: "web",
      kind: "answer",
      to: "ines",
      text: word,
    },
  ].map((each) => (each.kind === "reply" ? { ...each, photos: [word] } : each)) as Entry[]
  const reminders = REMINDERS.map((each) => ({ ...each, title: word, text: word, short: word, caution: word }))
  const view: SeasonView = {
    garden: g,
    handbook,
    person: g.people[0] ?? person("ines"),
    on: ON,
    now: instant("2026-05-10T09:00:00-04:00"),
    plan: plan(wordy),
    reminders,
    entries,
    numberOf: () => 7,
  }
  const known = weather()
  const mail = digest({
    ...view,
    weather: { ...known, climate: { ...known.climate, name: word } },
    attribution: { words: word, links: [{ words: word, to: "https://x.example/weather" }] },
    orphans: [{ seq: 3, named: word, nearest: word }],
    links: {
      season: "https://x.example/season/T",
      calendar: "https://x.example/c.ics",
      stop: "https://x.example/stop",
    },
  })
  const comparison = {
    bed: "south",
    sowing: "south:2025-09-20",
    year: 2026,
    cover: word,
    what: "cut" as const,
    species: word,
    predicted: null,
    seen: ON,
    off: null,
    inside: null,
  }
  return {
    mail: mail.html,
    picture: mail.svg,
    page: seasonPage(view, PATHS),
    bed: bedPage(view, PATHS, "south") ?? "",
    thing: onePage(view, PATHS, "south:2025-09-20:cut:1") ?? "",
    log: logPage(view, PATHS),
    year: yearSummaryPage(g, 2026, [comparison]),
  }
}
