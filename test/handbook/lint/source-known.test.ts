import { expect, test } from "vitest"
import { handbook } from "../shared.ts"
import { allEntries, complaints, copyOf, type Entry, sourcesOf } from "./entries.ts"

/** Every source key stands in sources.json. */
function rule(entry: Entry): string[] {
  return sourcesOf(entry).flatMap(({ path, keys }) =>
    keys.filter((key) => !handbook.sources.has(key)).map((key) => `${path} names the unknown source ${key}`),
  )
}

test("every source that a figure, caution or note names is in sources.json", () => {
  expect(complaints(allEntries, rule)).toEqual([])
})

test("an unknown source key is caught", () => {
  const species = copyOf("oats")
  species.cautions[0]!.source = ["NOBODY1900"]
  expect(rule(species)).toEqual(["cautions[0].source names the unknown source NOBODY1900"])
})
