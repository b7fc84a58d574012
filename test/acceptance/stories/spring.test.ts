import { cut, saw, tell, wants } from "./tell.ts"

/** Covers sown in spring. */
tell({
  "mustard turned in before potatoes": {
    told: "Chopped and turned in green it gives off a gas that harms seedlings too: one to two weeks and a light loosening before the sets go in.",
    held: [
      "CORNELL-BIOFUM: disk lightly at least 7 days later",
      "growers' rule: 10 to 14 days",
      "CORNELL-SPRING: sown March-April, worked in at flower in late May or early June",
    ],
    place: "portland",
    sowings: `
      - sown: 2026-03-20
        species: [brown-mustard]
        then: turn-in
        next: { crop: potato, wanted: 2026-06-15 }`,
    said: [
      ["2026-05-20", saw("bloom", "2026-05-20")],
      ["2026-05-24", cut("2026-05-24", "turn-in")],
    ],
    on: {
      "2026-03-20": { state: "sown", firstFlower: { "brown-mustard": "2026-05-01..2026-06-08" } },
      "2026-05-01": { state: ["growing", "blooming"], says: ["mustard-oil fumes"] },
      "2026-05-20": { state: "blooming", cut: { by: "2026-05-22..2026-06-16" } },
      "2026-05-25": { rest: "2026-06-03..2026-06-15", hazards: ["gas"], fits: true },
      "2026-06-16": { state: "ready" },
    },
  },

  "peas and oats before fall broccoli": {
    told: "The peas flower first and set the day; oats cut so young may come back, so the bed is looked at ten days on.",
    held: [
      "SARE 1998: peas do not recover once bloom has begun; oats are killed at milk to soft dough",
      "seed notes: field peas 55-65 days from a spring sowing",
    ],
    place: "ithaca",
    sowings: `
      - sown: 2026-04-18
        species: { field-pea: 55, oats: 45 }
        next: { crop: broccoli, wanted: 2026-07-25 }`,
    said: [
      ["2026-06-16", saw("bloom", "2026-06-16", "field-pea")],
      ["2026-06-18", cut("2026-06-18")],
      ["2026-06-30", saw("no-regrowth", "2026-06-30")],
    ],
    on: {
      "2026-04-18": {
        state: "sown",
        up: "2026-04-26..2026-05-10",
        firstFlower: { "field-pea": "2026-06-05..2026-07-02" },
      },
      "2026-05-20": { state: "growing", cut: { setBy: "field-pea" } },
      "2026-06-16": {
        state: "blooming",
        cut: { by: "2026-06-16..2026-06-24", survivors: ["oats"] },
        says: ["expect some regrowth"],
      },
      "2026-06-19": { state: "cut", asks: "regrowth", rest: "2026-06-27..2026-07-20", fits: true },
      "2026-07-25": { state: "ready" },
    },
  },

  "rye sown in spring": {
    told: "Without a winter it does not head: no bloom is expected, no seed sets a limit, and it is turned in or covered.",
    held: [
      "general botany and CORNELL-RYE: winter rye needs cold to head",
      "common practice, no source: spring-sown rye stays grass-like",
    ],
    place: "kellogg",
    sowings: `
      - sown: 2026-04-15
        species: [winter-rye]
        then: turn-in
        next: { crop: squash, wanted: 2026-07-01 }`,
    said: [["2026-06-05", cut("2026-06-05", "turn-in")]],
    on: {
      "2026-04-15": {
        noBloom: "winter-rye",
        firstFlower: { "winter-rye": null },
        says: ["No bloom is expected of the winter rye"],
      },
      "2026-05-20": { state: "growing", says: ["No bloom is expected of the winter rye"] },
      "2026-06-04": { state: "growing", cut: { setBy: "winter-rye" } },
      "2026-06-06": { rest: "2026-06-18..2026-06-30", fits: true },
      "2026-07-05": { state: "ready" },
    },
  },

  "winter rape sown in spring": {
    told: "A winter type sown in spring may never flower, and that is the answer.",
    held: ["vernalisation of winter rape (ROBERT02, forms that need cold); mixes and species notes: may never flower"],
    place: "bonn",
    sowings: `
      - sown: 2026-04-10
        species: [rapeseed]
        then: turn-in
        next: { crop: leek, wanted: 2026-07-10 }`,
    said: [["2026-06-12", cut("2026-06-12", "turn-in")]],
    on: {
      "2026-04-10": { noBloom: "rapeseed", firstFlower: { rapeseed: null } },
      "2026-05-15": { state: ["growing", "up"] },
      "2026-06-10": { says: ["No bloom is expected"] },
      "2026-06-13": { rest: "2026-06-22..2026-07-10", hazards: ["gas"] },
      "2026-07-15": { state: "ready" },
    },
  },

  "red clover for a year": {
    told: "No cut kills it: it is mown at its bloom, lives on, and is turned in two to three weeks before corn.",
    held: [
      "MSU-RED and MCCC: medium red clover regrows after cutting and flowers in its first summer",
      "SARE, Ohio: 75 lb of nitrogen an acre in the stand by 15 May",
      "a seed-house guide: 2-3 weeks after tilling in",
    ],
    place: "ithaca",
    sowings: `
      - sown: 2025-04-25
        species: [red-clover]
        next: { crop: corn, wanted: 2026-06-01 }`,
    said: [
      ["2025-08-01", cut("2025-08-01")],
      ["2026-05-10", cut("2026-05-10", "turn-in")],
    ],
    on: {
      "2025-04-25": {
        state: "sown",
        says: ["One cut does not kill red clover"],
        atSowing: ["dig it in or tarp it to end it"],
      },
      "2025-08-03": { state: "cut" },
      "2025-09-20": { state: ["growing", "blooming"], cut: { ordinal: 2 } },
      "2026-05-11": { rest: "2026-05-24..2026-06-03", nitrogen: [1.5, 8], hazards: ["seedcorn maggot"] },
      "2026-06-05": { state: "ready" },
    },
  },

  "a wish that changes": {
    told: "The gardener wants to plant sooner than the rest allows: the plan says no longer that it fits, and what can be done.",
    held: ["UNL 2021: two weeks between rye and the next crop; CORNELL-RYE: two to three"],
    place: "kellogg",
    sowings: `
      - sown: 2025-09-25
        species: [winter-rye]
        next: { crop: tomato, wanted: 2026-07-10 }`,
    said: [["2026-05-10", wants("2026-05-28", "tomato")]],
    on: {
      "2026-05-09": { fits: true },
      "2026-05-10": {
        fits: false,
        ways: ["cut younger", "carry the tops", "cover it with a tarp", "plant later"],
        says: ["too late for tomato on 28 May"],
      },
      "2026-05-15": { fits: false },
      "2025-10-01": { fits: true },
      "2026-05-20": { fits: false, ways: ["plant later"] },
    },
  },
})
