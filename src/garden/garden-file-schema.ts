import { z } from "zod"
import type { Handbook } from "../handbook/handbook.ts"
import { gardenFileSchema } from "./garden-file.ts"
import type { About } from "./garden-file-words.ts"

/**
 * JSON Schema (draft 7, which editors know best) of the garden file, for completion and hints while it is written.
 * `shared/schemas/garden.json` is its text. It says less than the reader: only the reader knows whether a day exists.
 */
export function gardenFileJsonSchema(handbook: Pick<Handbook, "species" | "crops">): unknown {
  return z.toJSONSchema(gardenFileSchema, {
    target: "draft-7",
    io: "input",
    override: ({ jsonSchema }) => {
      const about = jsonSchema as Partial<About> & Record<string, unknown>
      if (about.ids === "species" || about.ids === "crops") {
        const ids = [...handbook[about.ids].keys()].sort()
        if (about.type === "object") about.propertyNames = { enum: ids }
        else about.enum = ids
      }
      delete about.ids
      delete about.expects
    },
  })
}
