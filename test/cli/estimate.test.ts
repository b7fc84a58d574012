import { mkdtempSync, rmSync, writeFileSync } from "node:fs"
import { tmpdir } from "node:os"
import { join } from "node:path"
import { afterAll, beforeAll, describe, expect, test } from "vitest"
import type { World } from "../../src/cli/command.ts"
import { estimateCommand } from "../../src/cli/estimate.ts"
import { addDays, day } from "../../src/values/day.ts"
import { handbook } from "../given.ts"

let folder = ""
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "estimate-"))
  const days = (of: (i: number) => string | null) =>
    [
      "date,tmin_c,tmax_c,rain_mm",
      ...Array.from({ length: 200 }, (_, i) => of(i)).filter((line) => line !== null),
    ].join("\n")
  const date = (i: number) => addDays(day("2026-03-01"), i)
  const plain = (i: number) => `${date(i)},${4 + i / 15},${15 + i / 12},2`
  writeFileSync(join(folder, "whole.csv"), days(plain))
  writeFileSync(
    join(folder, "gaps.csv"),
    days((i) => (i >= 30 && i < 37 ? null : plain(i))),
  )
  writeFileSync(
    join(folder, "nonsense.csv"),
    days((i) => (i === 40 ? `${date(i)},12,480,2` : plain(i))),
  )
  writeFileSync(join(folder, "no-header.csv"), "2026-03-01,4,15,2\n")
})
afterAll(() => rmSync(folder, { recursive: true }))

async function answersTo(...lines: unknown[]) {
  // biome-ignore lint/suspicious/noExplicitAny: answers are JSON of several shapes.
  const out: any[] = []
  const told: string[] = []
  const world = {
    out: (text: string) => out.push(JSON.parse(text)),
    err: (text: string) => told.push(text),
    handbook,
    async *input() {
      yield* lines.map((line) => (typeof line === "string" ? line : JSON.stringify(line)))
    },
  } as Partial<World> as World
  expect(await estimateCommand.run(["--batch", "--weather", folder], world)).toBe(0)
  return { out, told }
}
const oats = { species: "oats", sown: "2026-03-10", lat: 40.04, lon: -76.31, on: "2026-05-01" }

describe("estimate --batch", () => {
  test("answers each line in order, ranges in order; a line it cannot read gives an error in its place", async () => {
    const { out } = await answersTo(
      { id: "a", ...oats },
      "no json",
      { id: "c", ...oats, species: "oast" },
      { id: "d", ...oats, sown: "2026-02-30" },
      { id: "e", ...oats, observed: [{ what: "flowers", on: "2026-05-01" }] },
      { id: "f", ...oats, weather: "whole" },
    )
    expect(out.map(({ id }) => id)).toEqual(["a", undefined, "c", "d", "e", "f"])
    for (const { emergence, firstFlower } of [out[0], out[5]]) {
      expect(emergence.early <= emergence.likely && emergence.likely <= emergence.late).toBe(true)
      expect(firstFlower.early > emergence.early).toBe(true)
    }
    expect(out[1].error).toContain("JSON")
    expect(out[2].error).toContain("Did you mean oats?")
    expect(out[3].error).toContain("sown")
    expect(out[4].error).toContain("observed")
  })

  test("a gap in the weather is bridged and the reason says so", async () => {
    const { out } = await answersTo({ id: "a", ...oats, weather: "gaps" })
    expect(out[0].firstFlower.why).toContain("7 missing days bridged")
  })

  test("nonsense in the weather is bridged, and told with its line", async () => {
    const { out, told } = await answersTo({ id: "a", ...oats, weather: "nonsense" })
    expect(out[0].firstFlower.why).toContain("1 missing day bridged")
    expect(told.join(" ")).toContain("nonsense.csv")
    expect(told.join(" ")).toContain("42")
    expect(told.join(" ")).toContain("480")
  })

  test("a file that is no weather, or is not there, is an error and no date", async () => {
    const { out } = await answersTo(
      { id: "a", ...oats, weather: "no-header" },
      { id: "b", ...oats, weather: "nowhere" },
    )
    expect(out[0].error).toContain("header")
    expect(out[1].error).toContain("nowhere.csv")
    for (const answer of out) expect(answer).not.toHaveProperty("firstFlower")
  })

  test("days after `on` in the file change nothing", async () => {
    const { out } = await answersTo({ id: "a", ...oats, weather: "whole", on: "2026-03-20" })
    const short = join(folder, "short.csv")
    const lines = [
      "date,tmin_c,tmax_c,rain_mm",
      ...Array.from({ length: 20 }, (_, i) => `${addDays(day("2026-03-01"), i)},${4 + i / 15},${15 + i / 12},2`),
    ]
    writeFileSync(short, lines.join("\n"))
    const other = await answersTo({ id: "a", ...oats, weather: "short", on: "2026-03-20" })
    expect(other.out[0].firstFlower).toEqual(out[0].firstFlower)
  })
})
