import { cut, saw, tell } from "./tell.ts"

/** Other places: under glass, in mild winters, south of the equator. */
tell({
  "crimson clover under glass": {
    told: "In a greenhouse it lives where the bed outside would lose it, blooms weeks sooner, and is watered by hand.",
    held: [
      "regional tables: late May outdoors in zone 6, April in zone 8-9; a greenhouse is taken to stand between",
      "Butler 2002: crimson clover follows the calendar and day length more than heat",
    ],
    place: "lancaster",
    kind: "greenhouse",
    sowings: `
      - sown: 2025-09-25
        species: [crimson-clover]
        next: { crop: tomato, wanted: 2026-05-25 }`,
    said: [
      ["2026-04-24", saw("bloom", "2026-04-24")],
      ["2026-05-04", cut("2026-05-04")],
    ],
    on: {
      "2025-09-25": {
        water: [12, 26],
        dies: { "crimson-clover": [0, 0.3] },
        firstFlower: { "crimson-clover": "2026-03-15..2026-05-15" },
      },
      "2025-12-01": { state: "growing", cut: { setBy: "crimson-clover" } },
      "2026-04-24": { state: "blooming", cut: { by: "2026-05-05..2026-05-24" } },
      "2026-05-05": { state: "cut", rest: "2026-05-14..2026-05-26", fits: true },
      "2026-06-01": { state: "ready" },
    },
  },

  "fava in a mild winter": {
    told: "West of the Cascades fava usually lives, flowers in spring, and is cut at its flower; if the winter was hard, the gardener says so.",
    held: [
      "regional tables: April-May in zone 7, February-April in zone 8-9",
      "DAWLING and others: dies at 25 to 0 F by type; plan on -9 C",
      "SARE 1998: fava does not come back well once bloom has begun",
      "the crops table: tomatoes want soil of 60 F, which under a mulch comes days later than in bare ground (Teasdale and Mohler 1993, from memory): the fava has rotted before the ground is warm",
    ],
    place: "portland",
    sowings: `
      - sown: 2025-10-10
        species: [fava-bean]
        next: { crop: tomato, wanted: 2026-05-31 }`,
    said: [
      ["2026-03-05", saw("survived-frost", "2026-03-05")],
      ["2026-04-18", saw("bloom", "2026-04-18")],
      ["2026-04-22", cut("2026-04-22")],
    ],
    on: {
      "2025-10-10": { dies: { "fava-bean": [0, 0.75] }, firstFlower: { "fava-bean": "2026-02-20..2026-05-15" } },
      "2026-03-06": { state: "growing", cut: { setBy: "fava-bean" } },
      "2026-04-18": { state: "blooming", cut: { by: "2026-04-18..2026-04-26" }, says: ["not known"] },
      "2026-04-23": { state: "cut", rest: "2026-05-02..2026-05-22", nitrogen: [1, 7] },
      "2026-06-05": { state: "resting", fits: false, says: ["Tomato wants soil of 60 F"], ways: ["carry the tops"] },
      "2026-06-25": { state: "ready" },
    },
  },

  "rye and vetch in New Zealand": {
    told: "South of the equator the cover is sown in April, flowers in October and November, and tomatoes follow in December.",
    held: [
      "the northern calendar of CORNELL-RYE and Teasdale 2004, half a year on; mild winters bring it forward",
      "UNL 2021: two weeks before the next crop",
    ],
    place: "christchurch",
    sowings: `
      - sown: 2026-04-05
        species: { hairy-vetch: 40, winter-rye: 60 }
        next: { crop: tomato, wanted: 2026-12-15 }`,
    said: [
      ["2026-11-02", saw("bloom", "2026-11-02", "hairy-vetch")],
      ["2026-11-18", cut("2026-11-18")],
    ],
    on: {
      "2026-04-05": {
        state: "sown",
        up: "2026-04-10..2026-04-24",
        firstFlower: { "winter-rye": "2026-10-10..2026-12-01", "hairy-vetch": "2026-09-25..2026-12-01" },
      },
      "2026-07-01": { state: "growing", dies: { "winter-rye": [0, 0.02], "hairy-vetch": [0, 0.2] } },
      "2026-11-02": { state: "blooming", cut: { by: "2026-11-05..2026-12-10" } },
      "2026-11-19": { state: "cut", rest: "2026-12-02..2026-12-24" },
      "2027-01-05": { state: "ready" },
    },
  },

  "oats on the Rhine": {
    told: "In a mild German winter oats die in some years and live in others: the odds are said, and spring is asked.",
    held: [
      "DAWLING: oats die once at -14 C or in three nights at -7 C; Bonn's January nights average -1 C with cold spells",
      "SARE 1998: oats overwinter in zone 8 and warmer",
    ],
    place: "bonn",
    sowings: `
      - sown: 2025-09-05
        species: [oats]
        next: { crop: cabbage, wanted: 2026-05-15 }`,
    said: [
      ["2026-03-10", saw("survived-frost", "2026-03-10")],
      ["2026-04-20", cut("2026-04-20", "turn-in")],
    ],
    on: {
      "2025-09-05": { dies: { oats: [0.15, 0.95] } },
      "2025-11-20": { state: "growing", neverSays: ["has killed it"] },
      "2026-03-11": { state: "growing", cut: { setBy: "oats" } },
      "2026-04-21": { rest: "2026-05-02..2026-05-18" },
      "2026-05-20": { state: "ready" },
    },
  },
})
