import { readFileSync } from "node:fs"
import { describe, expect, it } from "vitest"
import type { ReminderKind } from "../../src/garden/entry.ts"
import { understand } from "../../src/replies/understand.ts"
import { type CaseGarden, contextFor } from "./gardens.ts"

type PlainRules = { stops: string[]; nothing: Record<string, string[]> }
const RULES = JSON.parse(
  readFileSync(new URL("../fixtures/replies/plain-rules.json", import.meta.url), "utf8"),
) as PlainRules

const US = { zone: "America/New_York", dates: "month-first", units: "us" } as const
const oneBed = (kind: ReminderKind): CaseGarden => ({
  ...US,
  about: `one bed, ${kind} open`,
  beds: [{ id: "box", name: "Box bed", species: ["winter-rye", "hairy-vetch"] }],
  open: [{ n: 1, bed: "box", kind }],
})
const GARDENS: Record<string, CaseGarden> = {
  cut: oneBed("cut"),
  water: oneBed("water-in"),
  plant: oneBed("plant"),
  bloom: oneBed("watch-bloom"),
  acre: {
    ...US,
    about: "three beds, three things open",
    beds: [
      { id: "south", name: "South bed", species: ["winter-rye", "hairy-vetch"] },
      { id: "kitchen", name: "Kitchen bed", species: ["oats", "field-pea"] },
      { id: "north", name: "North bed", species: ["crimson-clover"] },
    ],
    open: [
      { n: 1, bed: "south", kind: "cut" },
      { n: 2, bed: "kitchen", kind: "water-in" },
      { n: 3, bed: "north", kind: "watch-bloom" },
    ],
  },
}
const actsIn = (garden: string, text: string) => {
  const found = GARDENS[garden]
  if (!found) throw new Error(`no garden ${garden}`)
  return understand(text, contextFor(found, "2026-05-13T09:30")).acts.filter(({ act }) => act !== "tell")
}

describe("an end to all texts", () => {
  it.each(RULES.stops)("%s", (text) => {
    for (const garden of Object.keys(GARDENS)) expect(actsIn(garden, text)).toEqual([{ act: "stop" }])
  })
})

describe.each(Object.entries(RULES.nothing))("settles nothing, garden %s", (garden, texts) => {
  it.each(texts)("%s", (text) => expect(actsIn(garden, text)).toEqual([]))
})
