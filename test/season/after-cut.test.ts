import { describe, expect, test } from "vitest"
import type { Act } from "../../src/garden/acts.ts"
import type { Then } from "../../src/garden/garden.ts"
import { day } from "../../src/values/day.ts"
import { log, reply } from "../given.ts"
import { oneBed, sowingOn } from "./given.ts"

const south = "south"
const cut = (on: string, then: Then | null = null, species: string[] = []): Act => ({
  act: "cut",
  bed: south,
  species,
  then,
  on: day(on),
})
const saw = (what: string, on: string, species: string | null = null): Act =>
  ({ act: "observe", bed: south, species, what, on: day(on) }) as Act
const wrote = (on: string, ...acts: Act[]) => reply("ines", `${on} 09:00`, acts)

const ryeVetch = oneBed(
  "2025-09-20",
  { "hairy-vetch": 0.4, "winter-rye": 0.6 },
  { next: { crop: "tomato", wanted: "2026-05-25" } },
)

describe("after the cut", () => {
  const entries = log(wrote("2026-05-14", cut("2026-05-14")))

  test("the bed is cut, asks about regrowth 10 to 14 days on, and rests from that day", () => {
    const plan = sowingOn(ryeVetch, entries, "2026-05-15")
    expect(plan).toMatchObject({
      state: "cut",
      cut: null,
      wasCut: { on: "2026-05-14", then: "leave" },
      regrowthCheck: { opens: "2026-05-24", lapses: "2026-05-28" },
    })
    expect(plan.rest!.transplants.early >= "2026-05-24").toBe(true)
    expect(plan.rest!.smallSeed.likely > plan.rest!.transplants.likely).toBe(true)
    expect(plan.rest!.why).toContain("left on top")
  })

  test("no regrowth turns the wait into rest, and rest into ready", () => {
    const none = log(wrote("2026-05-14", cut("2026-05-14")), wrote("2026-05-25", saw("no-regrowth", "2026-05-25")))
    expect(sowingOn(ryeVetch, none, "2026-05-26").state).toBe("resting")
    expect(sowingOn(ryeVetch, none, "2026-06-30").state).toBe("ready")
  })

  test("stems that were found broken down end the rest at once", () => {
    const broken = log(wrote("2026-05-14", cut("2026-05-14")), wrote("2026-05-29", saw("broken-down", "2026-05-29")))
    const plan = sowingOn(ryeVetch, broken, "2026-05-29")
    expect(plan.rest!.transplants).toMatchObject({ early: "2026-05-29", likely: "2026-05-29", late: "2026-05-29" })
    expect(plan.state).toBe("ready")
  })

  test("regrowth reopens the cut, and a second cut starts the rest anew", () => {
    const back = log(
      wrote("2026-05-14", cut("2026-05-14")),
      wrote("2026-05-26", saw("regrowth", "2026-05-26", "winter-rye")),
    )
    const reopened = sowingOn(ryeVetch, back, "2026-05-26")
    expect(reopened.cut).toMatchObject({
      ordinal: 2,
      from: "2026-05-26",
      by: "2026-06-09",
      setBy: { species: "winter-rye", because: "regrowth" },
    })
    const again = log(
      wrote("2026-05-14", cut("2026-05-14")),
      wrote("2026-05-26", saw("regrowth", "2026-05-26", "winter-rye")),
      wrote("2026-05-30", cut("2026-05-30")),
    )
    const second = sowingOn(ryeVetch, again, "2026-05-31")
    expect(second.wasCut!.on).toBe("2026-05-30")
    expect(second.rest!.transplants.early >= "2026-06-09").toBe(true)
  })

  test("a cut of one species leaves the other to be cut", () => {
    const part = log(wrote("2026-05-05", cut("2026-05-05", null, ["winter-rye"])))
    const plan = sowingOn(ryeVetch, part, "2026-05-06")
    expect(plan.cut).not.toBeNull()
    expect(["growing", "blooming"]).toContain(plan.state)
  })

  test("planting ends it", () => {
    const planted = log(
      wrote("2026-05-14", cut("2026-05-14")),
      wrote("2026-06-08", { act: "planted", bed: south, crop: "tomato", on: day("2026-06-08") }),
    )
    expect(sowingOn(ryeVetch, planted, "2026-06-09")).toMatchObject({
      state: "planted",
      endedOn: "2026-06-08",
      cut: null,
      hazards: [],
    })
  })
})

describe("the way of killing", () => {
  const rest = (then: Then) => sowingOn(ryeVetch, log(wrote("2026-05-14", cut("2026-05-14", then))), "2026-05-15")
  test("carrying off is ready soonest and keeps least nitrogen", () => {
    expect(rest("carry-off").rest!.transplants.likely < rest("leave").rest!.transplants.likely).toBe(true)
    expect(rest("carry-off").nitrogen!.credit_g_per_m2.likely).toBeLessThan(
      rest("leave").nitrogen!.credit_g_per_m2.likely,
    )
    expect(rest("turn-in").nitrogen!.credit_g_per_m2.likely).toBeGreaterThan(
      rest("leave").nitrogen!.credit_g_per_m2.likely,
    )
  })
  test("a tarp stays three weeks", () => {
    expect(rest("tarp").rest!.transplants.likely >= "2026-06-04").toBe(true)
  })
})

describe("the next crop", () => {
  test("that comes too late is told with ways out, each with its date and cost, before the cut", () => {
    const tight = oneBed("2025-09-20", { "winter-rye": 1 }, { next: { crop: "tomato", wanted: "2026-05-15" } })
    const { next } = sowingOn(tight, [], "2026-03-15")
    expect(next!.fits).toBe(false)
    expect(next!.why).toContain("too late for tomato on 15 May")
    const ways = next!.ways.map((way) => way.way)
    expect(ways.some((way) => way.startsWith("cut younger, by"))).toBe(true)
    expect(ways.some((way) => way.startsWith("carry the tops"))).toBe(true)
    expect(ways.some((way) => way.startsWith("plant later"))).toBe(true)
    for (const way of next!.ways) {
      expect(way.cost).not.toBe("")
      expect(way.ready.early <= way.ready.late).toBe(true)
    }
  })

  test("after the cut it is too late to cut younger", () => {
    const tight = oneBed("2025-09-20", { "winter-rye": 1 }, { next: { crop: "tomato", wanted: "2026-05-25" } })
    const { next } = sowingOn(tight, log(wrote("2026-05-20", cut("2026-05-20"))), "2026-05-20")
    expect(next!.fits).toBe(false)
    expect(next!.ways.some((way) => way.way.includes("younger"))).toBe(false)
    expect(next!.ways.some((way) => way.way.includes("now"))).toBe(true)
  })

  test("a wish that was told outranks the garden file", () => {
    const wish = log(wrote("2026-05-01", { act: "want", bed: south, crop: "squash", on: day("2026-06-25") }))
    expect(sowingOn(ryeVetch, wish, "2026-05-02").next).toMatchObject({ crop: "squash", wanted: "2026-06-25" })
  })

  test("a tender crop waits for the last frost, and says so", () => {
    const late = oneBed(
      "2025-08-20",
      { oats: 1 },
      { next: { crop: "basil", wanted: "2026-04-01" }, place: { frost: { last: "05-20", first: "10-01" } } },
    )
    const killed = log(wrote("2026-01-10", saw("frost-killed", "2026-01-10")))
    const { next } = sowingOn(late, killed, "2026-02-01")
    expect(next!.ready.likely >= "2026-05-20").toBe(true)
  })

  test("without a day it is wanted at its usual time, once the bed is ready", () => {
    const free = oneBed("2025-09-20", { "winter-rye": 1 }, { next: { crop: "tomato", wanted: null } })
    const { next } = sowingOn(free, [], "2026-03-01")
    expect(next!.fits).toBe(true)
    expect(next!.wanted >= next!.ready.likely).toBe(true)
  })
})

describe("hazards", () => {
  const after = (species: Record<string, number>, crop: string, then: Then, on = "2026-05-14") =>
    sowingOn(oneBed("2025-09-20", species, { next: { crop, wanted: "2026-07-01" } }), log(wrote(on, cut(on, then))), on)
      .hazards

  test("rye before carrots: toxins, with a day; before tomatoes nothing of the kind", () => {
    expect(after({ "winter-rye": 1 }, "carrot", "leave")).toContainEqual(
      expect.objectContaining({ what: "allelopathy", until: expect.any(String) }),
    )
    expect(after({ "winter-rye": 1 }, "tomato", "leave").map((one) => one.what)).not.toContain("allelopathy")
  })
  test("mustard turned in: gas for two weeks; left on top none", () => {
    expect(after({ "brown-mustard": 1 }, "potato", "turn-in")).toContainEqual(
      expect.objectContaining({ what: "gas", until: "2026-05-28" }),
    )
    expect(after({ "brown-mustard": 1 }, "potato", "leave").map((one) => one.what)).not.toContain("gas")
  })
  test("green stuff turned in before beans: the seedcorn fly, two to four weeks", () => {
    const fly = after({ "hairy-vetch": 1 }, "bean", "turn-in").find((one) => one.what === "seedcorn maggot")!
    expect(fly.until! >= "2026-05-28" && fly.until! <= "2026-06-11").toBe(true)
  })
  test("headed rye turned in before tomatoes: tie-up, deepest about a month on", () => {
    const tie = after({ "winter-rye": 1 }, "tomato", "turn-in", "2026-06-01").find(
      (one) => one.what === "nitrogen tie-up",
    )!
    expect(tie.until! > "2026-06-15" && tie.until! < "2026-07-20").toBe(true)
  })
  test("mulch in a cool spring: slugs", () => {
    expect(after({ "hairy-vetch": 1 }, "cabbage", "leave", "2026-03-20").map((one) => one.what)).toContain("slugs")
  })
})

describe("cautions and remarks", () => {
  test("vetch seed is poisonous to stock, inoculant is dust, a cut has blades: all are said, none twice", () => {
    const { cautions } = sowingOn(ryeVetch, [], "2026-05-01")
    expect(cautions.map((one) => one.about)).toEqual(expect.arrayContaining(["stock", "dust", "other"]))
    expect(new Set(cautions.map((one) => one.text)).size).toBe(cautions.length)
  })
  test("clover is said at sowing to outlive a cut, and left on top its bed is reckoned as turned in", () => {
    const clover = oneBed("2026-04-10", { "red-clover": 1 }, { next: { crop: "corn", wanted: "2027-05-10" } })
    const plan = sowingOn(clover, [], "2026-04-10")
    expect(plan.remarks.join(" ")).toContain("One cut does not kill red clover")
    expect(plan.rest!.why).toContain("turned in")
    const mown = log(wrote("2026-07-10", cut("2026-07-10")))
    expect(sowingOn(clover, mown, "2026-07-15").state).toBe("cut")
    expect(sowingOn(clover, mown, "2026-08-15").cut).toMatchObject({ ordinal: 2 })
    const turned = log(wrote("2026-07-10", cut("2026-07-10", "turn-in")))
    expect(sowingOn(clover, turned, "2026-08-25").cut).toBeNull()
  })
  test("mustard before cabbages is warned of", () => {
    const clash = oneBed("2026-03-25", { "white-mustard": 1 }, { next: { crop: "cabbage", wanted: "2026-07-01" } })
    expect(sowingOn(clash, [], "2026-03-26").remarks.join(" ")).toContain("are of one family")
  })
})
