import { z } from "zod"

/** How a species develops from sowing to seed, as `shared/development/ID.json` holds it. */
export const developmentSchema = z.looseObject({ id: z.string() })
export type Development = z.infer<typeof developmentSchema>
