import { describe, expect, it } from "vitest"
import type { Act } from "../../src/garden/acts.ts"
import { checkText } from "../../src/wording/check-text.ts"
import { aBed, aCut, aGarden, aNext, aSowing, aSowingPlan, day, range, reply, sent, told } from "../given.ts"
import { answerOf } from "./given-answer.ts"

type Tell = Act & { act: "tell" }
const ask = (about: Tell["about"], bed: string | null = null, n: number | null = null): Act[] => [
  { act: "tell", about, bed, n },
]

const garden = aGarden({
  beds: [
    aBed({ id: "south", sowings: [aSowing({ bed: "south" })] }),
    aBed({ id: "east", sowings: [aSowing({ bed: "east", planned: day("2026-08-28") })] }),
  ],
})
const ready = range("2026-05-30", "2026-06-05", "2026-06-14")
const south = aSowingPlan({ cut: aCut("2026-05-06", "2026-05-08", "2026-05-14") })
const east = aSowingPlan({
  bed: "east",
  planned: day("2026-08-28"),
  sow: { from: day("2026-08-28"), by: day("2026-09-10"), why: "oats need 8 weeks before the first hard frost" },
  seed: [
    { id: "hairy-vetch", g: 13, bag_g: 14, seeds_per_m2: null, inoculant: "pea/vetch" },
    { id: "winter-rye", g: 20, bag_g: 22, seeds_per_m2: null, inoculant: null },
  ],
})
const before = [south, east]
const CUT = "south:2025-09-20:cut:1"
const toldCut = sent("ines", "2026-05-06 08:00", told(1, CUT, {}, 1))

describe("why", () => {
  it("gives the plan's own sentence for the bed, the number, or what was said last", () => {
    const why = "South bed: vetch can drop seed that grows after that."
    expect(answerOf({ garden, before, acts: ask("why", "south") })).toBe(why)
    expect(answerOf({ garden, before, acts: ask("why", null, 1), log: [toldCut] })).toBe(why)
    expect(answerOf({ garden, before, acts: ask("why"), log: [toldCut] })).toBe(why)
    expect(answerOf({ garden, before, acts: ask("why", "east") })).toBe(
      "East bed: oats need 8 weeks before the first hard frost.",
    )
  })

  it("asks which bed where nothing tells it", () => {
    expect(answerOf({ garden, before, acts: ask("why") })).toContain("Which bed?")
  })

  it("says early that a bed will not be ready when it is wanted, with the first way out", () => {
    const ways = [{ way: "carry the tops off on 9 May", ready, cost: "no mulch" }]
    const next = aNext("tomato", "2026-05-25", ready, {
      fits: false,
      ways,
      why: "The bed should be ready about 5 June, too late for tomatoes on 25 May.",
    })
    expect(answerOf({ garden, before: [{ ...south, next }], acts: ask("why", "south") })).toBe(
      "South bed: vetch can drop seed that grows after that. The bed should be ready about 5 June, too late for tomatoes on 25 May. A way out: carry the tops off on 9 May.",
    )
  })

  it("says what the garden's own seasons taught, where they moved the days", () => {
    const learned = "Your hairy vetch ran 6 days ahead of the book in 2024 and 2025, so 3 of them count here."
    const taught = south.species.map((one) => (one.id === "hairy-vetch" ? { ...one, learned } : one))
    expect(answerOf({ garden, before: [{ ...south, species: taught }], acts: ask("why", "south") })).toBe(
      `South bed: vetch can drop seed that grows after that. ${learned}`,
    )
  })

  it("cuts a reason that is too long at a word, within two segments", () => {
    const long = aSowingPlan({ cut: { ...south.cut!, why: "because of many things, ".repeat(30) } })
    const answer = answerOf({ garden, before: [long], acts: ask("why", "south") }) as string
    expect(answer.length).toBeLessThanOrEqual(306)
    expect(answer).toMatch(/\w\.\.\.$/)
  })
})

describe("next", () => {
  it("lists what is due and what is coming, the nearest first", () => {
    expect(answerOf({ garden, before, acts: ask("next") })).toBe(
      "Next: Cut South bed, best 8-14 May. From 28 Aug: sow East bed by about 10 Sep.",
    )
    expect(answerOf({ garden, before, acts: ask("next", "east") })).toBe(
      "Next: From 28 Aug: sow East bed by about 10 Sep.",
    )
  })

  it("leaves out what is settled, and names the day of a snooze", () => {
    const done = reply("ines", "2026-05-06 09:00", [{ act: "done", n: [1], on: day("2026-05-06") }])
    expect(answerOf({ garden, before, acts: ask("next", "south"), log: [toldCut, done] })).toBe(
      "Nothing is coming up on South bed that I know of.",
    )
    const snooze = reply("ines", "2026-05-06 09:00", [{ act: "snooze", n: [1], until: day("2026-05-09") }])
    expect(answerOf({ garden, before, acts: ask("next", "south"), log: [toldCut, snooze] })).toContain(
      "snoozed till 9 May",
    )
  })
})

describe("how much", () => {
  it("tells seed for what is to be sown, in both units, with the inoculant", () => {
    expect(answerOf({ garden, before, acts: ask("how-much", "east") })).toBe(
      "East bed: 0.5 oz vetch + 0.8 oz rye (14 g + 22 g). Inoculant for pea/vetch.",
    )
  })

  it("tells water for what was sown, and nitrogen for what follows", () => {
    const sown = aSowingPlan({ state: "sown", water: { water_l: 19, why: "the top 2 cm are dry" } })
    expect(answerOf({ garden, before: [sown], acts: ask("how-much", "south") })).toBe(
      "South bed: about 5 gal of water. The top 2 cm are dry.",
    )
    const credit = aSowingPlan({ nitrogen: { credit_g_per_m2: { low: 3, likely: 5, high: 8 }, why: "" } })
    const metric = aGarden({ ...garden, place: { units: "metric" } })
    expect(answerOf({ garden: metric, before: [credit], acts: ask("how-much", "south") })).toBe(
      "South bed: nitrogen left for the next crop. About 5 g per m2 (3 to 8 g per m2).",
    )
    expect(answerOf({ garden, before: [aSowingPlan()], acts: ask("how-much", "south") })).toBe(
      "South bed needs no amount now.",
    )
  })
})

describe("status and log", () => {
  it("tells each bed in a line", () => {
    expect(answerOf({ garden, before, acts: ask("status") })).toBe(
      "South bed: growing, best cut 8-14 May. East bed: to be sown by about 10 Sep.",
    )
    const resting = aSowingPlan({ state: "resting", next: aNext("tomato", "2026-05-25", ready) })
    expect(answerOf({ garden, before: [resting], acts: ask("status", "south") })).toBe(
      "South bed: resting, ready around 5 June (30 May-14 June).",
    )
  })

  it("says of a window that is over that its limit is past", () => {
    const late = aSowingPlan({ state: "blooming", cut: aCut("2026-04-06", "2026-04-08", "2026-04-14") })
    expect(answerOf({ garden, before: [late], acts: ask("status", "south") })).toBe(
      "South bed: in bloom, past its cutting limit of 14 Apr.",
    )
  })

  it("tells what was logged last", () => {
    const bloom = reply("ines", "2026-05-04 09:00", [
      { act: "observe", bed: "south", species: null, what: "bloom", on: day("2026-05-04") },
    ])
    const cut = reply("ines", "2026-05-06 09:00", [
      { act: "cut", bed: "south", species: [], then: null, on: day("2026-05-05") },
    ])
    expect(answerOf({ garden, before, acts: ask("log", "south"), log: [bloom, cut] })).toBe(
      "Last logged: South bed cut, yesterday. Bloom on South bed, on 4 May.",
    )
    expect(answerOf({ garden, before, acts: ask("log") })).toBe("Nothing is logged yet.")
  })
})

it("questions are answered without reply words, by the rules of wording", () => {
  for (const about of ["why", "next", "how-much", "status", "log"] as const)
    for (const bed of ["south", "east", null]) {
      const answer = answerOf({ garden, before, acts: ask(about, bed) }) as string
      expect(checkText(answer, { replies: "none", several: true }), answer).toEqual([])
    }
})

it("a report and a question in one text are both answered", () => {
  const acts: Act[] = [{ act: "watered", bed: "south", on: day("2026-05-06") }, ...ask("next", "south")]
  expect(answerOf({ garden, before, acts })).toBe(
    "South bed watered, noted for today. Next: Cut South bed, best 8-14 May. Not right? Reply UNDO.",
  )
})
