import type { DailyWeather, KnownWeather } from "../../src/agronomy/weather-series.ts"
import type { Entry } from "../../src/garden/entry.ts"
import type { Bed, Garden, Person, Sowing } from "../../src/garden/garden.ts"
import type { Handbook } from "../../src/handbook/handbook.ts"
import type { Reminder } from "../../src/reminders/reminder.ts"
import type { BedPlan, GardenPlan, SowingPlan, SpeciesPlan } from "../../src/season/bed-plan.ts"
import { addDays, type Day, day, dayNumber } from "../../src/values/day.ts"
import { instant } from "../../src/values/instant.ts"
import { type Range, rangeOf, seenOn } from "../../src/values/range.ts"
import { zone } from "../../src/values/zone.ts"

/** Long Acre on Sunday 10 May 2026, made by hand: a garden with a bed in every stage, for tests of what people read. */
export const ON = day("2026-05-10")
export const NEW_YORK = zone("America/New_York")

const NAMES: Record<string, string[]> = {
  "hairy-vetch": ["hairy vetch", "vetch"],
  "winter-rye": ["winter rye", "rye"],
  oats: ["oats"],
  "field-pea": ["field pea", "field peas", "peas"],
  "crimson-clover": ["crimson clover", "clover"],
  buckwheat: ["buckwheat"],
}
const CROPS: Record<string, string[]> = { tomato: ["tomato", "tomatoes"], cabbage: ["cabbage"], squash: ["squash"] }

/** A handbook of names alone: what people read asks it for nothing else, save what a crop wants of nitrogen. */
export function namesOnly(): Handbook {
  const species = new Map(Object.entries(NAMES).map(([id, names]) => [id, { id, names }]))
  const crops = new Map(
    Object.entries(CROPS).map(([id, names]) => [
      id,
      { id, names, nitrogen: { need: "medium-heavy", need_g_per_m2: { low: 12, likely: 15, high: 18 } } },
    ]),
  )
  return { species, crops } as unknown as Handbook
}

export function person(id: string, over: Partial<Person> = {}): Person {
  return {
    id,
    name: id.charAt(0).toUpperCase() + id.slice(1),
    phone: "+17175550142",
    email: `${id}@example.org`,
    zone: NEW_YORK,
    minds: null,
    by: "text",
    texts: { from: 480, to: 1170, most: 2 },
    digest: { day: "sunday", at: 1020 },
    ...over,
  }
}

export function bed(id: string, name: string, sowings: Sowing[] = []): Bed {
  return { id, name, also: [], kind: "raised", area_m2: 2.97, sowings }
}

export function garden(beds: Bed[], people: Person[] = [person("ines")]): Garden {
  return {
    id: "long-acre",
    name: "Long Acre",
    place: {
      latitude: 40.04,
      longitude: -76.31,
      elev_m: null,
      zone: NEW_YORK,
      units: "us",
      dates: "month-first",
      normals: "york-pa",
      frost: null,
    },
    people,
    beds,
  }
}

export function species(id: string, share: number, over: Partial<SpeciesPlan> = {}): SpeciesPlan {
  return {
    id,
    share,
    emergence: seenOn(day("2025-09-27"), "seedlings were seen"),
    heading: null,
    firstFlower: null,
    viableSeed: null,
    frostKill: { temperature_c: { low: -25, high: -20 }, chance: 0.02, when: null },
    ...over,
  }
}

export function sowingPlan(bedId: string, sown: string | null, over: Partial<SowingPlan> = {}): SowingPlan {
  return {
    sowing: `${bedId}:${sown ?? over.planned ?? "2026-08-28"}`,
    bed: bedId,
    state: "growing",
    sown: sown ? day(sown) : null,
    planned: null,
    then: "leave",
    species: [],
    sow: null,
    resowBy: null,
    noCut: null,
    cut: null,
    wasCut: null,
    regrowthCheck: null,
    rest: null,
    next: null,
    nitrogen: null,
    water: null,
    watchBoot: null,
    watchBloom: null,
    frost: null,
    endedOn: null,
    hazards: [],
    cautions: [],
    remarks: [],
    ...over,
  }
}

export function reminder(id: string, over: Partial<Reminder> & Pick<Reminder, "kind" | "text" | "title">): Reminder {
  const [bedId, sown, , ordinal] = id.split(":") as [string, string, string, string]
  return {
    id,
    bed: bedId,
    sowing: `${bedId}:${sown}`,
    ordinal: Number(ordinal),
    person: "ines",
    opens: ON,
    lapses: addDays(ON, 7),
    state: "due",
    speaks: ON,
    call: 1,
    urgency: 50,
    pressing: false,
    short: over.text,
    words: ["DONE", "SNOOZE SAT"],
    days: {},
    ...over,
  }
}

const range = (early: string, likely: string, late: string, why: string): Range =>
  rangeOf(day(early), day(likely), day(late), why)

const SOUTH = sowingPlan("south", "2025-09-20", {
  species: [
    species("hairy-vetch", 0.4, {
      firstFlower: range(
        "2026-05-05",
        "2026-05-12",
        "2026-05-18",
        "vetch flowers by day length and warmth; at your normals",
      ),
      viableSeed: range(
        "2026-06-02",
        "2026-06-09",
        "2026-06-18",
        "first seed that can grow follows first flower by about four weeks",
      ),
    }),
    species("winter-rye", 0.6, {
      heading: seenOn(day("2026-05-06"), "Ines saw heads"),
      firstFlower: range(
        "2026-05-10",
        "2026-05-14",
        "2026-05-19",
        "rye overwinters; 780-930 degree-days above 4.4 C after 1 January, at your normals",
      ),
      viableSeed: range("2026-05-30", "2026-06-05", "2026-06-12", "milk stage follows flowering by two to three weeks"),
    }),
  ],
  cut: {
    from: day("2026-05-14"),
    best: day("2026-05-17"),
    by: day("2026-05-22"),
    setBy: { species: "winter-rye", because: "regrowth" },
    why: "Rye cut before pollen shed grows back; vetch drops seed from early June",
    ordinal: 1,
    survivors: [],
    carryOff: false,
  },
  rest: {
    transplants: range("2026-05-28", "2026-06-05", "2026-06-14", "rye straw this old needs two to four warm weeks"),
    smallSeed: range("2026-06-08", "2026-06-16", "2026-06-28", "small seed waits until the stems have gone soft"),
    why: "rye straw this old needs two to four warm weeks",
  },
  next: {
    crop: "tomato",
    wanted: day("2026-05-25"),
    fits: false,
    ready: range("2026-05-28", "2026-06-05", "2026-06-14", "rye straw this old needs two to four warm weeks"),
    ways: [
      {
        way: "carry the tops to the compost",
        ready: range("2026-05-20", "2026-05-24", "2026-05-29", "roots alone rot fast"),
        cost: "about half of the nitrogen leaves with them",
      },
      {
        way: "transplant later",
        ready: range("2026-05-28", "2026-06-05", "2026-06-14", "as it is"),
        cost: "ten days of the tomatoes' season",
      },
    ],
    why: "rye straw this old needs two to four warm weeks",
  },
  nitrogen: { credit_g_per_m2: { low: 6, likely: 9, high: 12 }, why: "two fifths vetch, cut at first flower" },
})

const NORTH = sowingPlan("north", "2025-09-28", {
  state: "resting",
  species: [
    species("winter-rye", 1, {
      emergence: seenOn(day("2025-10-06"), "seedlings were seen"),
      heading: seenOn(day("2026-04-24"), "heads were seen"),
      firstFlower: seenOn(day("2026-04-30"), "pollen was seen"),
    }),
  ],
  wasCut: { on: day("2026-05-01"), then: "leave" },
  regrowthCheck: { opens: day("2026-05-11"), lapses: day("2026-05-18") },
  rest: {
    transplants: range("2026-05-18", "2026-05-26", "2026-06-04", "rye alone, cut at flowering, rots slowly"),
    smallSeed: range("2026-06-01", "2026-06-10", "2026-06-22", "small seed waits longer"),
    why: "rye alone, cut at flowering, rots slowly",
  },
  next: {
    crop: "squash",
    wanted: day("2026-05-28"),
    fits: true,
    ready: range("2026-05-18", "2026-05-26", "2026-06-04", "rye alone, cut at flowering, rots slowly"),
    ways: [],
    why: "rye alone, cut at flowering, rots slowly",
  },
  nitrogen: { credit_g_per_m2: { low: -1, likely: 0, high: 1 }, why: "rye brings none and ties some up while it rots" },
})

const EAST = sowingPlan("east", null, {
  state: "planned",
  planned: day("2026-08-28"),
  species: [
    species("oats", 0.6, {
      emergence: range("2026-09-02", "2026-09-04", "2026-09-08", "warm soil"),
      frostKill: {
        temperature_c: { low: -12, high: -7 },
        chance: 0.9,
        when: range("2026-12-05", "2026-12-28", "2027-01-20", "your normals"),
      },
    }),
    species("field-pea", 0.4, {
      emergence: range("2026-09-03", "2026-09-06", "2026-09-10", "warm soil"),
      frostKill: {
        temperature_c: { low: -12, high: -7 },
        chance: 0.9,
        when: range("2026-12-05", "2026-12-28", "2027-01-20", "your normals"),
      },
    }),
  ],
  sow: {
    from: day("2026-08-28"),
    by: day("2026-09-10"),
    why: "six to eight weeks of growth before the first hard frost",
  },
  noCut: "winter kills oats and peas here in nine years of ten",
})

const KITCHEN = sowingPlan("kitchen", "2026-04-25", {
  state: "sown",
  species: [
    species("buckwheat", 1, {
      emergence: range("2026-05-01", "2026-05-04", "2026-05-12", "cool soil"),
      firstFlower: range("2026-05-28", "2026-06-02", "2026-06-09", "four to six weeks from sowing"),
      viableSeed: range("2026-06-06", "2026-06-12", "2026-06-20", "from about day forty"),
    }),
  ],
  resowBy: day("2026-05-20"),
  cut: {
    from: day("2026-06-02"),
    best: day("2026-06-05"),
    by: day("2026-06-11"),
    setBy: { species: "buckwheat", because: "seed" },
    why: "buckwheat sheds its first seed about six weeks after sowing",
    ordinal: 1,
    survivors: [],
    carryOff: false,
  },
  rest: {
    transplants: range("2026-06-12", "2026-06-16", "2026-06-22", "soft green stems rot in one to two weeks"),
    smallSeed: range("2026-06-16", "2026-06-22", "2026-06-30", "soft green stems rot in one to two weeks"),
    why: "soft green stems rot in one to two weeks",
  },
})

const WEST = sowingPlan("west", "2025-09-12", {
  state: "planted",
  species: [species("crimson-clover", 1, { firstFlower: seenOn(day("2026-04-20"), "Ines saw it") })],
  wasCut: { on: day("2026-04-24"), then: "turn-in" },
  endedOn: day("2026-05-08"),
  nitrogen: { credit_g_per_m2: { low: 5, likely: 8, high: 11 }, why: "clover turned in at first flower" },
})

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
