import { z } from "zod"
import { daySchema } from "../garden/acts.ts"
import { reminderKindSchema } from "../garden/entry.ts"
import { SOWING_STATES } from "./bed-plan.ts"

/**
 * What `plan --json` prints, key by key as other programs rely on it. Further keys may stand beside these; none of these
 * may be missing or of another kind. Ranges and windows must be in order.
 */

const id = z.string().regex(/^[a-z0-9-]+$/)

const range = z
  .looseObject({ early: daySchema, likely: daySchema, late: daySchema, why: z.string().min(1) })
  .refine((one) => one.early <= one.likely && one.likely <= one.late, "a range out of order")

const amount = z
  .looseObject({ low: z.number(), likely: z.number(), high: z.number() })
  .refine((one) => one.low <= one.likely && one.likely <= one.high, "an amount out of order")

const species = z.looseObject({
  id,
  share: z.number().min(0).max(1),
  emergence: range,
  heading: range.nullable(),
  firstFlower: range.nullable(),
  viableSeed: range.nullable(),
  frostKill: z.looseObject({
    temperature_c: z.looseObject({ low: z.number(), high: z.number() }),
    chance: z.number().min(0).max(1),
    when: range.nullable(),
  }),
})

const cut = z
  .looseObject({
    from: daySchema,
    best: daySchema,
    by: daySchema,
    setBy: z.looseObject({ species: id, because: z.enum(["seed", "regrowth", "next-crop", "frost"]) }),
    why: z.string().min(1),
  })
  .refine((one) => one.from <= one.best && one.best <= one.by, "a cut window out of order")

const sowing = z.looseObject({
  sowing: z.string().regex(/^[a-z0-9-]+:\d{4}-\d{2}-\d{2}$/),
  state: z.enum(SOWING_STATES),
  species: z.array(species),
  cut: cut.nullable(),
  rest: z.looseObject({ transplants: range, smallSeed: range, why: z.string().min(1) }).nullable(),
  next: z
    .looseObject({
      crop: z.string().min(1),
      wanted: daySchema,
      fits: z.boolean(),
      ways: z.array(z.looseObject({ way: z.string().min(1), ready: range, cost: z.string().min(1) })),
    })
    .nullable(),
  nitrogen: z.looseObject({ credit_g_per_m2: amount, why: z.string().min(1) }).nullable(),
  water: z.looseObject({ water_l: z.number().min(0), why: z.string().min(1) }).nullable(),
})

export const planSchema = z.looseObject({
  on: daySchema,
  garden: z.string(),
  beds: z.array(z.looseObject({ bed: id, sowings: z.array(sowing) })),
  reminders: z.array(
    z.looseObject({
      id: z.string().regex(/^[a-z0-9-]+:\d{4}-\d{2}-\d{2}:[a-z-]+:\d+$/),
      kind: reminderKindSchema,
      bed: id,
      person: z.string(),
      opens: daySchema,
      lapses: daySchema,
      state: z.enum(["planned", "due", "sent", "done", "snoozed", "skipped", "lapsed"]),
      text: z.string(),
    }),
  ),
})
