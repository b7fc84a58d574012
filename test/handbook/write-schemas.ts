import { mkdirSync, writeFileSync } from "node:fs"
import { z } from "zod"
import { cropSchema } from "../../src/handbook/crop.ts"
import { speciesSchema } from "../../src/handbook/species.ts"

const folder = new URL("../../shared/schemas/", import.meta.url)

/** The JSON Schema of each kind of data file, as text, by its file under `shared/schemas/`. */
export function schemaFiles(): Map<string, { file: URL; text: string }> {
  const schemas = {
    "species.json": { title: "A cover species: shared/species/ID.json", schema: speciesSchema },
    "crop.json": { title: "A food crop: shared/crops/ID.json", schema: cropSchema },
  }
  return new Map(
    Object.entries(schemas).map(([name, { title, schema }]) => [
      name,
      { file: new URL(name, folder), text: `${JSON.stringify({ title, ...z.toJSONSchema(schema) }, null, 2)}\n` },
    ]),
  )
}

/** Run as a program (`node test/handbook/write-schemas.ts`) it writes them. */
if (import.meta.main) {
  mkdirSync(folder, { recursive: true })
  for (const { file, text } of schemaFiles().values()) writeFileSync(file, text)
}
