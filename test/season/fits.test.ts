import { describe, expect, test } from "vitest"
import { fitsFor } from "../../src/season/fits.ts"
import { day } from "../../src/values/day.ts"
import { aBed, aGarden, aSowing, handbook, historyOf, log, reply } from "../given.ts"
import { weatherOf } from "./given.ts"

const garden = aGarden({
  place: { frost: { last: "05-04", first: "10-12" } },
  beds: [
    aBed({ id: "south" }),
    aBed({
      id: "west",
      sowings: [aSowing({ bed: "west", sown: day("2025-08-20"), species: [{ id: "white-mustard", share: 1 }] })],
    }),
    aBed({
      id: "kitchen",
      sowings: [
        aSowing({ bed: "kitchen", sown: day("2025-09-20"), next: { crop: "cabbage", wanted: day("2027-05-20") } }),
      ],
    }),
  ],
})
const fits = (bed: string, on: string, from?: string, to?: string, entries = log()) =>
  fitsFor(
    { handbook: handbook(), garden, history: historyOf(garden, entries), weather: weatherOf(garden) },
    garden.beds.find((one) => one.id === bed)!,
    day(on),
    { from: from === undefined ? undefined : day(from), to: to === undefined ? undefined : day(to) },
  )
const of = (found: ReturnType<typeof fits>, id: string) => found.covers.find((cover) => cover.species === id)!

describe("covers for a gap", () => {
  test("every species is judged, those that fit first, each with a reason", () => {
    const { covers } = fits("south", "2026-08-28", "2026-08-28", "2027-05-20")
    expect(covers).toHaveLength(handbook().species.size)
    expect(covers.findIndex((cover) => !cover.fits)).toBeGreaterThan(0)
    expect(covers.slice(covers.findIndex((cover) => !cover.fits)).some((cover) => cover.fits)).toBe(false)
    for (const cover of covers) expect(cover.why.length).toBeGreaterThan(0)
  })
  test("oats and peas still fit at the end of August; summer covers are too late (sowing seasons of the trade)", () => {
    const found = fits("south", "2026-08-28", "2026-08-28", "2027-05-20")
    expect(of(found, "oats").fits).toBe(true)
    expect(of(found, "sorghum-sudangrass").fits).toBe(false)
    expect(of(found, "sorghum-sudangrass").why[0]).toContain("by about")
  })
  test("six weeks of summer hold buckwheat (CORNELL-BWHB: full bloom about day 35)", () => {
    const found = fits("south", "2026-06-20", "2026-06-20", "2026-08-05")
    expect(of(found, "buckwheat").fits).toBe(true)
    expect(of(found, "winter-rye").fits).toBe(false)
  })
  test("three weeks hold nothing", () => {
    expect(fits("south", "2026-06-20", "2026-06-20", "2026-07-10").covers.some((cover) => cover.fits)).toBe(false)
  })
  test("mustard is out where cabbages come next, and the reason names them", () => {
    const found = fits("kitchen", "2026-08-20", "2026-08-20")
    expect(found.gap).toMatchObject({ to: "2027-05-20", next: "cabbage" })
    expect(of(found, "white-mustard").fits).toBe(false)
    expect(of(found, "white-mustard").why.join(" ")).toContain("cabbage of the same family comes next")
  })
  test("a gap that lies back is judged as it was at its beginning", () => {
    const back = of(fits("south", "2026-11-25", "2026-06-20", "2026-08-05"), "buckwheat")
    expect(back).toEqual(of(fits("south", "2026-06-20", "2026-06-20", "2026-08-05"), "buckwheat"))
    expect(back.why[0]).toMatch(/should flower about/)
  })
  test("legumes may follow legumes of last year, mustard may not follow mustard", () => {
    const afterVetch = fits("kitchen", "2026-06-20", "2026-06-20", "2026-09-30")
    expect(of(afterVetch, "soybean").why.join(" ")).not.toContain("family")
    const afterMustard = of(fits("west", "2026-08-20", "2026-08-20", "2026-11-15"), "brown-mustard")
    expect(afterMustard.fits).toBe(false)
    expect(afterMustard.why.join(" ")).toContain("of the family of white mustard (2025)")
  })
  test("seed, water and inoculant come with what fits", () => {
    const vetch = of(fits("south", "2026-09-05", "2026-09-05", "2027-06-25"), "hairy-vetch")
    expect(vetch.seed!.g).toBeGreaterThan(3)
    expect(vetch.seed!.bag_g).toBeGreaterThan(vetch.seed!.g)
    expect(vetch.seed!.inoculant).toContain("vetch")
    expect(vetch.water_l).toBeGreaterThan(10)
    expect(vetch.cautions.map((caution) => caution.about)).toContain("stock")
  })
  test("without days the gap runs from the end of the crop that stands there", () => {
    const planted = log(
      reply("ines", "2026-06-01 09:00", [{ act: "planted", bed: "kitchen", crop: "lettuce", on: day("2026-06-01") }]),
    )
    const { gap } = fits("kitchen", "2026-06-10", undefined, undefined, planted)
    expect(gap.from > "2026-06-20").toBe(true)
    expect(gap.to).toBe("2027-05-20")
  })
  test("what was planted for no crop that is known leaves the bed free today", () => {
    const planted = log(
      reply("ines", "2026-06-01 09:00", [{ act: "planted", bed: "west", crop: null, on: day("2026-06-01") }]),
    )
    expect(fits("west", "2026-06-10", undefined, undefined, planted).gap.from).toBe("2026-06-10")
  })
  test("a wish that was told goes before the one in the file", () => {
    const wanted = log(
      reply("ines", "2026-06-01 09:00", [{ act: "want", bed: "kitchen", crop: "tomato", on: day("2027-05-01") }]),
    )
    expect(fits("kitchen", "2026-08-20", undefined, undefined, wanted).gap).toMatchObject({
      to: "2027-05-01",
      next: "tomato",
    })
  })
  test("where nothing is wanted the gap ends with the frost that ends the season: in autumn that of spring, in spring that of autumn", () => {
    expect(fits("south", "2026-09-20").gap).toMatchObject({ to: "2027-05-04", next: null })
    expect(fits("south", "2026-05-10").gap).toMatchObject({ to: "2026-10-12", next: null })
  })
  test("a gap of 28 days is looked at, one of 27 is too short", () => {
    const why = (to: string) => of(fits("south", "2026-06-20", "2026-06-20", to), "buckwheat").why[0]
    expect(why("2026-07-17")).toBe("27 days are too short for any cover.")
    expect(why("2026-07-18")).not.toContain("too short")
  })
  test("what frost should kill before the gap ends needs no cut; what no cut kills says so", () => {
    const found = fits("south", "2026-08-28", "2026-08-28", "2027-05-20")
    expect(of(found, "oats").why[0]).toMatch(/should die of frost .*no cut is needed/)
    const clover = fits("south", "2026-08-20", "2026-08-20", "2027-09-20")
    expect(of(clover, "white-clover").why.join(" ")).toContain("must be turned in or covered with a tarp")
  })
})
