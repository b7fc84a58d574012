import { describe, expect, it } from "vitest"
import type { Act } from "../../src/garden/acts.ts"
import { middle } from "../../src/handbook/figure.ts"
import { checkText } from "../../src/wording/check-text.ts"
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
  handbook,
  range,
  reply,
  sent,
  told,
} from "../given.ts"
import { answerOf } from "./given-answer.ts"

const CUT = "south:2025-09-20:cut:1"
const window = aSowingPlan({ cut: aCut("2026-05-06", "2026-05-08", "2026-05-14") })
const toldCut = sent(
  "ines",
  "2026-05-06 08:00",
  told(1, CUT, { from: "2026-05-06", best: "2026-05-08", by: "2026-05-14" }, 1),
)
const bloom: Act = { act: "observe", bed: "south", species: null, what: "bloom", on: day("2026-05-06") }
const done = (on = "2026-05-06"): Act => ({ act: "done", n: [1], on: day(on) })

describe("what was seen", () => {
  it("is answered with what was logged, what moved and UNDO", () => {
    const moved = aSowingPlan({ cut: aCut("2026-05-07", "2026-05-06", "2026-05-11") })
    const answer = answerOf({ acts: [bloom], before: [window], after: [moved] })
    expect(answer).toBe(
      "Thank you. Bloom on South bed, noted for today. That moves the best cut to 6-11 May (it was 8-14). I'll text when it opens. Not right? Reply UNDO.",
    )
  })

  it("names the whole range that was where it began in another month", () => {
    const before = aSowingPlan({ cut: aCut("2026-05-20", "2026-05-29", "2026-06-04") })
    const after = aSowingPlan({ cut: aCut("2026-05-20", "2026-05-22", "2026-05-28") })
    expect(answerOf({ acts: [bloom], before: [before], after: [after] })).toContain(
      "to 22-28 May (it was 29 May-4 June)",
    )
  })

  it("says so where nothing moved", () => {
    expect(answerOf({ acts: [bloom], before: [window] })).toContain("The best cut stays 8-14 May.")
  })

  it("of a poor stand tells how long there is to sow again", () => {
    const act: Act = { act: "observe", bed: "south", species: null, what: "patchy", on: day("2026-05-06") }
    const fresh = aSowingPlan({
      state: "up",
      resowBy: day("2026-05-20"),
      cut: aCut("2026-06-06", "2026-06-08", "2026-06-14"),
    })
    expect(answerOf({ acts: [act], before: [fresh] })).toBe(
      "Thank you. A patchy stand on South bed, noted for today. There is time to sow again till about 20 May. Not right? Reply UNDO.",
    )
  })

  it("tells a person of mail that a mail will come, not a text", () => {
    const moved = aSowingPlan({ cut: aCut("2026-05-07", "2026-05-07", "2026-05-11") })
    const answer = answerOf({ person: aPerson({ by: "mail" }), acts: [bloom], before: [window], after: [moved] })
    expect(answer).toContain("I'll write when it opens.")
    expect(answer).not.toContain("text")
  })

  it("tells that no cut is needed where frost did the work", () => {
    const act: Act = {
      act: "observe",
      bed: "south",
      species: "hairy-vetch",
      what: "frost-killed",
      on: day("2026-05-05"),
    }
    const after = aSowingPlan({ noCut: "frost has killed it" })
    expect(answerOf({ acts: [act], before: [window], after: [after] })).toBe(
      "Thank you. Frost has killed the vetch on South bed, noted for yesterday. No cut is needed there now. Not right? Reply UNDO.",
    )
  })

  it("of regrowth opens a second cut", () => {
    const act: Act = { act: "observe", bed: "south", species: null, what: "regrowth", on: day("2026-05-06") }
    const before = aSowingPlan({ state: "resting", wasCut: { on: day("2026-04-25"), then: "leave" } })
    const after = { ...before, cut: aCut("2026-05-10", "2026-05-14", "2026-05-20", { ordinal: 2 }) }
    expect(answerOf({ acts: [act], before: [before], after: [after] })).toContain("A second cut looks best 14-20 May.")
  })
})

describe("what was done", () => {
  const ready = range("2026-05-30", "2026-06-05", "2026-06-14")
  const rest = { transplants: ready, smallSeed: ready, why: "stems rot slowly" }

  it("by its number tells when planting looks good", () => {
    const after = aSowingPlan({ state: "resting", wasCut: { on: day("2026-05-06"), then: "leave" }, rest })
    expect(answerOf({ acts: [done()], log: [toldCut], before: [window], after: [after] })).toBe(
      "South bed cut, noted for today. Planting looks good around 5 June (30 May-14 June). I'll text then. Not right? Reply UNDO.",
    )
  })

  it("is told once where the number and the words say the same, with where the tops went", () => {
    const cut: Act = { act: "cut", bed: "south", species: [], then: "carry-off", on: day("2026-05-06") }
    const answer = answerOf({ acts: [done(), cut], log: [toldCut], before: [window] })
    expect(answer).toContain("South bed cut, tops carried off, noted for today.")
  })

  it("by sowing tells when to look for green, and which species one cut will not kill", () => {
    const act: Act = { act: "sowed", bed: "east", species: [], on: day("2026-08-28") }
    const garden = aGarden({
      beds: [aBed({ id: "east", sowings: [aSowing({ bed: "east", sown: null, planned: day("2026-08-28") })] })],
    })
    const species = [aSpeciesPlan({ id: "red-clover", emergence: range("2026-09-02", "2026-09-04", "2026-09-06") })]
    const before = aSowingPlan({ bed: "east", sown: null, planned: day("2026-08-28"), species })
    const after = { ...before, state: "sown" as const, sown: day("2026-08-28") }
    const answer = answerOf({ garden, acts: [act], before: [before], after: [after], when: "2026-08-28 18:00" })
    expect(answer).toContain("East bed sown, noted for today. Look for green 2-6 Sep.")
    expect(answer).toContain("One cut will not kill the clover: plan to dig it out or cover it with a tarp.")
  })

  it("by planting tells how much of the crop's nitrogen is there", () => {
    const act: Act = { act: "planted", bed: "south", crop: "tomato", on: day("2026-06-06") }
    const need = middle(handbook().crops.get("tomato")!.nitrogen.need_g_per_m2)
    const nitrogen = { credit_g_per_m2: { low: need / 3, likely: (need * 2) / 3, high: need }, why: "" }
    const before = aSowingPlan({ state: "ready", nitrogen, rest, next: aNext("tomato", "2026-05-25", ready) })
    const after = { ...before, state: "planted" as const, endedOn: day("2026-06-06") }
    expect(answerOf({ acts: [act], before: [before], after: [after], when: "2026-06-06 12:00" })).toBe(
      "South bed planted with tomatoes, noted for today. About 2/3 of their nitrogen is there already (1/3 to all). Not right? Reply UNDO.",
    )
  })

  it("several at once is one sentence", () => {
    const garden = aGarden({
      beds: [aBed({ id: "south", sowings: [aSowing({ bed: "south" })] }), aBed({ id: "east" })],
    })
    const acts: Act[] = [bloom, { act: "watered", bed: "east", on: day("2026-05-06") }]
    expect(answerOf({ garden, acts, before: [window] })).toBe(
      "Thank you. Noted for today: bloom on South bed and East bed watered. Not right? Reply UNDO.",
    )
  })

  it("measures are shown in the reader's units", () => {
    const act: Act = {
      act: "measure",
      bed: "south",
      species: null,
      what: "height_cm",
      value: 61,
      on: day("2026-05-06"),
    }
    expect(answerOf({ acts: [act] })).toContain("A height of 24 in on South bed, noted for today.")
    const metric = aGarden({ place: { units: "metric" } })
    expect(answerOf({ acts: [act], garden: metric })).toContain("A height of 61 cm on South bed")
  })
})

describe("what somebody else settled (P7, D15)", () => {
  const garden = aGarden({ people: [aPerson(), aPerson({ id: "tom", name: "Tom", phone: "+17175550143" })] })
  const tom = garden.people[1]!
  const toTom = sent("tom", "2026-05-06 08:00", told(4, CUT, {}, 1))
  const inesDid = reply("ines", "2026-05-06 09:10", [done()])
  const log = [toldCut, toTom, inesDid]

  it("is told with who and when, and settles nothing else", () => {
    const acts: Act[] = [{ act: "done", n: [4], on: day("2026-05-06") }]
    expect(answerOf({ garden, person: tom, acts, log, before: [window] })).toBe("Ines did, at 9:10: South bed cut.")
  })

  it("also where the reader asked which number was meant", () => {
    const ask = { which: "reminder" as const, choices: [] }
    expect(answerOf({ garden, person: tom, ask, text: "4 done", log, before: [window] })).toBe(
      "Ines did, at 9:10: South bed cut.",
    )
    const what = { which: "what" as const, choices: [] }
    expect(answerOf({ garden, person: tom, ask: what, text: "done!", log, before: [window] })).toBe(
      "Ines did, at 9:10: South bed cut.",
    )
  })

  it("on a later day names the day, and one's own is noted already", () => {
    const acts: Act[] = [{ act: "done", n: [4], on: day("2026-05-08") }]
    expect(answerOf({ garden, person: tom, acts, log, when: "2026-05-08 10:00" })).toBe(
      "Ines did, on 6 May: South bed cut.",
    )
    expect(answerOf({ garden, acts: [done()], log })).toBe("That was noted already, at 9:10: South bed cut.")
  })
})

describe("snooze", () => {
  const snooze = (until: string): Act => ({ act: "snooze", n: [1], until: day(until) })

  it("names the day and how to change it", () => {
    expect(answerOf({ acts: [snooze("2026-05-09")], log: [toldCut], before: [window] })).toBe(
      "All right, Sat 9 May it is. Change it: SNOOZE 1 TUE.",
    )
  })

  it("past the limit is granted and says what it risks (P30)", () => {
    const answer = answerOf({ acts: [snooze("2026-05-16")], log: [toldCut], before: [window] })
    expect(answer).toBe(
      "All right, Sat 16 May it is. That is past 14 May, so some vetch seed may fall first. If you can, cut the ripest corner sooner. Change it: SNOOZE 1 TUE.",
    )
    const next = aSowingPlan({
      cut: aCut("2026-05-06", "2026-05-08", "2026-05-14", { setBy: { species: "winter-rye", because: "next-crop" } }),
      next: aNext("tomato", "2026-06-01", range("2026-05-25", "2026-05-30", "2026-06-05")),
    })
    expect(answerOf({ acts: [snooze("2026-05-16")], log: [toldCut], before: [next] })).toContain(
      "so the tomatoes may have to wait.",
    )
  })

  it("the third time offers the ways out, and only then", () => {
    const again = (n: number) => reply("ines", `2026-05-0${n} 09:00`, [snooze(`2026-05-0${n + 1}`)])
    const third = answerOf({
      acts: [snooze("2026-05-09")],
      log: [toldCut, again(6), again(7)],
      before: [window],
      when: "2026-05-08 09:00",
    })
    expect(third).toContain("That is the third time. SKIP 1 drops it for good, or cut half of it now and half then.")
    const fourth = answerOf({
      acts: [snooze("2026-05-10")],
      log: [toldCut, again(6), again(7), again(8)],
      before: [window],
      when: "2026-05-09 09:00",
    })
    expect(fourth).not.toContain("third time")
  })
})

describe("other words", () => {
  it("skip says that it will be quiet, and how to have it back", () => {
    expect(answerOf({ acts: [{ act: "skip", n: [1] }], log: [toldCut], before: [window] })).toBe(
      "All right, no more about cutting South bed. Not right? Reply UNDO.",
    )
  })

  it("undo quotes what was taken back and what that moves", () => {
    const log = [reply("ines", "2026-05-06 09:00", [bloom], "Bloom on the south bed")]
    const moved = aSowingPlan({ cut: aCut("2026-05-07", "2026-05-06", "2026-05-11") })
    expect(answerOf({ acts: [{ act: "undo" }], log, before: [moved], after: [window] })).toContain(
      'Taken back: "Bloom on the south bed". That moves the best cut to 8-14 May (it was 6-11).',
    )
    expect(answerOf({ acts: [{ act: "undo" }] })).toBe("There is nothing of yours to take back.")
  })

  it("a wish that does not fit names the first way out", () => {
    const act: Act = { act: "want", bed: "south", crop: "tomato", on: day("2026-05-20") }
    const ready = range("2026-05-30", "2026-06-05", "2026-06-14")
    const ways = [
      { way: "carry the tops off", ready: range("2026-05-18", "2026-05-22", "2026-05-30"), cost: "no mulch" },
    ]
    const after = aSowingPlan({ state: "resting", next: aNext("tomato", "2026-05-20", ready, { ways, fits: false }) })
    expect(answerOf({ acts: [act], after: [after] })).toContain("A way out: carry the tops off, then about 22 May.")
  })

  it("pause, resume and start say what goes on", () => {
    expect(answerOf({ acts: [{ act: "pause", until: day("2026-05-20") }] })).toBe(
      "All right, no nudges till Wed 20 May. Your Sunday mail still comes. Reply RESUME to have them back.",
    )
    expect(answerOf({ acts: [{ act: "resume" }] })).toContain("nudges are on again")
    expect(answerOf({ acts: [{ act: "start" }] })).toContain("texts come again")
  })

  it("stop is confirmed once and names what goes on (P9, P15)", () => {
    expect(answerOf({ acts: [{ act: "stop" }], text: "Stop. Thank you" })).toBe(
      "Done: no more texts to this phone. Your Sunday mail still comes; stop it with the link at its foot. Text START any day to have me back.",
    )
    const noMail = aGarden({ people: [aPerson({ email: null, digest: null })] })
    expect(answerOf({ acts: [{ act: "stop" }], garden: noMail })).toBe(
      "Done: no more texts to this phone. Text START any day to have me back.",
    )
  })

  it("courtesy is not answered", () => {
    expect(answerOf({ text: "thanks!" })).toBeNull()
  })

  it("a note is kept; the hint comes once a day and three times in all (P23)", () => {
    const note = (when: string) =>
      ({ ...reply("ines", when, [], "slugs again"), note: true }) as ReturnType<typeof reply>
    const hint = (log: ReturnType<typeof reply>[]) => answerOf({ note: true, text: "slugs again", log })
    expect(hint([])).toContain("Kept as a note.")
    expect(hint([note("2026-05-06 08:00")])).toBeNull()
    expect(hint([note("2026-05-01 08:00"), note("2026-05-02 08:00")])).toContain("Kept as a note.")
    expect(hint([note("2026-05-01 08:00"), note("2026-05-02 08:00"), note("2026-05-03 08:00")])).toBeNull()
  })
})

describe("one short question back", () => {
  const garden = aGarden({
    beds: ["south", "east", "north", "west"].map((id) => aBed({ id, sowings: [aSowing({ bed: id })] })),
  })
  const log = [
    toldCut,
    sent("ines", "2026-05-06 08:00", told(2, "east:2025-09-20:water-in:1"), told(3, "north:2025-09-20:cut:1")),
  ]

  it("has at most three choices", () => {
    expect(answerOf({ garden, ask: { which: "bed", choices: ["south", "east"] } })).toBe(
      "Which bed: South bed or East bed?",
    )
    expect(answerOf({ garden, ask: { which: "bed", choices: ["south", "east", "north", "west"] } })).toBe(
      "Which bed do you mean? Its name will do.",
    )
    expect(answerOf({ garden, log, ask: { which: "reminder", choices: [1, 2] }, note: true })).toBe(
      "Which one: 1 South bed cut or 2 East bed watered? Reply 1, 2 or BOTH. I kept the rest of your note.",
    )
    expect(answerOf({ garden, log, ask: { which: "reminder", choices: [1, 2, 3] } })).toBe(
      "Which one? Its number will do.\n1 South bed cut\n2 East bed watered\n3 North bed cut",
    )
    expect(answerOf({ garden, ask: { which: "species", choices: ["hairy-vetch", "winter-rye"] } })).toBe(
      "Which one: vetch or rye?",
    )
    expect(answerOf({ garden, ask: { which: "day", choices: [] } })).toContain("Which day")
  })

  it("with nothing open guesses nothing (P17)", () => {
    expect(answerOf({ ask: { which: "what", choices: [] }, text: "done" })).toBe(
      "Nothing is open. Did you cut, sow or water? Which bed?",
    )
  })

  it("stands behind what was clear", () => {
    const answer = answerOf({
      garden,
      acts: [bloom],
      ask: { which: "bed", choices: ["south", "east"] },
      before: [window],
    })
    expect(answer).toContain("Bloom on South bed, noted for today.")
    expect(answer).toContain("Which bed: South bed or East bed?")
    expect(answer).not.toContain("UNDO")
  })
})

describe("every answer above", () => {
  it("keeps the rules of wording with names of any length and in any letters", () => {
    for (const name of [
      "A",
      "South bed",
      "The long bed by the wall",
      "Grandmother Elizabeth's bed, east",
      "Grządka północna",
    ]) {
      const garden = aGarden({ beds: [aBed({ id: "south", name, sowings: [aSowing({ bed: "south" })] })] })
      const moved = aSowingPlan({ cut: aCut("2026-05-07", "2026-05-06", "2026-05-11") })
      const replies = [
        answerOf({ garden, acts: [bloom], before: [window], after: [moved] }),
        answerOf({ garden, acts: [bloom], before: [window] }),
        answerOf({ garden, acts: [done()], log: [toldCut], before: [window] }),
        answerOf({
          garden,
          acts: [{ act: "snooze", n: [1], until: day("2026-05-16") }],
          log: [toldCut],
          before: [window],
        }),
        answerOf({ garden, acts: [{ act: "skip", n: [1] }], log: [toldCut], before: [window] }),
      ]
      for (const text of replies)
        expect(checkText(text as string, { several: name.length > 12 }), text as string).toEqual([])
    }
  })
})
