import { expect, test } from "vitest"
import { allEntries, complaints, copyOf, type Entry, figuresOf } from "./entries.ts"

const unitOfKey: readonly [RegExp, string][] = [
  [/_g_per_m2$/, "g/m2"],
  [/_cm$/, "cm"],
  [/seeds_per_g$/, "seeds/g"],
  [/(minSoil|winterKill)_c$/, "C"],
  [/_days$|\.days$|daysAfterFirstFlower$/, "days"],
  [/_weeks$|weeks(Before|From)\w+$/, "weeks"],
  [/^cn\.\w+$/, "ratio"],
  [/degreeDays\.sum$/, "C d"],
]

/** Each figure carries the unit that its key promises; `others` that of the figure they stand beside. */
function rule(entry: Entry): string[] {
  return figuresOf(entry).flatMap(({ path, figure: { unit } }) => {
    const key = path.replace(/\.others\[\d+\]$/, "")
    const wanted = unitOfKey.find(([pattern]) => pattern.test(key))?.[1]
    return unit === wanted ? [] : [`${path} is in ${unit}, not in ${wanted ?? "a unit this rule knows"}`]
  })
}

test("every figure is in the unit its key says", () => {
  expect(complaints(allEntries, rule)).toEqual([])
})

test("a figure in another unit is caught", () => {
  const species = copyOf("flax")
  species.seeding.depth_cm.unit = "inch"
  expect(rule(species)).toEqual(["seeding.depth_cm is in inch, not in cm"])
})
