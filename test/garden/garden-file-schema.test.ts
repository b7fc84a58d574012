import { readdirSync, readFileSync } from "node:fs"
import { expect, it } from "vitest"
import { parse } from "yaml"
import { z } from "zod"
import { gardenFileJsonSchema } from "../../src/garden/garden-file-schema.ts"
import { openHandbook } from "../../src/handbook/open.ts"

const root = new URL("../../", import.meta.url)
const handbook = openHandbook(new URL("shared/", root))
const schema = gardenFileJsonSchema(handbook)
const examples = [
  "config/garden.yaml",
  ...readdirSync(new URL("config/examples/", root)).map((name) => `config/examples/${name}`),
]
const text = (path: string) => readFileSync(new URL(path, root), "utf8")

it("shared/schemas/garden.json is what the reader's schema gives; if not, run this test with -u", async () => {
  await expect(`${JSON.stringify(schema, null, 2)}\n`).toMatchFileSnapshot("../../shared/schemas/garden.json")
})

it("the JSON Schema lists the species and crops of the handbook, for completion", () => {
  const written = text("shared/schemas/garden.json")
  for (const id of [...handbook.species.keys(), ...handbook.crops.keys()]) expect(written).toContain(`"${id}"`)
})

it.each(examples)("%s fits the JSON Schema, and names it for editors", (path) => {
  // zod's own reading of JSON Schema takes no part in writing it.
  const check = z.fromJSONSchema(schema as Parameters<typeof z.fromJSONSchema>[0])
  expect(check.safeParse(parse(text(path))).error?.issues ?? []).toEqual([])
  const named = /^# yaml-language-server: \$schema=(\S+)$/m.exec(text(path))?.[1] ?? ""
  expect(new URL(named, new URL(path, root)).href).toBe(new URL("shared/schemas/garden.json", root).href)
})

it("the JSON Schema refuses what an editor can see", () => {
  const check = z.fromJSONSchema(schema as Parameters<typeof z.fromJSONSchema>[0])
  const good = parse(text("config/examples/one-bed.yaml"))
  const broken = [
    { ...good, colour: "green" },
    { ...good, beds: [] },
    { ...good, beds: [{ id: "box" }] },
    { ...good, place: { ...good.place, latitude: 400 } },
    { ...good, beds: [{ ...good.beds[0], kind: "pot" }] },
    { ...good, beds: [{ ...good.beds[0], sowings: [{ sown: "2025-09-20", species: ["winter-ry"] }] }] },
    { ...good, beds: [{ ...good.beds[0], sowings: [{ sown: "2025-9-20", species: ["winter-rye"] }] }] },
  ]
  expect(check.safeParse(good).success).toBe(true)
  for (const each of broken) expect(check.safeParse(each).success, JSON.stringify(each)).toBe(false)
})
