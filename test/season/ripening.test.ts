import { describe, expect, test } from "vitest"
import { day, daysBetween } from "../../src/values/day.ts"
import { aBed, aGarden, aSowing } from "../given.ts"
import { sowingOn } from "./given.ts"

/** Lancaster County, with the normals of York. */
const bedOf = (sown: string, species: string[]) =>
  aGarden({
    place: { frost: { last: "05-04", first: "10-12" } },
    beds: [
      aBed({
        id: "south",
        sowings: [
          aSowing({ bed: "south", sown: day(sown), species: species.map((id) => ({ id, share: 1 / species.length })) }),
        ],
      }),
    ],
  })

describe("seed ripens by warmth", () => {
  test("in the days published for it once it is warm (buckwheat: 7 to 22 days, CORNELL-BW, CORNELL-BWHB, ONT-BW)", () => {
    const [buckwheat] = sowingOn(bedOf("2026-06-01", ["buckwheat"]), [], "2026-06-02").species
    const days = daysBetween(buckwheat!.firstFlower!.likely, buckwheat!.viableSeed!.likely)
    expect(days).toBeGreaterThanOrEqual(7)
    expect(days).toBeLessThanOrEqual(22)
  })

  test("in more days in a cold autumn than in summer", () => {
    const span = (sown: string, on: string) => {
      const [peas] = sowingOn(bedOf(sown, ["field-pea"]), [], on).species
      return daysBetween(peas!.firstFlower!.likely, peas!.viableSeed!.likely)
    }
    expect(span("2025-08-15", "2025-08-16")).toBeGreaterThan(span("2026-04-10", "2026-04-11"))
  })

  test("so that frost may end late peas before a pod counts, and no cut is due (SARE 1998: they winterkill in zone 6)", () => {
    const late = sowingOn(bedOf("2025-08-25", ["oats", "field-pea"]), [], "2025-10-20")
    expect(late.cut).toBeNull()
    expect(late.noCut).toContain("probably")
    const early = sowingOn(bedOf("2025-07-20", ["field-pea"]), [], "2025-09-20")
    expect(early.cut).not.toBeNull()
  })
})
