import { readdirSync, readFileSync } from "node:fs"
import { describe, expect, test } from "vitest"
import { knownWeather, viewOf } from "../../src/bot/known.ts"
import { readGarden } from "../../src/garden/read.ts"
import { planSchema } from "../../src/season/plan-schema.ts"
import { addDays, day } from "../../src/values/day.ts"
import { handbook } from "../given.ts"

const config = new URL("../../config/", import.meta.url)
const files = readdirSync(config, { recursive: true, encoding: "utf8" }).filter(
  (name) => name.endsWith(".yaml") && name !== "compose.yaml",
)

describe("what plan --json prints of the example gardens", () => {
  test.each(files)(
    "%s: valid on a day of every month for two years",
    (name) => {
      const read = readGarden(readFileSync(new URL(name, config), "utf8"), name, handbook())
      if ("problems" in read) throw new Error(JSON.stringify(read.problems))
      const weather = knownWeather(handbook(), read.garden, null)
      for (let month = 0; month < 24; month += 1) {
        const on = addDays(day("2025-09-25"), month * 30)
        const { plan, reminders } = viewOf(handbook(), read.garden, [], weather, on)
        const found = planSchema.safeParse(JSON.parse(JSON.stringify({ ...plan, reminders })))
        expect(found.success ? [] : found.error.issues).toEqual([])
      }
    },
    60_000,
  )
})

test("a plan out of order is refused, key by key", () => {
  const plan = {
    on: "2026-05-01",
    garden: "g",
    reminders: [],
    beds: [
      {
        bed: "south",
        sowings: [
          {
            sowing: "south:2025-09-20",
            state: "growing",
            species: [],
            cut: {
              from: "2026-05-10",
              best: "2026-05-08",
              by: "2026-05-20",
              setBy: { species: "oats", because: "seed" },
              why: "w",
            },
            rest: null,
            next: null,
            nitrogen: null,
            water: null,
          },
        ],
      },
    ],
  }
  expect(planSchema.safeParse(plan).error?.issues.map((issue) => issue.message)).toEqual(["a cut window out of order"])
  expect(
    planSchema.safeParse({ ...plan, beds: [{ bed: "south", sowings: [{ sowing: "south:2025-09-20" }] }] }).success,
  ).toBe(false)
})
