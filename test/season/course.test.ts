import { describe, expect, test } from "vitest"
import { inTimeForCrop } from "../../src/season/course.ts"
import type { Wish } from "../../src/season/next-crop.ts"
import { addDays, day, daysBetween } from "../../src/values/day.ts"
import { aBed, aGarden, aSowing } from "../given.ts"
import { settingOn, sowingOn } from "./given.ts"

const frost = { last: "05-04", first: "10-12" } as const
const bedWith = (planned: string, species: string[], next?: { crop: string; wanted: string }) =>
  aGarden({
    place: { frost },
    beds: [
      aBed({
        id: "south",
        sowings: [
          aSowing({
            bed: "south",
            planned: day(planned),
            species: species.map((id) => ({ id, share: 1 / species.length })),
            next: next ? { crop: next.crop, wanted: day(next.wanted) } : null,
          }),
        ],
      }),
    ],
  })

describe("the last day for sowing what is planned", () => {
  test("leaves time for the crop wanted after it: buckwheat wants 5 weeks to flower and 1-2 to rest (CORNELL-BWHB)", () => {
    const planned = sowingOn(
      bedWith("2026-06-18", ["buckwheat"], { crop: "broccoli", wanted: "2026-08-12" }),
      [],
      "2026-06-01",
    )
    const { sow, next } = planned
    expect(next).toMatchObject({ fits: true })
    expect(daysBetween(sow!.by, day("2026-08-12"))).toBeGreaterThanOrEqual(35)
    expect(sow!.why).toContain("would not be ready for broccoli on 12 Aug")
  })

  test("is the season's own where nothing is wanted after it", () => {
    const { sow } = sowingOn(bedWith("2026-06-18", ["buckwheat"]), [], "2026-06-01")
    expect(sow!.by > "2026-08-15").toBe(true)
  })

  test("stays where no day is soon enough, for the ways out to tell", () => {
    const wanted = { crop: "broccoli", wanted: "2026-07-01" }
    const { sow, next } = sowingOn(bedWith("2026-06-18", ["buckwheat"], wanted), [], "2026-06-01")
    expect(next).toMatchObject({ fits: false })
    expect(sow!.by > "2026-08-15").toBe(true)
  })

  test("is the very last day from which the crop is in time", () => {
    const window = { from: day("2026-06-01"), by: day("2026-09-01"), why: "season" }
    const wish = { crop: "tomato", found: null, wanted: day("2026-09-10") } satisfies Wish
    const last = day("2026-07-19")
    const sownOn = (on: string) => ({ wish, next: { fits: on <= last } as never })
    expect(inTimeForCrop(window, sownOn, settingOn("2026-05-01")).by).toBe(last)
    expect(inTimeForCrop(window, (on) => sownOn(addDays(on as never, -200)), settingOn("2026-05-01"))).toBe(window)
  })
})

describe("questions", () => {
  test("are only those whose answer can still move the cut: the boot before its window opens, the bloom before it shuts", () => {
    const garden = aGarden({
      place: { frost },
      beds: [
        aBed({
          id: "south",
          sowings: [
            aSowing({
              bed: "south",
              sown: day("2026-03-28"),
              species: [
                { id: "oats", share: 0.6 },
                { id: "field-pea", share: 0.4 },
              ],
            }),
          ],
        }),
      ],
    })
    const plans = ["2026-04-20", "2026-05-15", "2026-06-05", "2026-06-12"].map((on) => sowingOn(garden, [], on))
    for (const { cut, watchBoot, watchBloom } of plans) {
      expect(watchBoot === null || watchBoot.opens <= cut!.from).toBe(true)
      expect(watchBloom === null || watchBloom.opens <= cut!.by).toBe(true)
    }
    expect(plans.some(({ watchBloom }) => watchBloom !== null)).toBe(true)
  })
})
