import { cut, saw, tell } from "./tell.ts"

/** Covers that frost kills: a chance by the season's odds, asked about in spring, settled by what was seen. */
tell({
  "oats and peas before early lettuce": {
    told: "Sown late in August they die of frost by midwinter; no cut is due, and lettuce goes into the soft stems once the soil can be worked.",
    held: [
      "SARE 1998, page 64: oats winterkill in zone 6 and colder and in much of zone 7",
      "DAWLING and PSU-FROST: oats die at -7 to -9 C, spring peas under 20 F (-7 C)",
      "CURELL2012: oats six to ten weeks before the first frost",
      "common practice, no source: nothing waits on winter-killed stems in April",
    ],
    place: "lancaster",
    sowings: `
      - sown: 2025-08-25
        species: { oats: 50, field-pea: 50 }
        next: { crop: lettuce, wanted: 2026-04-15 }`,
    said: [["2026-03-12", saw("frost-killed", "2026-03-12")]],
    on: {
      "2025-08-25": {
        state: "sown",
        resowBy: "2025-08-25..2025-09-15",
        dies: { oats: [0.55, 1], "field-pea": [0.6, 1] },
      },
      "2025-10-20": { noCut: "probably", cut: null, fits: true },
      "2026-01-20": { cut: null, neverSays: ["has killed it"] },
      "2026-03-01": { cut: null, asks: "spring" },
      "2026-04-16": {
        state: "ready",
        noCut: "has killed it",
        ready: "2026-02-15..2026-04-12",
        fits: true,
        noHazards: ["allelopathy", "slugs"],
      },
    },
  },

  "oats that came back": {
    told: "Winter-killed oats have greened up again: when the gardener reports it, the cut is due after all.",
    held: [
      "seed lots of one species differ by as much as 8 C (WIERING2018, vetch); growers' reports of oats that survived",
      "Curell 2012: oats are best cut at milk; live seed soon after",
    ],
    place: "lancaster",
    sowings: `
      - sown: 2025-08-30
        species: [oats]
        next: { crop: squash, wanted: 2026-07-01 }`,
    said: [
      ["2026-03-20", saw("survived-frost", "2026-03-20")],
      ["2026-06-02", cut("2026-06-02")],
    ],
    on: {
      "2025-12-01": { cut: null, noCut: "probably" },
      "2026-03-10": { cut: null, asks: "spring" },
      "2026-03-21": { state: "growing", cut: { by: "2026-05-01..2026-07-01" } },
      "2026-06-03": { state: "cut", asks: "regrowth", rest: "2026-06-12..2026-07-02" },
      "2026-07-10": { state: "ready" },
    },
  },

  "daikon radish before spinach": {
    told: "Killed in winter, radish leaves a bed that early spinach is sown straight into.",
    held: [
      "University of Maryland FS-1134: after winter-killed radish spinach, peas and beets are sown straight in, untilled",
      "PSU-FROST: radish dies under 17 F (-8 C)",
    ],
    place: "beltsville",
    sowings: `
      - sown: 2025-08-25
        species: [daikon-radish]
        next: { crop: spinach, wanted: 2026-04-01 }`,
    said: [["2026-02-20", saw("frost-killed", "2026-02-20")]],
    on: {
      "2025-08-25": { state: "sown", dies: { "daikon-radish": [0.3, 1] } },
      "2025-11-01": { state: "growing" },
      "2026-02-21": { state: ["resting", "ready"], cut: null, noCut: "has killed it" },
      "2026-03-01": { ready: "2026-02-21..2026-04-01", fits: true },
      "2026-04-05": { state: "ready" },
    },
  },

  "oats with rye": {
    told: "The two halves of one mix part in winter: the oats die, and the cut in spring is the rye's alone.",
    held: [
      "SARE 1998: oats die in zone 6, rye lives through zone 3",
      "common practice, no source: oats as a nurse crop for rye",
    ],
    place: "ithaca",
    sowings: `
      - sown: 2025-09-01
        species: { oats: 40, winter-rye: 60 }
        next: { crop: squash, wanted: 2026-06-25 }`,
    said: [
      ["2026-03-25", saw("frost-killed", "2026-03-25", "oats"), saw("survived-frost", "2026-03-25", "winter-rye")],
      ["2026-06-01", cut("2026-06-01")],
    ],
    on: {
      "2025-10-15": { dies: { oats: [0.75, 1], "winter-rye": [0, 0.02] } },
      "2026-01-10": { cut: { setBy: "winter-rye" } },
      "2026-03-26": { state: "growing", cut: { setBy: "winter-rye", from: "2026-05-15..2026-06-12" } },
      "2026-06-02": { state: "cut", says: ["Winter rye cut"], neverSays: ["Oats and winter rye"] },
      "2026-07-05": { state: "ready" },
    },
  },

  "mustard sown in August": {
    told: "It flowers in four to six weeks, long before frost takes it: the cut comes first.",
    held: [
      "CORNELL-MUST: 4-6 weeks to flower, sown mid July through August",
      "German varieties sown mid August: 31-73 days",
      "OMAFRA2012: young mustard often lives through an Ontario winter",
      "common practice, no source: tender stems break down in about two to four weeks",
    ],
    place: "ithaca",
    sowings: `
      - sown: 2025-08-12
        species: [white-mustard]
        next: { crop: garlic, wanted: 2025-10-25 }`,
    said: [
      ["2025-09-22", saw("bloom", "2025-09-22")],
      ["2025-09-27", cut("2025-09-27")],
    ],
    on: {
      "2025-08-12": { state: "sown", firstFlower: { "white-mustard": "2025-09-09..2025-10-10" } },
      "2025-09-05": { state: "growing", cut: { from: "2025-09-05..2025-10-10", setBy: "white-mustard" } },
      "2025-09-22": {
        state: "blooming",
        cut: { from: "2025-09-15..2025-09-24", by: "2025-09-24..2025-10-20" },
        neverAsksInSpring: true,
      },
      "2025-09-28": { state: "cut", rest: "2025-10-11..2025-10-25", fits: true, noHazards: ["gas"] },
      "2025-10-26": { state: "ready" },
    },
  },

  "crimson clover in Michigan": {
    told: "Charted to zone 7, it usually dies in a Michigan winter: no cut is due, and spring is asked.",
    held: [
      "MSU-CRIMSON: winter-kills in Michigan",
      "the chart of hardiness, from memory: through zone 7, where the coldest night is about -18 to -12 C; Kellogg lies in zone 6",
    ],
    place: "kellogg",
    sowings: `
      - sown: 2025-08-28
        species: [crimson-clover]
        next: { crop: onion, wanted: 2026-04-25 }`,
    said: [["2026-04-05", saw("frost-killed", "2026-04-05")]],
    on: {
      "2025-08-28": { state: "sown", dies: { "crimson-clover": [0.55, 1] }, cut: null },
      "2025-11-01": { state: "growing", noCut: "probably", neverSays: ["has killed it"] },
      "2026-03-01": { cut: null, noCut: "by now" },
      "2026-03-28": { cut: null, asks: "spring" },
      "2026-04-06": { noCut: "has killed it", fits: true },
    },
  },

  "fava in Minnesota": {
    told: "Sown in autumn where winters are hard it dies, whatever its seed lot.",
    held: [
      "DAWLING, NORTH40, West Coast Seeds: fava dies at 25 to 0 F by type; January nights near Minneapolis average -14 C",
    ],
    place: "minneapolis",
    sowings: `
      - sown: 2025-08-25
        species: [fava-bean]
        next: { crop: lettuce, wanted: 2026-05-01 }`,
    said: [["2026-04-10", saw("frost-killed", "2026-04-10")]],
    on: {
      "2025-08-25": { state: "sown", dies: { "fava-bean": [0.9, 1] } },
      "2025-10-20": { cut: null, noCut: "probably" },
      "2026-02-01": { cut: null },
      "2026-04-11": { noCut: "has killed it", fits: true },
      "2026-05-01": { state: "ready" },
    },
  },
})
