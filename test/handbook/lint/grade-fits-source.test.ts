import { expect, test } from "vitest"
import { handbook } from "../shared.ts"
import { allEntries, complaints, copyOf, type Entry, figuresOf } from "./entries.ts"

/** The grade says what the sources are: read, read in part, remembered, or none at all. */
function rule(entry: Entry): string[] {
  const graded = figuresOf(entry)
  if ("cut" in entry) graded.push({ path: "cut", figure: { ...entry.cut, low: 0, high: 1, unit: "" } })
  return graded.flatMap(({ path, figure: { grade, source } }) => {
    const opened = source.map((key) => handbook.sources.get(key)?.opened ?? false)
    const onlyPractice = source.every((key) => key === "PRACTICE")
    const fits = {
      read: opened.every(Boolean),
      "read+judgement": opened.some(Boolean),
      memory: !opened.some(Boolean) && !onlyPractice,
      none: onlyPractice,
    }[grade]
    return fits ? [] : [`${path} is graded ${grade} but rests on ${source.join(", ")}`]
  })
}

test("a grade says no more than its sources carry", () => {
  expect(complaints(allEntries, rule)).toEqual([])
})

test("a grade of none with a source, and a read figure from memory, are caught", () => {
  const species = copyOf("flax")
  species.cn.bud = { ...species.cn.bud, source: ["CORNELL-RYE"] }
  species.germination.minSoil_c = { ...species.germination.minSoil_c, grade: "read", source: ["SARE2007-MEM"] }
  expect(rule(species)).toEqual([
    "germination.minSoil_c is graded read but rests on SARE2007-MEM",
    "cn.bud is graded none but rests on CORNELL-RYE",
  ])
})
