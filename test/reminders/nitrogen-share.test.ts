import { describe, expect, it } from "vitest"
import { middle } from "../../src/handbook/figure.ts"
import { emergenceOf } from "../../src/reminders/emergence-range.ts"
import { nitrogenShare } from "../../src/reminders/nitrogen-share.ts"
import { aSowingPlan, aSpeciesPlan, day, handbook, range } from "../given.ts"

const need = middle(handbook().crops.get("tomato")!.nitrogen.need_g_per_m2!)
const share = (low: number, likely: number, high: number, crop = "tomato") =>
  nitrogenShare(
    aSowingPlan({
      nitrogen: { credit_g_per_m2: { low: low * need, likely: likely * need, high: high * need }, why: "" },
    }),
    crop,
    handbook(),
  )

describe("how much of a crop's nitrogen a cover brings", () => {
  it("is said in fractions that people picture, with its range", () => {
    expect(share(0.25, 0.34, 0.5)).toBe("About 1/3 of their nitrogen is there already (1/4 to 1/2).")
    expect(share(0.66, 0.74, 1.3)).toBe("About 3/4 of their nitrogen is there already (2/3 to all).")
  })

  it("needs no range where both ends are the same", () => {
    expect(share(0.5, 0.5, 0.51)).toBe("About 1/2 of their nitrogen is there already.")
  })

  it("is too little to count below a sixth", () => {
    expect(share(0, 0.16, 0.3)).toBe("Little of their nitrogen is there already: feed them as usual.")
    expect(share(0, 0.17, 0.3)).toContain("About 1/4")
  })

  it("is not told where plan or handbook do not know it", () => {
    expect(share(0.2, 0.3, 0.5, "quinces")).toBeNull()
    expect(nitrogenShare(aSowingPlan(), "tomato", handbook())).toBeNull()
  })
})

describe("when a sowing shows green", () => {
  const gone = (how: "frost-killed" | "not-up") => ({ on: day("2026-01-10"), how })
  const oats = aSpeciesPlan({ id: "oats", emergence: range("2025-09-24", "2025-09-28", "2025-10-02") })
  const peas = aSpeciesPlan({ id: "field-pea", emergence: range("2025-09-26", "2025-09-30", "2025-10-06") })

  it("is from its first species to its last", () => {
    expect(emergenceOf(aSowingPlan({ species: [oats, peas] }))).toEqual({ early: "2025-09-24", late: "2025-10-06" })
  })

  it("does not count what is gone, but still asks for what did not come up; nothing where nothing is left", () => {
    const dead = { ...peas, gone: gone("frost-killed") }
    expect(emergenceOf(aSowingPlan({ species: [oats, dead] }))).toEqual({ early: "2025-09-24", late: "2025-10-02" })
    const missing = { ...peas, gone: gone("not-up") }
    expect(emergenceOf(aSowingPlan({ species: [oats, missing] }))?.late).toBe("2025-10-06")
    expect(emergenceOf(aSowingPlan({ species: [dead] }))).toBeNull()
  })
})
