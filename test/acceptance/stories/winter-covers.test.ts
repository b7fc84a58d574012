import { cut, measured, saw, tell } from "./tell.ts"

/** Covers that live through the winter and are cut in spring. */
tell({
  "rye and vetch before tomatoes": {
    told: "Sown in September, it flowers in May; cut then, it leaves the bed to rest two weeks and more, so tomatoes on 25 May come too soon, and that is said at sowing.",
    held: [
      "CORNELL-RYE and DAWLING: rye heads in early May in central Virginia, mid to late May in New York, with pollen one to two weeks later",
      "Teasdale 2004: vetch in mid to late May in Maryland; a Virginia abstract: most seed not viable until mid June",
      "UNL 2021: two weeks at the least between rye and the next crop",
    ],
    place: "lancaster",
    sowings: `
      - sown: 2025-09-20
        species: { hairy-vetch: 40, winter-rye: 60 }
        then: leave
        next: { crop: tomato, wanted: 2026-05-25 }`,
    said: [
      ["2025-09-28", saw("up", "2025-09-28")],
      ["2026-05-14", saw("bloom", "2026-05-14", "hairy-vetch")],
      ["2026-05-23", cut("2026-05-23")],
      ["2026-06-04", saw("no-regrowth", "2026-06-04")],
    ],
    on: {
      "2025-09-20": {
        state: "sown",
        up: "2025-09-24..2025-10-05",
        water: [12, 26],
        firstFlower: { "winter-rye": "2026-05-08..2026-06-03", "hairy-vetch": "2026-04-28..2026-06-01" },
        fits: false,
        ways: ["carry the tops", "plant later"],
      },
      "2025-11-15": { state: "growing", dies: { "winter-rye": [0, 0.05], "hairy-vetch": [0, 0.45] } },
      "2026-04-20": {
        state: "growing",
        cut: { from: "2026-05-01..2026-06-05", by: "2026-05-12..2026-06-20" },
        asks: "bloom",
      },
      "2026-05-14": { state: "blooming", cut: { by: "2026-05-24..2026-06-15", carryOff: false } },
      "2026-05-24": {
        state: "cut",
        asks: "regrowth",
        rest: "2026-06-06..2026-06-27",
        smallSeed: "2026-06-13..2026-07-05",
        says: ["left on top"],
      },
      "2026-07-01": { state: "ready", cut: null },
    },
  },

  "rye cut at boot": {
    told: "Rye that is cut before its pollen comes back: the plan looks for it ten to fourteen days on, and a second cut starts the rest anew.",
    held: [
      "Mirsky 2009 and Cornell 2021: rye is killed from pollen on; cut at jointing or boot it tillers again",
      "MO-TABLE: look again after a cut",
      "UNL 2021: two weeks before the next crop",
    ],
    place: "ithaca",
    sowings: `
      - sown: 2025-09-15
        species: [winter-rye]
        next: { crop: squash, wanted: 2026-06-20 }`,
    said: [
      ["2026-05-12", saw("boot", "2026-05-12")],
      ["2026-05-14", cut("2026-05-14")],
      ["2026-05-26", saw("regrowth", "2026-05-26")],
      ["2026-05-31", cut("2026-05-31")],
    ],
    on: {
      "2026-05-01": { state: "growing", cut: { from: "2026-05-18..2026-06-15" } },
      "2026-05-13": {
        firstFlower: { "winter-rye": "2026-05-20..2026-06-08" },
        cut: { from: "2026-05-20..2026-06-08", setBy: "winter-rye" },
      },
      "2026-05-15": { state: "cut", asks: "regrowth", rest: "2026-05-28..2026-06-15" },
      "2026-05-26": {
        cut: { ordinal: 2, from: "2026-05-26..2026-05-26", by: "2026-06-02..2026-06-12", setBy: "regrowth" },
      },
      "2026-06-01": { state: "cut", rest: "2026-06-12..2026-07-05" },
    },
  },

  "vetch turned in before squash": {
    told: "Vetch in bloom is rich in nitrogen and rots fast: two to three weeks after it is turned in the bed is ready, with much of what squash needs.",
    held: [
      "a seed-house guide: 2-3 weeks after tilling in",
      "PNW 636: up to 100 lb of nitrogen an acre (11 g per m2) from winter legumes",
      "Hammond & Cooper 1993: seedcorn maggots hurt least 3 to 3.5 weeks after turning in live cover",
    ],
    place: "beltsville",
    sowings: `
      - sown: 2025-09-12
        species: [hairy-vetch]
        then: turn-in
        next: { crop: squash, wanted: 2026-06-15 }`,
    said: [
      ["2026-05-16", saw("bloom", "2026-05-16")],
      ["2026-05-22", cut("2026-05-22", "turn-in")],
    ],
    on: {
      "2025-09-12": { state: "sown", fits: true },
      "2026-03-15": { state: "growing", firstFlower: { "hairy-vetch": "2026-04-25..2026-05-31" } },
      "2026-05-16": { state: "blooming", cut: { from: "2026-05-10..2026-05-20", by: "2026-05-25..2026-06-20" } },
      "2026-05-23": {
        rest: "2026-06-05..2026-06-13",
        smallSeed: "2026-06-12..2026-06-22",
        nitrogen: [4, 11.2],
        hazards: ["seedcorn maggot"],
      },
      "2026-06-25": { state: "ready" },
    },
  },

  "crimson clover before corn in Georgia": {
    told: "It blooms in April there, dies from early bud on, and live seed is about a month after the bloom.",
    held: [
      "regional tables: April in zone 8-9; Hoorman 2024: seed 30 days after blooming",
      "SARE 1998: cut low from early bud on it does not come back",
      "SARE: 70-130 lb of nitrogen an acre in the tops, of which half or less is for the next crop (UCSC)",
    ],
    place: "athens",
    sowings: `
      - sown: 2025-10-01
        species: [crimson-clover]
        next: { crop: corn, wanted: 2026-06-05 }`,
    said: [
      ["2026-04-14", saw("bloom", "2026-04-14")],
      ["2026-04-28", cut("2026-04-28")],
    ],
    on: {
      "2025-10-01": { state: "sown", firstFlower: { "crimson-clover": "2026-03-20..2026-05-05" } },
      "2026-01-15": { state: "growing", dies: { "crimson-clover": [0, 0.5] } },
      "2026-04-14": {
        state: "blooming",
        cut: { by: "2026-04-28..2026-05-16", setBy: "crimson-clover seed", survivors: [] },
      },
      "2026-04-29": { state: "cut", rest: "2026-05-08..2026-05-24", nitrogen: [1.5, 7], fits: true },
      "2026-05-25": { state: "ready" },
    },
  },

  "crimson clover in central Pennsylvania": {
    told: "Typically hardy there, it blooms in May; what may die is told as a chance, and the cut is planned all the same.",
    held: [
      "PSU-FROST: typically hardy in central Pennsylvania",
      "regional tables: late May where nights reach -23 C (zone 6)",
      "HOORMAN2024: live seed 30 days after blooming, about 22 after pollination",
    ],
    place: "statecollege",
    sowings: `
      - sown: 2025-08-25
        species: [crimson-clover]
        next: { crop: squash, wanted: 2026-06-25 }`,
    said: [
      ["2026-05-17", saw("bloom", "2026-05-17")],
      ["2026-05-28", cut("2026-05-28")],
    ],
    on: {
      "2025-08-25": {
        state: "sown",
        dies: { "crimson-clover": [0.05, 0.5] },
        firstFlower: { "crimson-clover": "2026-05-01..2026-06-05" },
        says: ["may die of frost this winter"],
      },
      "2025-12-10": { state: "growing", cut: { setBy: "crimson-clover seed" } },
      "2026-05-17": { state: "blooming", cut: { by: "2026-06-01..2026-06-20", carryOff: false } },
      "2026-05-29": { state: "cut", rest: "2026-06-07..2026-06-22", fits: true },
      "2026-06-26": { state: "ready" },
    },
  },

  "rye before carrots": {
    told: "Small seed suffers most from rye: about four weeks, where transplants could go in after two or three.",
    held: [
      "Putnam, told by Diver 2008: residue holds back small seed for some 30 days, 30 to 40 and more at the most",
      "Chou & Patrick 1976, by a review: toxins last two weeks to 60 days",
      "CORNELL-RYE: two to three weeks before replanting",
    ],
    place: "kellogg",
    sowings: `
      - sown: 2025-09-20
        species: [winter-rye]
        next: { crop: carrot, wanted: 2026-06-10 }`,
    said: [["2026-05-25", cut("2026-05-25")]],
    on: {
      "2025-09-25": { state: ["sown", "up"], fits: false },
      "2026-04-15": {
        state: "growing",
        firstFlower: { "winter-rye": "2026-05-15..2026-06-12" },
        says: ["too late for carrot"],
      },
      "2026-05-26": {
        state: "cut",
        rest: "2026-06-08..2026-06-25",
        smallSeed: "2026-06-20..2026-07-08",
        hazards: ["allelopathy"],
      },
      "2026-06-12": { fits: false, ready: "2026-06-20..2026-07-08" },
      "2026-07-12": { state: "ready" },
    },
  },

  "a late cut": {
    told: "Left until pods stand, cut vetch can still ripen live seed: the tops must leave the bed, and the plan says so instead of scolding.",
    held: [
      "HOORMAN2024 and common practice: podded vetch ripens in the swath; hard seed lives on for years",
      "MARION2018: cut before seed",
    ],
    place: "lancaster",
    sowings: `
      - sown: 2025-09-20
        species: { hairy-vetch: 40, winter-rye: 60 }
        next: { crop: squash, wanted: 2026-06-20 }`,
    said: [
      ["2026-06-20", saw("seed", "2026-06-20", "hairy-vetch")],
      ["2026-07-02", cut("2026-07-02", "carry-off")],
    ],
    on: {
      // Before the first of the mix may carry live seed; from that day on grain in the rye is a reason to carry it off.
      "2026-05-20": { state: ["growing", "blooming"], cut: { carryOff: false } },
      "2026-06-21": { state: "blooming", cut: { carryOff: true }, hazards: ["seed"], says: ["carry the tops off"] },
      "2026-06-30": { fits: false, cut: { carryOff: true } },
      "2026-07-03": { state: "cut", rest: "2026-07-12..2026-07-25", neverSays: ["left on top"] },
      "2026-07-30": { state: "ready" },
    },
  },

  "a wet spring": {
    told: "With rain forecast for the first days of the window the best day waits for a dry one, and what lies on wet ground rots faster than in a drought.",
    held: [
      "Thapa 2022: wetting rules the decay of residue on the surface",
      "common practice, no source: cut before a dry day",
    ],
    place: "ithaca",
    sowings: `
      - sown: 2025-09-15
        species: [winter-rye]
        next: { crop: squash, wanted: 2026-07-15 }`,
    said: [["2026-05-29", saw("bloom", "2026-05-29")]],
    weather: (on) => ({
      forecast: {
        first: Math.floor(Date.parse(`${on}T00:00Z`) / 86_400_000),
        tmin_c: Float64Array.of(11, 11, 11, 11, 11, 11, 11),
        tmax_c: Float64Array.of(20, 20, 20, 20, 20, 20, 20),
        rain_mm: Float64Array.of(14, 9, 22, 8, 0, 0, 0),
      },
    }),
    on: {
      "2026-05-29": { state: "blooming", cut: { best: "2026-06-02..2026-06-12" } },
      "2026-05-30": { cut: { best: "2026-06-03..2026-06-12" } },
      "2026-05-31": { cut: { best: "2026-06-04..2026-06-12" } },
      "2026-03-01": { state: "growing" },
      "2026-06-01": { cut: { from: "2026-05-25..2026-06-02" } },
    },
  },

  "wheat and winter peas, measured": {
    told: "A stand of known height and cover gives a reckoned nitrogen credit; three quarters of cereal leave next to nothing.",
    held: [
      "PNW 636: 75 % cereal with 25 % legume is near zero",
      "NDSU: 2,000 lb an acre at 8 inches of a small grain, full cover",
    ],
    place: "portland",
    sowings: `
      - sown: 2025-10-05
        species: { winter-wheat: 75, winter-pea: 25 }
        then: turn-in
        next: { crop: squash, wanted: 2026-06-20 }`,
    said: [
      [
        "2026-05-18",
        saw("bloom", "2026-05-18", "winter-pea"),
        measured("height_cm", 70, "2026-05-18"),
        measured("cover_percent", 90, "2026-05-18"),
      ],
      ["2026-05-20", cut("2026-05-20", "turn-in")],
    ],
    on: {
      "2025-10-05": { state: "sown" },
      "2026-02-01": { state: "growing", dies: { "winter-wheat": [0, 0.02], "winter-pea": [0, 0.5] } },
      "2026-05-18": { state: "blooming", firstFlower: { "winter-pea": "2026-05-18..2026-05-18" } },
      "2026-05-21": {
        state: "cut",
        nitrogen: [0, 4],
        rest: "2026-06-02..2026-06-20",
        says: ["from the height you gave"],
      },
      "2026-07-10": { state: "ready" },
    },
  },
})
