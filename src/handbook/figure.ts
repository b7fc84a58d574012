import { z } from "zod"

/**
 * How far a figure can be trusted: `read` (all its sources were read), `read+judgement` (a read source and a step of our
 * own), `memory` (a named work that was not opened), `none` (common practice without a source: use wide).
 */
export const grade = z.enum(["read", "read+judgement", "memory", "none"])
export type Grade = z.infer<typeof grade>

/** Keys of `shared/sources.json`. */
export const sourceKeys = z.array(z.string().min(1)).min(1)

const shape = {
  low: z.number(),
  likely: z.number().optional(),
  high: z.number(),
  unit: z.string().min(1),
  source: sourceKeys,
  grade,
  /** Page, table or passage, where it is known. */
  where: z.string().optional(),
  note: z.string().optional(),
}

/** A figure from the literature: a range in one unit, with where it came from; `others` are sources that differ. */
export const figure = z.strictObject({ ...shape, others: z.array(z.strictObject(shape)).optional() })
export type Figure = z.infer<typeof figure>

/** The middle of a figure: its likely value where one is given, else halfway. */
export function middle(f: Pick<Figure, "low" | "likely" | "high">): number {
  return f.likely ?? (f.low + f.high) / 2
}
