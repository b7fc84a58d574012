import { cut, saw, tell } from "./tell.ts"

/** Covers of the warm months. */
tell({
  "buckwheat in a summer gap": {
    told: "Five weeks bring it to full bloom, when a cut kills it; by about day 40 it must be down, and a week or two later broccoli goes in.",
    held: [
      "CORNELL-BWHB: full bloom about day 35; cut in bud it resprouts; by about day 40 (July sowing) or 45-50 (June sowing)",
      "ONT-BW: cut 7-10 days after the onset of flower",
      "the handbook resows a few days to a week after working it in",
    ],
    place: "ithaca",
    sowings: `
      - sown: 2026-06-28
        species: [buckwheat]
        then: turn-in
        next: { crop: broccoli, wanted: 2026-08-20 }`,
    said: [
      ["2026-07-02", saw("up", "2026-07-02")],
      ["2026-07-29", saw("bloom", "2026-07-29")],
      ["2026-08-05", cut("2026-08-05", "turn-in")],
    ],
    on: {
      "2026-06-28": {
        up: "2026-07-01..2026-07-04",
        water: [12, 26],
        firstFlower: { buckwheat: "2026-07-22..2026-08-03" },
        fits: true,
      },
      "2026-07-20": {
        state: "growing",
        cut: { best: "2026-07-26..2026-08-10", by: "2026-07-30..2026-08-14" },
        asks: "bloom",
      },
      "2026-07-29": { state: "blooming", cut: { by: "2026-08-03..2026-08-10", setBy: "buckwheat seed" } },
      "2026-08-06": { state: "cut", rest: "2026-08-12..2026-08-20" },
      "2026-08-21": { state: "ready", fits: true },
    },
  },

  "buckwheat sown in the middle of August": {
    told: "Six to seven weeks are wanted before frost; sown so late, the first light frost ends it before it seeds, or nearly.",
    held: ["CORNELL-BW: 20 May to 15 August in New York, wants 6-7 weeks", "ONT-BW: dies at the first light frost"],
    place: "ithaca",
    sowings: `
      - sown: 2026-08-14
        species: [buckwheat]
        next: { crop: garlic, wanted: 2026-11-01 }`,
    said: [["2026-10-06", saw("frost-killed", "2026-10-06")]],
    on: {
      // The chance is that frost takes it before live seed; the sources name the last good day, no chance.
      "2026-08-14": { state: "sown", dies: { buckwheat: [0.6, 1] }, resowBy: "2026-08-14..2026-09-05" },
      "2026-08-25": { state: ["up", "sown"] },
      "2026-10-07": { cut: null, noCut: "has killed it" },
      "2026-10-15": { ready: "2026-10-10..2026-11-15" },
      "2026-11-20": { state: "ready" },
    },
  },

  "sorghum-sudangrass": {
    told: "Mowing does not kill it; frost does. It is said at sowing, and mown it grows on.",
    held: ["CORNELL-SUDAN: meant to be cut, it regrows and roots deeper", "PSU-FROST: dead after 23 F (-5 C)"],
    place: "beltsville",
    sowings: `
      - sown: 2026-06-10
        species: [sorghum-sudangrass]
        next: { crop: onion, wanted: 2027-04-10 }`,
    said: [
      ["2026-07-28", cut("2026-07-28")],
      ["2026-11-10", saw("frost-killed", "2026-11-10")],
    ],
    on: {
      "2026-06-10": {
        state: "sown",
        dies: { "sorghum-sudangrass": [0.9, 1] },
        says: ["does not kill sorghum-sudangrass"],
      },
      "2026-07-10": { state: "growing" },
      "2026-07-30": { state: "cut" },
      "2026-09-05": { state: ["growing", "blooming"], cut: { ordinal: 2 } },
      "2026-11-12": { cut: null, noCut: "has killed it", fits: true },
    },
  },

  "cowpea in Florida": {
    told: "Its pods are live within three weeks of the flower, the quickest of all, and a light cut lets it come back.",
    held: [
      "a seed study: seed germinates 16 days after the flower opens",
      "SARE 1998: quick comeback after light pruning; 100-150 lb of nitrogen an acre",
    ],
    place: "gainesville",
    sowings: `
      - sown: 2026-06-01
        species: [cowpea]
        then: turn-in
        next: { crop: broccoli, wanted: 2026-09-20 }`,
    said: [
      ["2026-07-30", saw("bloom", "2026-07-30")],
      ["2026-08-06", cut("2026-08-06", "turn-in")],
    ],
    on: {
      "2026-06-01": { up: "2026-06-04..2026-06-12", firstFlower: { cowpea: "2026-07-10..2026-08-25" } },
      "2026-07-30": { state: "blooming", cut: { by: "2026-08-03..2026-08-16", setBy: "cowpea seed" } },
      "2026-08-07": { rest: "2026-08-20..2026-08-30", nitrogen: [2, 11] },
      "2026-08-20": { state: ["cut", "ready", "resting"] },
      "2026-09-05": { state: "ready", fits: true },
    },
  },

  "a mix grows out in the warm season": {
    told: "A sown mix of quick covers stands within four to eight weeks and is ready to be cut.",
    held: [
      "common practice, no source: a mix grows out in four to eight weeks in the warm season; about 1.5 lb of it per 1,000 sq ft",
    ],
    place: "beltsville",
    size: "20 x 50 ft",
    sowings: `
      - planned: 2026-06-15
        species: { buckwheat: 60, phacelia: 10, cowpea: 30 }
        next: { crop: lettuce, wanted: 2026-09-10 }`,
    said: [["2026-06-15", { act: "sowed", bed: "bed", species: [], on: "2026-06-15" as never }]],
    on: {
      "2026-06-01": {
        state: "planned",
        sow: { from: "2026-06-15..2026-06-15", by: "2026-06-20..2026-09-10" },
        seed: { buckwheat: [200, 520], phacelia: [20, 90], cowpea: [100, 270] },
      },
      "2026-06-15": { state: "sown" },
      "2026-07-01": { state: ["up", "growing"] },
      "2026-07-13": { cut: { from: "2026-07-05..2026-08-10", best: "2026-07-13..2026-08-12" } },
      "2026-08-10": { cut: { by: "2026-07-13..2026-08-14" } },
    },
  },

  "phacelia on the Rhine": {
    told: "Sown in April it flowers six to eight weeks after it is up; its soft stems are gone soon.",
    held: [
      "trade notes: six to eight weeks from sowing in one seed house, from emergence in another",
      "TRADE-PHACELIA and TAMU-PHACELIA: up in 3 to 30 days, so that only a report tells",
      "common practice, no source: tender stems break down in about two to four weeks",
    ],
    place: "bonn",
    sowings: `
      - sown: 2026-04-12
        species: [phacelia]
        next: { crop: cabbage, wanted: 2026-07-20 }`,
    said: [
      ["2026-05-01", saw("up", "2026-05-01")],
      ["2026-06-08", saw("bloom", "2026-06-08")],
      ["2026-06-10", cut("2026-06-10")],
    ],
    on: {
      "2026-04-12": {
        state: "sown",
        up: "2026-04-18..2026-05-08",
        firstFlower: { phacelia: "2026-05-24..2026-06-26" },
      },
      "2026-05-15": { state: ["up", "growing"] },
      "2026-06-08": { state: "blooming", cut: { by: "2026-06-08..2026-06-20", setBy: "phacelia seed" } },
      "2026-06-11": { rest: "2026-06-19..2026-07-08", fits: true },
      "2026-07-10": { state: "ready" },
    },
  },
})
