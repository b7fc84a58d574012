import { expect, test } from "vitest"
import { allEntries, complaints, type Entry } from "./entries.ts"

/** A number stands only in a figure (which carries its unit) or under a key that says its unit. */
function bare(value: unknown, path: string): string[] {
  if (Array.isArray(value)) return value.flatMap((one, at) => bare(one, `${path}[${at}]`))
  if (value === null || typeof value !== "object") return []
  return Object.entries(value).flatMap(([key, one]) => {
    const at = path === "" ? key : `${path}.${key}`
    if (typeof one !== "number") return bare(one, at)
    const inFigure = "unit" in value && ["low", "likely", "high"].includes(key)
    return inFigure || key === "base_c" ? [] : [`${at} is a bare number`]
  })
}
const rule = (entry: Entry) => bare(entry, "")

test("no number stands without its unit", () => {
  expect(complaints(allEntries, rule)).toEqual([])
})

test("a bare number is caught", () => {
  expect(bare({ height: 30, range: { low: 1, high: 2, unit: "cm" } }, "")).toEqual(["height is a bare number"])
})
