import { describe, expect, test } from "vitest"
import type { Species } from "../../src/handbook/species.ts"
import { plainStages } from "../../src/season/plain-stages.ts"
import { seenBySpecies } from "../../src/season/seen-by-species.ts"
import type { EstimateInput, Seen, StageEstimates } from "../../src/season/stage-estimates.ts"
import { addDays, day } from "../../src/values/day.ts"
import { aGarden, handbook, historyOf, log, reply } from "../given.ts"
import { weatherOf } from "./given.ts"

const species = (id: string) => handbook().species.get(id) as Species
const sown = day("2026-04-20")
const stages = (one: Species, more: Partial<EstimateInput> = {}) =>
  plainStages({
    species: one,
    development: undefined,
    sown,
    on: addDays(sown, 120),
    weather: weatherOf(aGarden()),
    bed: "raised",
    observed: [],
    ...more,
  })

describe("stages of a species of which only published days are known", () => {
  test("are the days of the book from the day of sowing", () => {
    const oats = species("oats")
    const { emergence, viableSeed, firstFlower } = stages(oats)
    expect(emergence.early).toBe(addDays(sown, Math.round(oats.germination.emergence_days.low)))
    expect(emergence.late).toBe(addDays(sown, Math.round(oats.germination.emergence_days.high)))
    expect(viableSeed?.early).toBe(addDays(firstFlower!.early, oats.viableSeed_days.low))
  })

  test("are the days on which they were seen, where they were, as far as that was known by then", () => {
    const seen: Seen[] = [
      { what: "up", on: day("2026-05-02") },
      { what: "bloom", on: day("2026-07-10") },
    ]
    const told = stages(species("oats"), { observed: seen })
    expect([told.emergence.early, told.emergence.late]).toEqual(["2026-05-02", "2026-05-02"])
    expect([told.firstFlower?.early, told.firstFlower?.late]).toEqual(["2026-07-10", "2026-07-10"])
    const before = stages(species("oats"), { observed: seen, on: day("2026-06-01") })
    expect(before.firstFlower).toEqual(stages(species("oats")).firstFlower)
  })

  test("hold the last leaf and the boot a fortnight and a week before the ear", () => {
    const { flagLeaf, boot, heading } = stages(species("oats"))
    expect(flagLeaf?.likely).toBe(addDays(heading!.likely, -14))
    expect(boot?.likely).toBe(addDays(heading!.likely, -7))
  })

  test("hold no bloom where the book says that none comes, unless it was seen; the reason is the book's", () => {
    const rye = species("winter-rye")
    const never = {
      ...rye,
      flowering: [{ ...rye.flowering[0]!, sown: "spring" as const, comes: false, note: "No cold." }],
    }
    expect(stages(never)).toMatchObject({ noBloom: "No cold.", firstFlower: null, heading: null, viableSeed: null })
    const { note: _, ...silent } = never.flowering[0]!
    expect(stages({ ...never, flowering: [silent] }).noBloom).toBe("Sown at this time of year it does not flower.")
    const seen = stages(never, { observed: [{ what: "bloom", on: day("2026-07-10") }] })
    expect(seen).toMatchObject({ noBloom: null, firstFlower: { likely: "2026-07-10" } })
  })

  test("hold neither flower nor seed where the book knows no days of them", () => {
    const unknown = { ...species("oats"), flowering: [] }
    expect(stages(unknown)).toMatchObject({ heading: null, boot: null, firstFlower: null, viableSeed: null })
  })
})

describe("what was seen of a mix", () => {
  const mix = ["hairy-vetch", "winter-rye", "oats"].map(species)
  const guess =
    (flowers: Record<string, string | null>, killed: Record<string, number> = {}) =>
    (one: Species) => {
      const book = stages(one)
      const flower = flowers[one.id]
      return {
        ...book,
        firstFlower: flower ? { ...book.emergence, likely: day(flower) } : null,
        frostKill: { ...book.frostKill, chance: killed[one.id] ?? 0 },
      } satisfies StageEstimates
    }
  const given = (
    what: Parameters<typeof reply>[2],
    guessed = guess({ "hairy-vetch": "2026-05-10", "winter-rye": "2026-05-02" }),
  ) => {
    const facts = historyOf(aGarden(), log(reply("ines", "2026-05-04 09:00", what))).beds.get("south")![0]!.facts
    const seen = seenBySpecies(facts, mix, guessed)
    return [...seen].flatMap(([id, all]) => (all.length > 0 ? [id] : []))
  }
  const saw = (what: Seen["what"], id: string | null = null): Parameters<typeof reply>[2] => [
    { act: "observe", bed: "south", species: id, what, on: day("2026-05-04") },
  ]

  test("is that of the species named", () => {
    expect(given(saw("bloom", "hairy-vetch"))).toEqual(["hairy-vetch"])
  })

  test("without a name is of all, of the grasses, or of the one that flowers first", () => {
    expect(given(saw("up"))).toEqual(["hairy-vetch", "winter-rye", "oats"])
    expect(given(saw("boot"))).toEqual(["winter-rye", "oats"])
    expect(given(saw("bloom"))).toEqual(["winter-rye"])
    expect(given(saw("bloom"), guess({}))).toEqual(["hairy-vetch", "winter-rye", "oats"])
  })

  test("of a frost without a name is of those that it was to kill, else of the tenderest", () => {
    expect(given(saw("frost-killed"), guess({}, { "hairy-vetch": 0.4 }))).toEqual(["hairy-vetch"])
    expect(given(saw("frost-killed"), guess({}, { "hairy-vetch": 0.2 }))).toEqual(["oats"])
  })
})
