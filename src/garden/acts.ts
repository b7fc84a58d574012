import { z } from "zod"
import { asDay, type Day } from "../values/day.ts"

/** Reads a day of the calendar at the border. */
export const daySchema = z.string().transform((text, context): Day => {
  const found = asDay(text)
  if (found) return found
  context.addIssue({ code: "custom", message: "expected a day of the calendar, YYYY-MM-DD" })
  return z.NEVER
})

/** Stages that a gardener can report. */
export const STAGES = [
  "up",
  "not-up",
  "patchy",
  "flag-leaf",
  "boot",
  "heading",
  "no-bloom",
  "bloom",
  "full-bloom",
  "seed",
  "seed-drop",
  "frost-killed",
  "survived-frost",
  "regrowth",
  "no-regrowth",
  "broken-down",
] as const
export const stageSchema = z.enum(STAGES)
export type Stage = z.infer<typeof stageSchema>

export const MEASURES = ["height_cm", "fresh_g", "fresh_g_per_m2", "soil_c", "rain_mm", "cover_percent"] as const
export const measureSchema = z.enum(MEASURES)
export type Measure = z.infer<typeof measureSchema>

export const thenSchema = z.enum(["leave", "carry-off", "turn-in", "tarp"])

const numbers = z.array(z.number().int().min(1).max(99))

/** Every act that a text can be understood as. */
export const actSchema = z.discriminatedUnion("act", [
  z.object({ act: z.literal("done"), n: numbers, on: daySchema }),
  z.object({ act: z.literal("snooze"), n: numbers, until: daySchema }),
  z.object({ act: z.literal("skip"), n: numbers }),
  z.object({
    act: z.literal("observe"),
    bed: z.string(),
    species: z.string().nullable(),
    what: stageSchema,
    on: daySchema,
  }),
  z.object({
    act: z.literal("measure"),
    bed: z.string().nullable(),
    species: z.string().nullable().optional(),
    what: measureSchema,
    value: z.number(),
    on: daySchema,
  }),
  z.object({ act: z.literal("sowed"), bed: z.string(), species: z.array(z.string()), on: daySchema }),
  z.object({
    act: z.literal("cut"),
    bed: z.string(),
    species: z.array(z.string()),
    then: thenSchema.nullable(),
    on: daySchema,
  }),
  z.object({ act: z.literal("watered"), bed: z.string(), on: daySchema }),
  z.object({ act: z.literal("planted"), bed: z.string(), crop: z.string().nullable(), on: daySchema }),
  z.object({ act: z.literal("want"), bed: z.string(), crop: z.string().nullable(), on: daySchema }),
  z.object({
    act: z.literal("tell"),
    about: z.enum(["why", "next", "how-much", "status", "log"]),
    bed: z.string().nullable(),
    n: z.number().int().nullable(),
  }),
  /** A bed came into a garden that the store keeps. Its file has it; the log says whose words it was. */
  z.object({ act: z.literal("add-bed"), bed: z.string(), name: z.string() }),
  /** A bed is left out from now on. With its part of the garden file, its place there and who had named it UNDO puts it back. */
  z.object({
    act: z.literal("drop-bed"),
    bed: z.string(),
    name: z.string(),
    was: z.string(),
    place: z.number().int().min(0),
    minders: z.array(z.string()),
  }),
  z.object({ act: z.literal("undo") }),
  z.object({ act: z.literal("pause"), until: daySchema.nullable() }),
  z.object({ act: z.literal("resume") }),
  z.object({ act: z.literal("join"), word: z.string().nullable() }),
  z.object({ act: z.literal("stop") }),
  z.object({ act: z.literal("start") }),
  z.object({ act: z.literal("help") }),
])
export type Act = z.infer<typeof actSchema>
export type ActName = Act["act"]
export type ActOf<Name extends ActName> = Extract<Act, { act: Name }>

/** One short question back: what is missing, and what it could be. */
export const askSchema = z.object({
  which: z.enum(["bed", "reminder", "day", "species", "what"]),
  choices: z.array(z.union([z.string(), z.number()])),
})
export type Ask = z.infer<typeof askSchema>

/** What a text was understood as. */
export type Understood = { acts: Act[]; ask: Ask | null; note: boolean }
