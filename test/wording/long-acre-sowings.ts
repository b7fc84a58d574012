import { day } from "../../src/values/day.ts"
import { type Range, rangeOf, seenOn } from "../../src/values/range.ts"
import { sowingPlan, species } from "./long-acre-parts.ts"

/* The covers of Long Acre: about to be cut, resting, just sown, planted over, to be sown. */

const range = (early: string, likely: string, late: string, why: string): Range =>
  rangeOf(day(early), day(likely), day(late), why)

export const SOUTH = sowingPlan("south", "2025-09-20", {
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

export const NORTH = sowingPlan("north", "2025-09-28", {
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

export const EAST = sowingPlan("east", null, {
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

export const KITCHEN = sowingPlan("kitchen", "2026-04-25", {
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

export const WEST = sowingPlan("west", "2025-09-12", {
  state: "planted",
  species: [species("crimson-clover", 1, { firstFlower: seenOn(day("2026-04-20"), "Ines saw it") })],
  wasCut: { on: day("2026-04-24"), then: "turn-in" },
  endedOn: day("2026-05-08"),
  nitrogen: { credit_g_per_m2: { low: 5, likely: 8, high: 11 }, why: "clover turned in at first flower" },
})
