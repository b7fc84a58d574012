import { expect, test } from "vitest"
import { allEntries, complaints, copyOf, type Entry, figuresOf } from "./entries.ts"

/** A figure without a source is a range, never a point. */
function rule(entry: Entry): string[] {
  return figuresOf(entry)
    .filter(({ figure: { grade, low, high } }) => grade === "none" && low === high)
    .map(({ path, figure: { low } }) => `${path} has no source and yet is exactly ${low}`)
}

test("what has no source is not passed off as exact", () => {
  expect(complaints(allEntries, rule)).toEqual([])
})

test("an exact figure without a source is caught", () => {
  const species = copyOf("lupin")
  species.cn.bud = { ...species.cn.bud, low: 15, likely: 15, high: 15 }
  expect(rule(species)).toEqual(["cn.bud has no source and yet is exactly 15"])
})
