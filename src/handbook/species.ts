import { z } from "zod"
import { figure, grade, sourceKeys } from "./figure.ts"

/** When in the year a cover is sown, as the tables of the trade group it. */
export const season = z.enum(["spring", "summer", "late-summer", "autumn"])
export type Season = z.infer<typeof season>

/** How well a sowing season suits a species; `no` is a season in which it fails. */
const suits = z.strictObject({ fit: z.enum(["good", "ok", "poor", "no"]), note: z.string().optional() })

/** A statement in words with its sources. */
const told = z.strictObject({ text: z.string().min(1), source: sourceKeys })

/** One published way to reckon a stage: days from sowing, a sum of degree-days, or only a calendar statement. */
const flowering = z.strictObject({
  stage: z.enum(["heading", "first-flower"]),
  sown: z.union([season, z.literal("any")]),
  /** `false`: sown then, the stage does not come in the same growing season ("no bloom expected" is an answer). */
  comes: z.boolean(),
  /** Holds only for plants of this habit, where a species has both. */
  type: z.enum(["winter", "spring"]).optional(),
  days: figure.optional(),
  degreeDays: z
    .strictObject({
      base_c: z.number(),
      /** From when the sum counts: sowing, or a day of the year as MM-DD (northern; shifted by half a year in the south). */
      from: z.union([
        z.literal("sowing"),
        z.literal("emergence"),
        z.literal("heading"),
        z.string().regex(/^\d{2}-\d{2}$/),
      ]),
      sum: figure,
    })
    .optional(),
  calendar: told.optional(),
  note: z.string().optional(),
})

const cn = z.strictObject({ vegetative: figure, bud: figure, flowering: figure, mature: figure })

export const caution = z.strictObject({
  about: z.enum(["stock", "weed", "dust", "fumes", "people", "pets", "seed", "crop", "other"]),
  text: z.string().min(1),
  source: sourceKeys,
})

/** One cover species as `shared/species/ID.json` holds it. */
export const speciesSchema = z.strictObject({
  id: z.string().regex(/^[a-z0-9-]+$/),
  /** The first is how texts name it; the others are words people use for it. */
  names: z.array(z.string().min(1)).min(1),
  latin: z.string().min(1),
  family: z.string().min(1),
  kind: z.enum(["grass", "legume", "brassica", "broadleaf"]),
  life: z.enum(["winter-annual", "summer-annual", "annual", "biennial", "perennial"]),
  photoperiod: z.enum(["long", "short", "neutral"]),
  vernalization: z.enum(["required", "helps", "none"]),
  seeding: z.strictObject({
    /** Pure stand, broadcast. */
    broadcast_g_per_m2: figure,
    depth_cm: figure,
    seeds_per_g: figure.optional(),
  }),
  germination: z.strictObject({ minSoil_c: figure, emergence_days: figure }),
  sowing: z.strictObject({
    seasons: z.strictObject({ spring: suits, summer: suits, "late-summer": suits, autumn: suits }),
    weeksBeforeFirstAutumnFrost: figure.optional(),
    weeksFromLastSpringFrost: figure.optional(),
  }),
  flowering: z.array(flowering),
  /** First flower to the first seed that can grow. `grade` none: act on first flower. */
  viableSeed_days: figure,
  /** `low`: coldest survived; `high`: warmest at which loss is reported. */
  winterKill_c: z.strictObject({ ...figure.shape, basis: z.enum(["air", "zone", "mixed"]) }),
  cut: z.strictObject({
    /** The stage from which one cut at the ground kills; `never`: no single cut does; `any`: it does not come back at all. */
    killedFrom: z.enum(["any", "bud", "heading", "first-flower", "full-bloom", "milk", "pods", "never"]),
    /** Days from first flower until one cut kills, for `full-bloom`, `milk` and `pods`. */
    daysAfterFirstFlower: figure.optional(),
    regrowth: told,
    source: sourceKeys,
    grade,
  }),
  height_cm: figure.optional(),
  cn,
  breakdown_weeks: figure.optional(),
  nitrogen_g_per_m2: figure.optional(),
  /** Inoculant group of a legume. */
  inoculant: z.string().optional(),
  allelopathic: z.boolean(),
  biofumigant: z.boolean(),
  cautions: z.array(caution),
  notes: z.array(told).optional(),
})
export type Species = z.infer<typeof speciesSchema>
export type Caution = z.infer<typeof caution>
export type FloweringFigure = z.infer<typeof flowering>
