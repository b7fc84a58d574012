import { describe, expect, test } from "vitest"
import type { Act, Measure } from "../../src/garden/acts.ts"
import { day } from "../../src/values/day.ts"
import { log, reply } from "../given.ts"
import { daily, evenClimate, oneBed, sowingOn } from "./given.ts"

const measured = (what: Measure, value: number, on: string): Act => ({
  act: "measure",
  bed: "south",
  species: null,
  what,
  value,
  on: day(on),
})
const cut = (on: string): Act => ({ act: "cut", bed: "south", species: [], then: "turn-in", on: day(on) })
const wrote = (on: string, ...acts: Act[]) => reply("ines", `${on} 09:00`, acts)

describe("nitrogen from what was measured", () => {
  const vetch = oneBed(
    "2025-09-10",
    { "hairy-vetch": 1 },
    { next: { crop: "tomato", wanted: "2026-06-10" }, then: "turn-in" },
  )
  test("a weighed square metre outranks a usual stand (2,400 g fresh of vetch in bloom: PNW636 line gives some 7 g)", () => {
    const plan = sowingOn(
      vetch,
      log(wrote("2026-05-20", measured("fresh_g_per_m2", 2400, "2026-05-20"), cut("2026-05-20"))),
      "2026-05-21",
    )
    expect(plan.nitrogen!.why).toContain("from your weighed sample")
    expect(plan.nitrogen!.credit_g_per_m2.likely).toBeGreaterThan(4)
    expect(plan.nitrogen!.credit_g_per_m2.likely).toBeLessThan(9)
  })
  test("height and cover give the stand by the rule of NDSU: 14 in at full cover is 3,200 lb an acre, 359 g per m2", () => {
    const tall = log(wrote("2026-05-20", measured("height_cm", 35.56, "2026-05-20"), cut("2026-05-20")))
    expect(sowingOn(vetch, tall, "2026-05-21").nitrogen!.why).toContain("About 359 g")
    const thin = log(
      wrote(
        "2026-05-20",
        measured("height_cm", 35.56, "2026-05-20"),
        measured("cover_percent", 50, "2026-05-20"),
        cut("2026-05-20"),
      ),
    )
    expect(sowingOn(vetch, thin, "2026-05-21").nitrogen!.why).toContain("About 179 g")
  })
  test("with nothing measured a usual stand is taken, and its range is wide", () => {
    const { credit_g_per_m2: credit } = sowingOn(vetch, log(wrote("2026-05-20", cut("2026-05-20"))), "2026-05-21")
      .nitrogen!
    expect(credit.high).toBeGreaterThan(credit.low * 2)
  })
  test("rye in straw sets nothing free", () => {
    const rye = oneBed("2025-09-10", { "winter-rye": 1 }, { then: "turn-in" })
    expect(
      sowingOn(rye, log(wrote("2026-07-20", cut("2026-07-20"))), "2026-07-21").nitrogen!.credit_g_per_m2.likely,
    ).toBe(0)
  })
  test("a measured soil temperature moves the rest", () => {
    const cold = log(wrote("2026-05-20", cut("2026-05-20"), measured("soil_c", 6, "2026-05-20")))
    const usual = log(wrote("2026-05-20", cut("2026-05-20")))
    const rest = (entries: ReturnType<typeof log>) => sowingOn(vetch, entries, "2026-05-21").rest!.smallSeed.late
    expect(rest(cold) > rest(usual)).toBe(true)
  })
})

describe("water", () => {
  const sown = oneBed("2026-05-01", { oats: 1 })
  const dry = {
    climate: evenClimate(8, 20, 0),
    observed: daily(
      "2026-04-20",
      Array.from({ length: 60 }, () => [8, 20, 0] as const),
    ),
  }
  test("on the day of sowing the seedbed of a 3 m2 bed takes some 19 l, about 5 gallons", () => {
    const { water } = sowingOn(sown, [], "2026-05-01", undefined, dry)
    expect(water!.water_l).toBeGreaterThan(15)
    expect(water!.water_l).toBeLessThan(22)
    expect(water!.why).toContain("seedbed must stay damp")
  })
  test("a watering fills it, and dry days empty it again", () => {
    const watered = log(wrote("2026-05-01", { act: "watered", bed: "south", on: day("2026-05-01") }))
    expect(sowingOn(sown, watered, "2026-05-01", undefined, dry).water!.water_l).toBe(0)
    expect(sowingOn(sown, watered, "2026-05-03", undefined, dry).water!.water_l).toBeGreaterThan(10)
  })
  test("rain that fell, and rain that is forecast, spare the can", () => {
    const rained = {
      ...dry,
      observed: daily(
        "2026-04-20",
        Array.from({ length: 60 }, (_, i) => [8, 20, i === 11 ? 15 : 0] as const),
      ),
    }
    expect(sowingOn(sown, [], "2026-05-01", undefined, rained).water!.water_l).toBe(0)
    const told = { ...dry, forecast: daily("2026-05-02", [[8, 20, 14]]) }
    expect(sowingOn(sown, [], "2026-05-01", undefined, told).water).toMatchObject({
      water_l: 0,
      why: expect.stringContaining("rain that is told"),
    })
  })
  test("rain that the gardener measured counts in place of the station's", () => {
    const gauge = log(
      wrote("2026-05-01", {
        act: "measure",
        bed: null,
        species: null,
        what: "rain_mm",
        value: 20,
        on: day("2026-05-01"),
      }),
    )
    expect(sowingOn(sown, gauge, "2026-05-01", undefined, dry).water!.water_l).toBe(0)
  })
  test("no rain falls under glass", () => {
    const glass = oneBed("2026-05-01", { oats: 1 }, { kind: "greenhouse" })
    const rainy = {
      ...dry,
      observed: daily(
        "2026-04-20",
        Array.from({ length: 60 }, () => [8, 20, 30] as const),
      ),
    }
    expect(sowingOn(glass, [], "2026-05-01", undefined, rainy).water!.water_l).toBeGreaterThan(10)
  })
  test("a young stand is watered when it has used half of what its roots reach, and never on normals alone", () => {
    const up = log(
      wrote("2026-05-10", { act: "observe", bed: "south", species: null, what: "up", on: day("2026-05-10") }),
    )
    expect(sowingOn(sown, up, "2026-05-12", undefined, dry).water!.water_l).toBe(0)
    expect(sowingOn(sown, up, "2026-05-25", undefined, dry).water!.water_l).toBeGreaterThan(50)
    expect(sowingOn(sown, up, "2026-05-25").water).toBeNull()
  })
})
