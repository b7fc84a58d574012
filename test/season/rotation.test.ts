import { describe, expect, test } from "vitest"
import { readHistory } from "../../src/garden/history.ts"
import { familyNotes, grownIn, tooSoon } from "../../src/season/rotation.ts"
import { settingOf } from "../../src/season/setting.ts"
import { day } from "../../src/values/day.ts"
import { aBed, aGarden, aSowing, handbook, log, reply } from "../given.ts"
import { aMember, aStand, weatherOf } from "./given.ts"

const bed = aBed({
  id: "south",
  sowings: [
    aSowing({
      bed: "south",
      sown: day("2024-08-20"),
      species: [{ id: "white-mustard", share: 1 }],
      next: { crop: "potato", wanted: null },
    }),
    aSowing({ bed: "south", sown: day("2025-09-20") }),
  ],
})
const garden = aGarden({ beds: [bed, aBed({ id: "north" })] })
const planted = log(
  reply("ines", "2025-04-20 09:00", [{ act: "planted", bed: "south", crop: null, on: day("2025-04-20") }]),
)
const setting = settingOf(
  { handbook: handbook(), garden, history: readHistory(planted, garden), weather: weatherOf(garden) },
  day("2026-03-01"),
)

describe("what stood in a bed", () => {
  test("is remembered from sowings and plantings, oldest first", () => {
    expect(grownIn(bed, day("2026-03-01"), setting).map((one) => [one.on, one.family])).toEqual([
      ["2024-08-20", "Brassicaceae"],
      ["2025-04-20", "Solanaceae"],
      ["2025-09-20", "Fabaceae"],
      ["2025-09-20", "Poaceae"],
    ])
  })
  test("warns of a family that comes back within its years, in this bed alone", () => {
    expect(tooSoon("Brassicaceae", bed, day("2026-04-01"), setting)?.name).toBe("white mustard")
    expect(tooSoon("Brassicaceae", bed, day("2028-04-01"), setting)).toBeNull()
    expect(tooSoon("Solanaceae", bed, day("2026-05-20"), setting)?.on).toBe("2025-04-20")
    expect(tooSoon("Brassicaceae", garden.beds[1]!, day("2026-04-01"), setting)).toBeNull()
  })
  test("is said with the seed where a family keeps away for years, and not of grasses and legumes", () => {
    const wish = (id: string) => ({ crop: id, found: handbook().crops.get(id)!, wanted: day("2026-06-01") })
    const stand = (id: string) => ({ ...aStand([aMember(id)], { from: day("2026-03-20") }), bed })
    expect(familyNotes(stand("brown-mustard"), wish("cabbage"), setting)).toEqual([
      "Brown mustard and cabbage are of one family: another bed is better.",
    ])
    expect(familyNotes(stand("brown-mustard"), wish("tomato"), setting)).toEqual([
      "Brown mustard is of the family of white mustard (2024): another bed is better.",
    ])
    expect(familyNotes(stand("winter-rye"), wish("corn"), setting)).toEqual([])
    expect(familyNotes(stand("field-pea"), wish("bean"), setting)).toEqual([])
  })
  test("grasses may follow grasses", () => {
    expect(tooSoon("Poaceae", bed, day("2026-04-01"), setting)).toBeNull()
  })
})
