import { expect, test } from "vitest"
import type { Command, World } from "../../src/cli/command.ts"
import { cropsCommand } from "../../src/cli/crops.ts"
import { speciesCommand } from "../../src/cli/species.ts"
import { openHandbook } from "../../src/handbook/open.ts"
import { WrongInput } from "../../src/values/problem.ts"

const handbook = openHandbook(new URL("../../shared/", import.meta.url))

async function run(command: Command, ...args: string[]): Promise<string> {
  const printed: string[] = []
  const world = { handbook: () => handbook, out: (text: string) => printed.push(text) } as unknown as World
  expect(await command.run(args, world)).toBe(0)
  return printed.join("\n")
}

async function problemOf(command: Command, ...args: string[]) {
  const error = await run(command, ...args).catch((one: unknown) => one)
  expect(error).toBeInstanceOf(WrongInput)
  return (error as WrongInput).problems[0]!
}

test("species without an id lists every species by id", async () => {
  const lines = (await run(speciesCommand)).split("\n")
  for (const id of handbook.species.keys()) expect(lines.some((line) => line.startsWith(`${id} `))).toBe(true)
})

test("species ID shows each figure with its unit, its grade in words and the work behind it", async () => {
  const text = await run(speciesCommand, "winter-rye")
  expect(text).toMatch(/^winter rye \(winter-rye\)\nSecale cereale, Poaceae; grass, winter annual\n/)
  expect(text).toMatch(/broadcast, pure stand: [\d.]+ to [\d.]+ g\/m2, likely [\d.]+ \(read in its source\) \[SARE1998/)
  expect(text).toMatch(/another source: [\d.]+ to [\d.]+ g\/m2 \[CORNELL-RYE\], 85-250 lb\/acre/)
  expect(text).toContain("(no source: common practice) [PRACTICE]")
  expect(text).toContain("heading, sown in spring: does not come. Needs winter cold to head.")
  expect(text).toContain("one cut kills: from first flower")
  expect(text).toMatch(/\[SARE1998\] Bowman, G\.,.* 1998: Managing Cover Crops Profitably, 2nd ed\./)
})

test("every source that a species or crop shows is written out below", async () => {
  for (const [command, ids] of [
    [speciesCommand, handbook.species.keys()],
    [cropsCommand, handbook.crops.keys()],
  ] as const) {
    for (const id of ids) {
      const [shown, sources] = (await run(command, id)).split("\nSources\n")
      const keys = new Set([...shown!.matchAll(/\[([A-Z0-9, -]+)\]/g)].flatMap(([, list]) => list!.split(", ")))
      for (const key of keys) expect(sources, `${id}: ${key}`).toContain(`[${key}] `)
    }
  }
})

test("--json gives the entry as its file holds it, with the works it cites", async () => {
  const { sources, ...species } = JSON.parse(await run(speciesCommand, "hairy-vetch", "--json"))
  expect(species).toEqual(handbook.species.get("hairy-vetch"))
  expect(sources).toContainEqual(expect.objectContaining({ key: "TEASDALE2004", year: 2004, opened: true }))
  expect(JSON.parse(await run(speciesCommand, "--json"))).toHaveLength(handbook.species.size)
  expect(JSON.parse(await run(cropsCommand, "--json"))).toHaveLength(handbook.crops.size)
})

test("crops ID says what the crop needs and how it follows each cover", async () => {
  const text = await run(cropsCommand, "tomato")
  expect(text).toContain("nitrogen, a heavy feeder: 14.6 g/m2 (read in its source) [UMD-FEED]")
  expect(text).toContain("legume: The classic follower of hairy vetch.")
  expect(text).toContain("frost kills it")
})

test("an unknown id is refused with the nearest one, also where a name was given", async () => {
  expect(await problemOf(speciesCommand, "winter-ry")).toMatchObject({ found: '"winter-ry"', nearest: "winter-rye" })
  expect(await problemOf(speciesCommand, "daikon")).toMatchObject({ nearest: "daikon-radish" })
  expect(await problemOf(cropsCommand, "tomatos")).toMatchObject({ nearest: "tomato" })
  expect(await problemOf(cropsCommand, "xyzzyplugh")).not.toHaveProperty("nearest")
})
