import { expect, test } from "vitest"
import type { World } from "../../src/cli/command.ts"
import { fits } from "../../src/cli/fits.ts"
import { day } from "../../src/values/day.ts"
import { WrongInput } from "../../src/values/problem.ts"
import { aBed, aGarden, handbook, historyOf } from "../given.ts"
import { weatherOf } from "../season/given.ts"

const garden = aGarden({
  place: { frost: { last: "05-04", first: "10-12" } },
  beds: [aBed({ id: "south" }), aBed({ id: "kitchen" })],
})

/** Runs the command in a garden of two empty beds on 20 August and gives what it printed. */
async function run(...args: string[]): Promise<string[]> {
  const lines: string[] = []
  const world = {
    out: (line: string) => lines.push(line),
    known: async () => ({
      handbook: handbook(),
      garden,
      entries: [],
      history: historyOf(garden),
      weather: weatherOf(garden),
      on: day("2026-08-20"),
    }),
  } as unknown as World
  expect(await fits.run(args, world)).toBe(0)
  return lines
}

test("covers that fit come with their seed, their water and their reasons; the others with why not", async () => {
  const lines = await run("--bed", "south", "--from", "2026-08-28", "--to", "2027-05-20")
  expect(lines[0]).toBe("South bed: 2026-08-28 to 2027-05-20, 265 days")
  const text = lines.join("\n")
  expect(text).toMatch(/ {2}oats: sow 2026-08-28 to 2026-08-31/)
  expect(text).toMatch(/seed: [\d.]+ g \([\d.]+ oz\) of live seed/)
  expect(text).toMatch(/water it in with [\d.]+ gal/)
  expect(text.indexOf("These do not:")).toBeGreaterThan(text.indexOf("These fit:"))
  expect(text).toContain("sorghum-sudangrass: Sow sorghum-sudangrass by about")
})

test("--json is one value with the gap and every species", async () => {
  const [line, ...rest] = await run("--bed", "south", "--from", "2026-06-20", "--to", "2026-08-05", "--json")
  expect(rest).toEqual([])
  const found = JSON.parse(line!)
  expect(found.gap).toEqual({ bed: "south", from: "2026-06-20", to: "2026-08-05", days: 46, next: null })
  expect(found.covers).toHaveLength(handbook().species.size)
  for (const cover of found.covers)
    expect(cover).toMatchObject({ species: expect.any(String), fits: expect.any(Boolean) })
})

test("a bed that is not there is told with the nearest one, and a gap must run forward", async () => {
  await expect(run("--bed", "kitchn")).rejects.toThrow("Did you mean kitchen?")
  await expect(run()).rejects.toThrow(WrongInput)
  await expect(run("--bed", "south", "--from", "2026-08-28", "--to", "2026-08-01")).rejects.toThrow(
    "a day after 2026-08-28",
  )
})
