import { expect, test } from "vitest"
import type { Source } from "../../../src/handbook/handbook.ts"
import { handbook } from "../shared.ts"

/** The key of a work that was not opened ends in -MEM, save PRACTICE; the key of one that was read does not. */
function rule(source: Source): string[] {
  const unread = source.key.endsWith("-MEM") || source.key === "PRACTICE"
  return unread === !source.opened ? [] : [`${source.key} is ${source.opened ? "read" : "unread"} but its key says not`]
}

test("a work quoted from memory can be told by its key", () => {
  expect([...handbook.sources.values()].flatMap(rule)).toEqual([])
})

test("an unread work under a plain key is caught", () => {
  expect(rule({ key: "SMITH1990", author: "Smith", title: "Rye", opened: false })).toHaveLength(1)
})
