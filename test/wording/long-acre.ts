import type { DailyWeather, KnownWeather } from "../../src/agronomy/weather-series.ts"
import type { Entry } from "../../src/garden/entry.ts"
import type { Bed } from "../../src/garden/garden.ts"
import type { Reminder } from "../../src/reminders/reminder.ts"
import type { BedPlan, GardenPlan } from "../../src/season/bed-plan.ts"
import { addDays, type Day, day, dayNumber } from "../../src/values/day.ts"
import { instant } from "../../src/values/instant.ts"
import { bed, ON, reminder } from "./long-acre-parts.ts"
import { EAST, KITCHEN, NORTH, SOUTH, WEST } from "./long-acre-sowings.ts"

export { bed, garden, NEW_YORK, namesOnly, ON, person, reminder, sowingPlan, species } from "./long-acre-parts.ts"

export const BEDS = [
  bed("south", "South bed"),
  bed("north", "North bed"),
  bed("kitchen", "Kitchen bed"),
  bed("west", "West bed"),
  bed("east", "East bed"),
]

export function plan(
  beds: BedPlan[] = [SOUTH, NORTH, KITCHEN, WEST, EAST].map((each) => ({ bed: each.bed, sowings: [each] })),
  on = ON,
): GardenPlan {
  return { on, garden: "long-acre", beds }
}

export const REMINDERS: Reminder[] = [
  reminder("south:2025-09-20:cut:1", {
    kind: "cut",
    title: "cut South bed, best by about 22 May",
    text: "South bed can be cut from 14 May, best 14-22 May, before it grows back. Cut low, leave the roots in, let the tops lie.",
    state: "planned",
    opens: day("2026-05-14"),
    lapses: day("2026-06-12"),
    speaks: day("2026-05-14"),
    urgency: 80,
    days: { from: day("2026-05-14"), best: day("2026-05-17"), by: day("2026-05-22") },
    caution: "Wear gloves and stout shoes, and keep others out of reach of the blade.",
  }),
  reminder("south:2025-09-20:watch-bloom:1", {
    kind: "watch-bloom",
    title: "look for the first flowers on South bed",
    text: "The vetch on South bed may flower any day until about 18 May. If you see the first purple, I can narrow the cutting date.",
    state: "sent",
    opens: day("2026-05-03"),
    lapses: day("2026-05-18"),
    speaks: null,
    urgency: 30,
    words: ["BLOOM", "NOT YET"],
    days: { early: day("2026-05-05"), late: day("2026-05-18") },
  }),
  reminder("kitchen:2026-04-25:check-emergence:1", {
    kind: "check-emergence",
    title: "see whether Kitchen bed is up",
    text: "Kitchen bed should be showing green by now (1-12 May). Have a look when you pass. There is time to resow till about 20 May.",
    opens: day("2026-05-10"),
    lapses: day("2026-05-20"),
    urgency: 60,
    words: ["UP", "PATCHY", "NOT YET"],
    days: { early: day("2026-05-01"), late: day("2026-05-12"), resow: day("2026-05-20") },
  }),
  reminder("north:2025-09-28:check-regrowth:1", {
    kind: "check-regrowth",
    title: "look for green regrowth on North bed",
    text: "It is 10 days since you cut North bed. Any rye coming back green? A glance will do.",
    state: "planned",
    opens: day("2026-05-11"),
    lapses: day("2026-05-18"),
    speaks: day("2026-05-11"),
    urgency: 40,
    words: ["REGROWTH", "NONE"],
    days: { cut: day("2026-05-01") },
  }),
  reminder("north:2025-09-28:plant:1", {
    kind: "plant",
    title: "plant squash on North bed, ready about 26 May",
    text: "North bed looks ready for squash about 26 May (18 May-4 June).",
    state: "planned",
    opens: day("2026-05-26"),
    lapses: day("2026-06-16"),
    speaks: day("2026-05-26"),
    urgency: 40,
    words: ["PLANTED", "SNOOZE SAT"],
    days: { early: day("2026-05-18"), likely: day("2026-05-26"), late: day("2026-06-04") },
  }),
]

const common = { garden: "long-acre", via: "sms" as const }

export const ENTRIES: Entry[] = [
  {
    seq: 1,
    at: instant("2026-05-03T17:00:00-04:00"),
    ...common,
    via: "email",
    by: "ryebell",
    kind: "digest",
    to: "ines",
    week: "2026-W18",
    told: [
      {
        id: "south:2025-09-20:cut:1",
        kind: "cut",
        bed: "south",
        days: { from: day("2026-05-18"), best: day("2026-05-21"), by: day("2026-05-26") },
      },
    ],
  },
  {
    seq: 2,
    at: instant("2026-05-03T17:05:00-04:00"),
    ...common,
    by: "ryebell",
    kind: "sent",
    to: "ines",
    text: "1) The vetch on South bed may flower from about 5 to 18 May. If you see the first purple, reply BLOOM.",
    told: [
      {
        n: 1,
        id: "south:2025-09-20:watch-bloom:1",
        kind: "watch-bloom",
        bed: "south",
        days: { early: day("2026-05-05"), late: day("2026-05-18") },
      },
    ],
  },
  {
    seq: 3,
    at: instant("2026-05-06T18:12:00-04:00"),
    ...common,
    by: "ines",
    kind: "reply",
    text: "rye on south has heads out, about 4 ft, smells like rain <3",
    acts: [
      { act: "observe", bed: "south", species: "winter-rye", what: "heading", on: day("2026-05-06") },
      { act: "measure", bed: "south", species: "winter-rye", what: "height_cm", value: 121.92, on: day("2026-05-06") },
    ],
    note: true,
    photos: ["2026-05-06-a1b2c3.jpg"],
  },
  {
    seq: 4,
    at: instant("2026-05-06T18:12:02-04:00"),
    ...common,
    by: "ryebell",
    kind: "answer",
    to: "ines",
    answers: 3,
    text: "Thank you. Heads on South bed, noted for today. That moves the best cut to 14-22 May (it was 18-26). Not right? Reply UNDO.",
  },
  {
    seq: 5,
    at: instant("2026-05-08T19:40:00-04:00"),
    ...common,
    by: "ines",
    kind: "reply",
    text: "peppers into the west bed today, soil lovely",
    acts: [{ act: "planted", bed: "west", crop: null, on: day("2026-05-08") }],
    note: true,
  },
]

/** Four weeks of weather up to the day, and a week of forecast. */
export function weather(on: Day = ON): KnownWeather {
  const series = (from: Day, days: number, lows: number[], highs: number[], rain: number[]): DailyWeather => ({
    first: dayNumber(from),
    tmin_c: Float64Array.from({ length: days }, (_, i) => lows[i % lows.length] as number),
    tmax_c: Float64Array.from({ length: days }, (_, i) => highs[i % highs.length] as number),
    rain_mm: Float64Array.from({ length: days }, (_, i) => rain[i % rain.length] as number),
  })
  return {
    lat: 40.04,
    lon: -76.31,
    observed: series(
      addDays(on, -27),
      28,
      [8, 9, 11, 12, 10, 9, 8],
      [21, 23, 25, 26, 22, 20, 21],
      [0, 0, 6, 0, 0, 11, 0],
    ),
    forecast: series(addDays(on, 1), 7, [9, 7, 3, 6, 9, 11, 12], [20, 18, 15, 18, 21, 23, 24], [0, 4, 0, 0, 0, 0, 9]),
    climate: {
      id: "york-pa",
      name: "York",
      where: "PA",
      lat: 39.9,
      lon: -76.7,
      elev_m: 120,
      tmin_c: [-6, -5, -1, 4, 9, 15, 17, 16, 12, 6, 1, -3],
      tmax_c: [4, 5, 11, 17, 22, 27, 30, 29, 25, 18, 12, 6],
      rain_mm: [80, 70, 90, 90, 100, 100, 110, 95, 105, 90, 85, 90],
      sdDay_c: Array(12).fill(4),
      sdYear_c: Array(12).fill(1.5),
      source: "from memory",
    },
  }
}

/** A garden of so many beds, all like those of Long Acre. */
export function manyBeds(count: number): { beds: Bed[]; plan: GardenPlan; reminders: Reminder[] } {
  const kinds = plan().beds
  const beds = Array.from({ length: count }, (_, i) => bed(`plot-${i + 1}`, `Plot ${i + 1} of the long row`))
  const plans = beds.map((each, i): BedPlan => {
    const like = kinds[i % kinds.length] as BedPlan
    return {
      bed: each.id,
      sowings: like.sowings.map((s) => ({ ...s, bed: each.id, sowing: s.sowing.replace(s.bed, each.id) })),
    }
  })
  const reminders = beds.flatMap((each, i) => {
    const like = (kinds[i % kinds.length] as BedPlan).bed
    return REMINDERS.filter((r) => r.bed === like).map((r) => ({
      ...r,
      id: r.id.replace(like, each.id),
      bed: each.id,
      sowing: r.sowing.replace(like, each.id),
      title: (r.title ?? "").replace(/\w+ bed/, each.name),
      text: r.text.replace(/\w+ bed/, each.name),
      short: r.short.replace(/\w+ bed/, each.name),
    }))
  })
  return { beds, plan: plan(plans), reminders }
}
