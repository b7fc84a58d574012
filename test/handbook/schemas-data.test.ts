import { readFileSync } from "node:fs"
import { expect, test } from "vitest"
import { schemaFiles } from "./write-schemas.ts"

for (const [name, { file, text }] of schemaFiles()) {
  test(`shared/schemas/${name} is what the types say; if not, run: node test/handbook/write-schemas.ts`, () => {
    expect(readFileSync(file, "utf8")).toBe(text)
  })
}

test("a schema names the keys that a file must have, and allows no others", () => {
  const species = JSON.parse(schemaFiles().get("species.json")!.text)
  expect(species.required).toEqual(expect.arrayContaining(["id", "names", "seeding", "flowering", "cut", "cautions"]))
  expect(species.additionalProperties).toBe(false)
})
