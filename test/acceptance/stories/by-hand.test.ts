import { cut, planted, saw, sowed, tell, watered } from "./tell.ts"

/** What gardeners do and leave undone. */
tell({
  "a tarp over rye and vetch": {
    told: "Three weeks under a black sheet kill it; two leave some, one fails.",
    held: [
      "UW Extension, SARE ONC17-033: dead in three weeks",
      "Practical Farmers of Iowa 2023: three to four weeks kill rye, two leave some, one fails",
    ],
    place: "lancaster",
    sowings: `
      - sown: 2025-09-20
        species: { hairy-vetch: 40, winter-rye: 60 }
        then: tarp
        next: { crop: tomato, wanted: 2026-05-31 }`,
    said: [["2026-05-03", cut("2026-05-03", "tarp")]],
    on: {
      "2025-10-01": { state: ["up", "growing"] },
      "2026-04-15": { state: "growing" },
      "2026-05-04": { rest: "2026-05-24..2026-05-31", fits: true },
      "2026-05-20": { state: ["resting"] },
      "2026-06-02": { state: "ready" },
    },
  },

  "tops carried to the compost": {
    told: "Without its tops the bed is ready in some two weeks, and has little nitrogen of them.",
    held: [
      "PURDUE2015: at least about two weeks before vegetables",
      "common practice, no source: roots keep a small part of the nitrogen",
    ],
    place: "lancaster",
    sowings: `
      - sown: 2025-09-20
        species: { hairy-vetch: 40, winter-rye: 60 }
        then: carry-off
        next: { crop: tomato, wanted: 2026-06-10 }`,
    said: [
      ["2026-05-22", cut("2026-05-22", "carry-off")],
      ["2026-06-08", planted("2026-06-08", "tomato")],
    ],
    on: {
      "2025-11-01": { state: "growing" },
      "2026-05-23": { state: "cut", rest: "2026-06-02..2026-06-08", nitrogen: [0, 1.5], fits: true },
      "2026-06-07": { state: "ready" },
      "2026-06-08": { state: "planted" },
      "2026-08-01": { state: "planted", cut: null },
    },
  },

  "a bed abandoned and resumed": {
    told: "Nothing is heard from May to October; the bed is let go at last, and taken up again as soon as something is said.",
    held: ["common practice, no source: an annual cover that was never cut has run its course by autumn"],
    place: "lancaster",
    sowings: `
      - sown: 2025-09-20
        species: [winter-rye]
      - planned: 2026-10-05
        species: [winter-rye]`,
    said: [["2026-10-12", sowed("2026-10-10", "winter-rye")]],
    on: {
      "2026-06-20": { state: "blooming", cut: { carryOff: true } },
      "2026-08-10": { state: "blooming" },
      "2026-10-06": { state: ["blooming", "ended"] },
      "2026-10-13": { state: "ended", cut: null },
      "2026-12-01": { sowing: "2026-10-05", state: "growing" },
    },
  },

  "a stand that did not come up": {
    told: "Oats in cold dry soil: not up when they should be, watered, sown again, and the days are reckoned from the second sowing.",
    held: [
      "MO-TABLE and seed notes: oats come up in 5 to 15 days by the warmth of the soil",
      "CURELL2012: six weeks before frost are the least",
    ],
    place: "ithaca",
    sowings: `
      - sown: 2026-08-10
        species: [oats]
        next: { crop: lettuce, wanted: 2027-05-01 }`,
    said: [
      ["2026-08-11", watered("2026-08-11")],
      ["2026-08-24", saw("not-up", "2026-08-24")],
      ["2026-08-26", sowed("2026-08-26", "oats")],
      ["2026-09-03", saw("up", "2026-09-03")],
    ],
    on: {
      "2026-08-10": { state: "sown", up: "2026-08-13..2026-08-20", resowBy: "2026-08-15..2026-09-10" },
      "2026-08-11": { water: [0, 12] },
      "2026-08-25": { state: "sown", resowBy: "2026-08-20..2026-09-10" },
      "2026-08-27": { state: "sown", up: "2026-08-29..2026-09-08" },
      "2026-09-20": { state: "growing" },
    },
  },

  "mustard before cabbages": {
    told: "Mustard is of the cabbages' family and carries their clubroot and maggots: the plan warns before it is sown.",
    held: [
      "crops table and common practice: not after mustard, radish or other brassica covers (clubroot, maggots, flea beetles)",
    ],
    place: "portland",
    sowings: `
      - planned: 2026-03-25
        species: [white-mustard]
        next: { crop: cabbage, wanted: 2026-07-01 }`,
    said: [["2026-03-27", sowed("2026-03-27")]],
    on: {
      "2026-03-01": {
        state: "planned",
        says: ["are of one family", "clubroot"],
        atSowing: ["White mustard and cabbage are of one family: another bed is better."],
        sow: { by: "2026-03-25..2026-05-10" },
      },
      "2026-03-26": { state: "planned" },
      "2026-03-28": { state: "sown", says: ["clubroot"] },
      "2026-05-01": { state: ["growing", "blooming"], says: ["clubroot"] },
      "2026-06-01": { state: ["growing", "blooming"] },
    },
  },

  "headed rye turned in before tomatoes": {
    told: "Straw with a C:N near 40 ties up nitrogen for weeks: soft long before it is fed, so feed the crop or leave the straw on top.",
    held: [
      "NRCS Table 1: rye in flower 37:1 against the microbes' 24:1",
      "PNW 636: cereals tie up as much as 50 lb an acre (5.6 g per m2)",
      "STICS 8: deepest some 32 decay-days on, four weeks at 17 C",
    ],
    place: "ithaca",
    sowings: `
      - sown: 2025-09-15
        species: [winter-rye]
        then: turn-in
        next: { crop: tomato, wanted: 2026-06-25 }`,
    said: [
      ["2026-05-30", saw("bloom", "2026-05-30")],
      ["2026-06-02", cut("2026-06-02", "turn-in")],
    ],
    on: {
      "2025-10-20": { state: "growing" },
      "2026-05-30": { state: "blooming", cut: { from: "2026-05-28..2026-06-01" } },
      "2026-06-03": {
        rest: "2026-06-16..2026-06-24",
        nitrogen: [0, 0.3],
        hazards: ["nitrogen tie-up"],
        says: ["feed the crop"],
      },
      "2026-06-20": { fits: true },
      "2026-06-26": { state: "ready" },
    },
  },
})
