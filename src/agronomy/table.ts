import { z } from "zod"
import { sourceKeys } from "../handbook/figure.ts"
import type { Handbook } from "../handbook/handbook.ts"

/** A reader of `shared/tables/NAME.json`: checks the table against its schema once for each handbook. Throws a ZodError on a wrong table. */
export function tableReader<Table>(name: string, schema: z.ZodType<Table>): (handbook: Handbook) => Table {
  const known = new WeakMap<Handbook, Table>()
  return (handbook) => {
    const before = known.get(handbook)
    if (before !== undefined) return before
    const table = schema.parse(handbook.table(name))
    known.set(handbook, table)
    return table
  }
}

/** Where a value of a table comes from. */
export const cited = { source: sourceKeys, where: z.string().min(1).optional() }

/** One number of a table with its source. */
export const citedValue = z.strictObject({ value: z.number(), ...cited })

/** A number each for the early, the likely and the late end. */
export const threeEnds = z.strictObject({ early: z.number(), likely: z.number(), late: z.number() })
export type ThreeEnds = z.infer<typeof threeEnds>
