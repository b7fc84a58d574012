import { z } from "zod"

/** One work that figures come from, as `shared/sources.json` holds it under its key. */
const source = z.strictObject({
  author: z.string().min(1),
  title: z.string().min(1),
  year: z.int().optional(),
  /** What of it was read, or where in it the figures stand. */
  where: z.string().min(1).optional(),
  url: z.string().min(1).optional(),
  licence: z.string().min(1).optional(),
  /** Whether the work itself was read; keys of unread works end in `-MEM` (from memory) or are `PRACTICE`. */
  opened: z.boolean(),
})

/** `shared/sources.json`: key to work. */
export const sourcesSchema = z.record(z.string().regex(/^[A-Z0-9][A-Z0-9-]*$/), source)
export type Sources = z.infer<typeof sourcesSchema>
