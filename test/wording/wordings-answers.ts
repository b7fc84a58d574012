import type { Act, Ask } from "../../src/garden/acts.ts"
import { MEASURES, STAGES } from "../../src/garden/acts.ts"
import { type NewEntry, REMINDER_KINDS, type ReminderKind } from "../../src/garden/entry.ts"
import type { SowingPlan, SowingState } from "../../src/season/bed-plan.ts"
import type { TextKind } from "../../src/wording/check-text.ts"
import {
  aBed,
  aCut,
  aGarden,
  aNext,
  aPerson,
  aSowing,
  aSowingPlan,
  aSpeciesPlan,
  day,
  range,
  reply,
  sent,
  told,
} from "../given.ts"
import { planOn } from "../season/given.ts"
import { answerOf, type Reply } from "./given-answer.ts"
import { asText, LONG, type Wording } from "./wording.ts"

const TODAY = day("2026-05-06")
const person = aPerson({ name: LONG.person, email: LONG.email })
const ben = aPerson({ id: "ben", name: "Benedict", phone: "+17175550143" })
const garden = aGarden({
  name: LONG.garden,
  people: [person, ben],
  beds: [
    aBed({ id: "south", name: LONG.bed, sowings: [aSowing({ bed: "south" })] }),
    aBed({ id: "east", name: LONG.otherBed, sowings: [aSowing({ bed: "east" })] }),
    aBed({ id: "north", name: LONG.thirdBed, sowings: [aSowing({ bed: "north" })] }),
    aBed({ id: "west", name: "West bed" }),
  ],
})
const ready = range("2026-05-30", "2026-06-05", "2026-06-14")
const later = range("2026-06-03", "2026-06-09", "2026-06-18")
const rest = { transplants: ready, smallSeed: ready, why: "stems rot slowly" }
const window = aSowingPlan({ cut: aCut("2026-05-06", "2026-05-08", "2026-05-14") })
const idOf = (kind: ReminderKind, bed = "south") => `${bed}:2025-09-20:${kind}:1`
/** Maximiliane heard of these, by number. */
const heard = sent("ines", "2026-05-06 08:00", ...REMINDER_KINDS.map((kind, index) => told(index + 1, idOf(kind))))
const alsoEast = sent("ines", "2026-05-06 08:00", told(21, idOf("cut", "east")), told(22, idOf("cut", "north")))
const numberOf = (kind: ReminderKind) => REMINDER_KINDS.indexOf(kind) + 1
const on = { bed: "south", on: TODAY }

/** Every answer to a reply. */
export function answerWordings(): Wording[] {
  return [...noted(), ...moved(), ...settled(), ...asked(), ...questions(), ...reasons(), ...service()]
}

function answer(name: string, known: Reply, rules: TextKind = {}): Wording[] {
  const text = answerOf({ garden, person, ...known })
  return text === null ? [] : [asText(`answer ${name}`, text, rules)]
}

function noted(): Wording[] {
  const acts: Act[] = [
    ...STAGES.flatMap((what): Act[] => [
      { act: "observe", species: null, what, ...on },
      { act: "observe", species: "crimson-clover", what, ...on },
    ]),
    ...MEASURES.flatMap((what): Act[] => [
      { act: "measure", what, value: 23, ...on },
      { act: "measure", what, value: 23, bed: null, on: TODAY },
    ]),
    { act: "sowed", species: [], ...on },
    ...([null, "leave", "carry-off", "turn-in", "tarp"] as const).map(
      (then): Act => ({ act: "cut", species: [], then, ...on }),
    ),
    { act: "cut", species: ["crimson-clover", "winter-rye"], then: null, ...on },
    { act: "watered", ...on },
    { act: "planted", crop: null, ...on },
    { act: "planted", crop: "summer-squash", ...on },
    { act: "want", crop: "summer-squash", ...on },
    { act: "want", crop: null, ...on },
    { act: "watered", bed: "south", on: day("2026-05-05") },
    { act: "watered", bed: "south", on: day("2025-09-30") },
  ]
  const two: Act[] = [
    { act: "observe", species: null, what: "bloom", ...on },
    { act: "cut", species: [], then: null, bed: "east", on: TODAY },
  ]
  const twoDays: Act[] = [two[0] as Act, { act: "watered", bed: "east", on: day("2026-05-05") }]
  return [
    ...acts.flatMap((act) => answer(`noted ${act.act}`, { acts: [act] })),
    ...answer("noted several", { acts: two }),
    ...answer("noted several days", { acts: twoDays }),
    ...REMINDER_KINDS.flatMap((kind) =>
      answer(`done ${kind}`, { acts: [{ act: "done", n: [numberOf(kind)], on: TODAY }], log: [heard] }),
    ),
    ...answer("noted, number unknown", { acts: [{ act: "done", n: [77], on: TODAY }] }),
    ...answer("note", { note: true }),
    ...answer("undo", {
      acts: [{ act: "undo" }],
      log: [reply("ines", "2026-05-06 09:00", [two[0] as Act], "the vetch by the wall shows its first purple flowers")],
    }),
    ...answer("undo, nothing", { acts: [{ act: "undo" }] }),
  ]
}

function moved(): Wording[] {
  const bloom: Act = { act: "observe", species: null, what: "bloom", ...on }
  const patchy: Act = { act: "observe", species: null, what: "patchy", ...on }
  const cut: Act = { act: "cut", species: [], then: null, ...on }
  const sowed: Act = { act: "sowed", species: [], ...on }
  const again = (known: Partial<SowingPlan>) => [aSowingPlan(known)]
  const resting: Partial<SowingPlan> = { state: "resting", wasCut: { on: TODAY, then: "leave" }, rest }
  const twoBeds: Act[] = [bloom, { ...bloom, bed: "east" }]
  const east = aSowingPlan({ bed: "east", cut: aCut("2026-05-06", "2026-05-08", "2026-05-14") })
  const sooner = aCut("2026-05-07", "2026-05-06", "2026-05-11")
  const credit = { credit_g_per_m2: { low: 3, likely: 5, high: 8 }, why: "" }
  const little = { credit_g_per_m2: { low: 0, likely: 0.5, high: 1 }, why: "" }
  const next = aNext("tomato", "2026-05-25", ready)
  const cases: [name: string, known: Reply][] = [
    ["cut sooner", { acts: [bloom], before: [window], after: again({ cut: sooner }) }],
    [
      "cut sooner and open",
      { acts: [bloom], before: [window], after: again({ cut: aCut("2026-05-01", "2026-05-06", "2026-05-11") }) },
    ],
    [
      "cut to another month",
      {
        acts: [bloom],
        before: again({ cut: aCut("2026-05-20", "2026-05-29", "2026-06-04") }),
        after: again({ cut: aCut("2026-05-20", "2026-05-22", "2026-05-28") }),
      },
    ],
    ["cut stays", { acts: [bloom], before: [window] }],
    ["first cut", { acts: [bloom], before: again({}), after: [window] }],
    [
      "second cut",
      {
        acts: [bloom],
        before: [window],
        after: again({ cut: aCut("2026-06-06", "2026-06-08", "2026-06-14", { ordinal: 2 }) }),
      },
    ],
    ["no cut", { acts: [bloom], before: [window], after: again({ noCut: "frost has killed it" }) }],
    ["patchy", { acts: [patchy], before: again({ state: "up", resowBy: day("2026-05-20") }) }],
    [
      "sown",
      {
        acts: [sowed],
        before: again({ sown: null, planned: TODAY }),
        after: again({
          sown: TODAY,
          species: [aSpeciesPlan({ id: "white-clover", emergence: range("2026-05-10", "2026-05-14", "2026-05-20") })],
        }),
      },
    ],
    [
      "cut, a part left",
      {
        acts: [cut],
        before: [window],
        after: again({ wasCut: { on: TODAY, then: "leave" }, cut: aCut("2026-05-20", "2026-05-29", "2026-06-04") }),
      },
    ],
    ["cut, resting", { acts: [cut], before: [window], after: again(resting) }],
    [
      "cut, resting, by mail",
      { person: { ...person, by: "mail" }, acts: [cut], before: [window], after: again(resting) },
    ],
    [
      "ready moved",
      { acts: [bloom], before: again(resting), after: again({ ...resting, rest: { ...rest, transplants: later } }) },
    ],
    ["ready known", { acts: [bloom], before: again({}), after: again({ rest }) }],
    [
      "planted",
      {
        acts: [{ act: "planted", crop: "tomato", ...on }],
        before: again({ ...resting, next, nitrogen: credit }),
        after: again({ ...resting, next, nitrogen: credit, state: "planted", endedOn: TODAY }),
      },
    ],
    [
      "planted, little nitrogen",
      {
        acts: [{ act: "planted", crop: "tomato", ...on }],
        before: again({ ...resting, next, nitrogen: little }),
        after: again({ ...resting, next, nitrogen: little, state: "planted", endedOn: TODAY }),
      },
    ],
    [
      "several beds",
      { acts: twoBeds, before: [window, east], after: [...again({ cut: sooner }), { ...east, cut: sooner }] },
    ],
    [
      "want that fits",
      { acts: [{ act: "want", crop: "tomato", ...on }], before: again({ next: aNext("tomato", "2026-07-01", ready) }) },
    ],
    [
      "want too early",
      { acts: [{ act: "want", crop: "tomato", ...on }], before: again({ next: { ...next, fits: false } }) },
    ],
    [
      "want too early, a way out",
      {
        acts: [{ act: "want", crop: "tomato", ...on }],
        before: again({
          next: { ...next, fits: false, ways: [{ way: "carry the tops off on 9 May", ready, cost: "no mulch" }] },
        }),
      },
    ],
  ]
  return cases.flatMap(([name, known]) => answer(`moved, ${name}`, known))
}

function settled(): Wording[] {
  const skipped = (by: string) => reply(by, "2026-05-06 09:10", [{ act: "skip", n: [numberOf("cut")] }])
  const done = (by: string, when = "2026-05-06 09:10") =>
    reply(by, when, [{ act: "done", n: [numberOf("cut")], on: day(when.slice(0, 10)) }])
  const both = sent("ben", "2026-05-06 08:00", told(numberOf("cut"), idOf("cut")))
  const earlier = sent("ines", "2026-05-03 08:00", told(numberOf("cut"), idOf("cut")))
  const cutDone: Act[] = [{ act: "done", n: [numberOf("cut")], on: TODAY }]
  const snooze = (kind: ReminderKind, until: string): Act => ({ act: "snooze", n: [numberOf(kind)], until: day(until) })
  const put = (kind: ReminderKind, until: string) => reply("ines", "2026-05-06 09:00", [snooze(kind, until)])
  const because = (which: "seed" | "regrowth" | "next-crop" | "frost", next: SowingPlan["next"] = null) => [
    aSowingPlan({
      next,
      cut: aCut("2026-05-06", "2026-05-08", "2026-05-14", { setBy: { species: "hairy-vetch", because: which } }),
    }),
  ]
  const toSow = aSowingPlan({
    sown: null,
    planned: day("2025-09-20"),
    sow: { from: TODAY, by: day("2026-05-10"), why: "" },
  })
  const cases: [name: string, known: Reply][] = [
    ["done before by somebody", { acts: cutDone, log: [heard, both, done("ben")] }],
    ["done before by themselves", { acts: cutDone, log: [earlier, done("ines", "2026-05-04 09:10")] }],
    ["set aside before by somebody", { acts: cutDone, log: [heard, both, skipped("ben")] }],
    ["set aside before by themselves", { acts: cutDone, log: [heard, skipped("ines")] }],
    ["snooze", { acts: [snooze("cut", "2026-05-09")], log: [heard], before: [window] }],
    [
      "snooze several",
      {
        acts: [{ act: "snooze", n: [numberOf("cut"), 21], until: day("2026-05-09") }],
        log: [heard, alsoEast],
        before: [window],
      },
    ],
    ...(["seed", "regrowth", "next-crop", "frost"] as const).map((which): [string, Reply] => [
      `snooze past the limit, ${which}`,
      { acts: [snooze("cut", "2026-05-16")], log: [heard], before: because(which) },
    ]),
    [
      "snooze past the limit of a crop",
      {
        acts: [snooze("cut", "2026-05-16")],
        log: [heard],
        before: because("next-crop", aNext("summer-squash", "2026-05-25", ready)),
      },
    ],
    ["snooze past sowing", { acts: [snooze("sow", "2026-05-16")], log: [heard], before: [toSow] }],
    [
      "third snooze",
      {
        acts: [snooze("cut", "2026-05-12")],
        log: [heard, put("cut", "2026-05-07"), put("cut", "2026-05-09")],
        before: [window],
      },
    ],
    [
      "third snooze of something else",
      { acts: [snooze("plant", "2026-05-12")], log: [heard, put("plant", "2026-05-07"), put("plant", "2026-05-09")] },
    ],
    ...REMINDER_KINDS.map((kind): [string, Reply] => [
      `skip ${kind}`,
      { acts: [{ act: "skip", n: [numberOf(kind)] }], log: [heard] },
    ]),
    ["skip two", { acts: [{ act: "skip", n: [numberOf("cut"), 21] }], log: [heard, alsoEast] }],
  ]
  return cases.flatMap(([name, known]) => answer(name, known))
}

function asked(): Wording[] {
  const ask = (name: string, which: Ask["which"], choices: Ask["choices"], known: Reply = {}) =>
    answer(`asks, ${name}`, { ask: { which, choices }, ...known })
  const log: NewEntry[] = [heard, alsoEast]
  const cut = numberOf("cut")
  return [
    ...ask("bed", "bed", ["south", "east", "north"]),
    ...ask("bed, many", "bed", ["south", "east", "north", "west"]),
    ...ask("species", "species", ["hairy-vetch", "common-vetch"]),
    ...ask("species, many", "species", []),
    ...ask("day", "day", []),
    ...ask("reminder of two", "reminder", [cut, 21], { log, note: true }),
    ...ask("reminder of three", "reminder", [cut, 21, 22], { log }),
    ...ask("reminder of many", "reminder", [cut, 21, 22, 1], { log }),
    ...ask("reminder, none", "reminder", [77], { log }),
    ...ask("what, nothing open", "what", []),
    ...ask("what, with its number", "what", [cut], { log: [heard], before: [window] }),
    ...ask("what", "what", [], { log: [heard], before: [window] }),
    ...answer("asks, behind what was clear", {
      acts: [{ act: "observe", species: null, what: "bloom", ...on }],
      ask: { which: "bed", choices: ["south", "east"] },
      before: [window],
    }),
  ]
}

function questions(): Wording[] {
  const about = (
    what: (Act & { act: "tell" })["about"],
    bed: string | null = "south",
    n: number | null = null,
  ): Act[] => [{ act: "tell", about: what, bed, n }]
  const state = (known: SowingState, more: Partial<SowingPlan> = {}) =>
    answer(
      `status ${known}`,
      { acts: about("status"), before: [aSowingPlan({ state: known, ...more })] },
      { replies: "none" },
    )
  const seed = [
    { id: "crimson-clover", g: 13, bag_g: 14, seeds_per_m2: null, inoculant: "clover" },
    { id: "hairy-vetch", g: 20, bag_g: 22, seeds_per_m2: null, inoculant: "pea/vetch" },
    { id: "annual-ryegrass", g: 20, bag_g: 22, seeds_per_m2: null, inoculant: null },
  ]
  const planned = aSowingPlan({
    sown: null,
    planned: day("2026-08-28"),
    sow: { from: day("2026-08-28"), by: day("2026-09-10"), why: "" },
    seed,
  })
  const wet = { water_l: 19, why: "the top 2 cm are dry" }
  const credit = { credit_g_per_m2: { low: 3, likely: 5, high: 8 }, why: "" }
  const snoozed = reply("ines", "2026-05-06 09:00", [{ act: "snooze", n: [numberOf("cut")], until: day("2026-05-09") }])
  const facts = STAGES.map((what) =>
    reply("ines", "2026-05-04 09:00", [{ act: "observe", bed: "south", species: null, what, on: day("2026-05-04") }]),
  )
  const works: Act[] = [
    { act: "measure", bed: "south", what: "height_cm", value: 30, on: TODAY },
    { act: "want", bed: "south", crop: null, on: TODAY },
    { act: "sowed", bed: "south", species: [], on: TODAY },
    { act: "watered", bed: "south", on: TODAY },
    { act: "planted", bed: "south", crop: null, on: TODAY },
    { act: "cut", bed: "south", species: [], then: null, on: TODAY },
  ]
  const none = { replies: "none" } as const
  const misfit = aNext("tomato", "2026-05-25", ready, {
    fits: false,
    why: "The bed should be ready about 5 June, too late for tomatoes on 25 May.",
    ways: [{ way: "carry the tops off on 9 May", ready, cost: "no mulch" }],
  })
  return [
    ...answer("why, which bed", { acts: about("why", null) }, none),
    ...answer("why, nothing", { acts: about("why"), before: [aSowingPlan({ state: "ended" })] }, none),
    ...answer("why, back after cutting", { acts: about("why", null, numberOf("check-regrowth")), log: [heard] }, none),
    ...answer("why, too late", { acts: about("why"), before: [{ ...window, next: misfit }] }, none),
    ...answer("next", { acts: about("next", null), before: [window, { ...planned, bed: "east" }] }, none),
    ...answer("next, snoozed", { acts: about("next"), before: [window], log: [heard, snoozed] }, none),
    ...answer(
      "next, nothing",
      { acts: about("next", null), before: [aSowingPlan({ state: "ended", endedOn: TODAY })] },
      none,
    ),
    ...answer(
      "next, nothing there",
      { acts: about("next"), before: [aSowingPlan({ state: "ended", endedOn: TODAY })] },
      none,
    ),
    ...answer("how much seed", { acts: about("how-much"), before: [planned] }, none),
    ...answer(
      "how much water",
      { acts: about("how-much"), before: [aSowingPlan({ state: "sown", water: wet })] },
      none,
    ),
    ...answer("how much nitrogen", { acts: about("how-much"), before: [aSowingPlan({ nitrogen: credit })] }, none),
    ...answer("how much, nothing", { acts: about("how-much", null) }, none),
    ...answer("how much, nothing there", { acts: about("how-much") }, none),
    ...state("planned", { sown: null, planned: day("2026-08-28"), sow: planned.sow }),
    ...state("planned", { sown: null, planned: day("2026-08-28") }),
    ...state("sown", {
      species: [aSpeciesPlan({ id: "oats", emergence: range("2026-05-10", "2026-05-14", "2026-05-20") })],
    }),
    ...state("sown", { species: [] }),
    ...state("up", { noCut: "frost will kill it" }),
    ...state("growing", { cut: window.cut }),
    ...state("blooming", { cut: aCut("2026-04-06", "2026-04-08", "2026-04-14") }),
    ...state("cut"),
    ...state("resting", { rest }),
    ...state("ready"),
    ...state("planted"),
    ...state("ended"),
    ...answer("status, nothing", { acts: about("status", "west") }, none),
    ...answer("log, nothing", { acts: about("log", null) }, none),
    ...answer("log, nothing there", { acts: about("log") }, none),
    ...facts.flatMap((fact) => answer("log", { acts: about("log"), log: [fact] }, none)),
    ...works.flatMap((act) =>
      answer("log", { acts: about("log"), log: [reply("ines", "2026-05-06 09:00", [act])] }, none),
    ),
  ]
}

/** WHY, as the plan of a real season answers it, each month. */
function reasons(): Wording[] {
  const mix = (...ids: string[]) => ids.map((id) => ({ id, share: 1 / ids.length }))
  const next = (crop: string, wanted: string) => ({ crop, wanted: day(wanted) })
  const known = aGarden({
    ...garden,
    beds: [
      aBed({ id: "south", name: LONG.bed, sowings: [aSowing({ bed: "south", next: next("tomato", "2026-05-25") })] }),
      aBed({
        id: "east",
        name: LONG.otherBed,
        sowings: [
          aSowing({
            bed: "east",
            species: mix("oats", "field-pea"),
            sown: day("2025-08-28"),
            next: next("lettuce", "2026-04-10"),
          }),
        ],
      }),
      aBed({
        id: "north",
        name: LONG.thirdBed,
        sowings: [aSowing({ bed: "north", species: mix("crimson-clover"), planned: day("2025-09-10"), sown: null })],
      }),
      aBed({
        id: "west",
        name: "West bed",
        sowings: [
          aSowing({
            bed: "west",
            species: mix("sorghum-sudangrass"),
            sown: day("2026-06-01"),
            then: "turn-in",
            next: next("broccoli", "2026-08-10"),
          }),
        ],
      }),
    ],
  })
  const days = [
    "2025-08-30",
    "2025-09-15",
    "2025-10-01",
    "2025-12-10",
    "2026-03-20",
    "2026-04-15",
    "2026-05-01",
    "2026-05-20",
    "2026-06-10",
    "2026-07-20",
    "2026-09-01",
  ]
  return days.flatMap((on) => {
    const before = planOn(known, [], on).beds.flatMap((bed) => bed.sowings)
    return known.beds.flatMap((bed) =>
      answer(
        "why",
        { garden: known, when: `${on} 10:00`, before, acts: [{ act: "tell", about: "why", bed: bed.id, n: null }] },
        { replies: "none" },
      ),
    )
  })
}

function service(): Wording[] {
  const carrier = { carrierWords: true }
  return [
    ...answer("start", { acts: [{ act: "start" }] }),
    ...answer("help", { acts: [{ act: "help" }] }, carrier),
    ...answer("join", { acts: [{ act: "join", word: "acre" }] }, carrier),
    ...answer("pause", { acts: [{ act: "pause", until: null }] }),
    ...answer("pause till a day", { acts: [{ act: "pause", until: day("2026-06-20") }] }),
    ...answer("resume", { acts: [{ act: "resume" }] }),
    ...answer("stop", { acts: [{ act: "stop" }] }, carrier),
  ]
}
