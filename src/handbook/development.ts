import { z } from "zod"
import { figure, grade, sourceKeys } from "./figure.ts"
import { season } from "./species.ts"

/** A requirement that differs from plant to plant: 10th, 50th and 90th of a hundred stands. */
const spread = z.strictObject({
  low: z.number().positive(),
  likely: z.number().positive(),
  high: z.number().positive(),
})

/** Numbers of a clock that its members may differ in; all days are development days, one for each day at `reference_c`. */
const rate = z.strictObject({
  /** No development at or below, C. */
  base_c: z.number(),
  /** Warmth above counts as this, C. */
  ceiling_c: z.number(),
  /** Hours of light, civil twilight included, at which the rate is least and full. From above to: a short-day plant. */
  from_h: z.number(),
  to_h: z.number(),
  /** Rate at `from_h`, as a share of the full rate; 1: day length does not matter. */
  least: z.number().min(0).max(1),
  /** Rate before any cold, as a share of the full rate; 1: cold does not matter. */
  uncooled: z.number().min(0).max(1),
  /** Days of full cold after which the rate is full. */
  cold_days: z.number().positive(),
  /** Development days from the start of the clock to the last leaf of a grass, or to the first flower of any other plant. */
  days: z.number().positive(),
  /** How far local sorts are fitted to the longest day of the place, 0 to 1: light then counts from a longest day of 15 h. */
  localLight: z.number(),
  /** How much fewer days (log) and how much less day length matters (share) where the place is as `sorts` has it. */
  localDays: z.number(),
  localLeast: z.number(),
})
const grassRate = z.strictObject({
  base_c: z.number(),
  ceiling_c: z.number(),
  /** Share of the rate that long days bring. */
  dayShare: z.number().min(0).max(1),
  /** Development days from the last leaf out to heading and to first flower. */
  heading_days: z.number().positive(),
  flower_days: z.number().positive(),
})

const clock = z.strictObject({
  /** Seasons of sowing that it holds for. */
  sown: z.union([z.literal("any"), z.array(season).min(1)]),
  /** What it counts from: sowing, emergence, or 1 January (1 July in the south) where that comes later. */
  from: z.enum(["sowing", "emergence", "new-year"]),
  /** Mean temperature at which one day is one development day; `warmest`: the warmest month of the place, for plants whose local sorts keep to the days. */
  reference_c: z.union([z.number(), z.literal("warmest")]),
  /** Share of the rate that follows the warmth of the year; the rest keeps to the days (`steady`) or to the place's normals. */
  heat: z.strictObject({ share: z.number().min(0).max(1), rest: z.enum(["steady", "normals"]) }),
  rate,
  /** From the last leaf of a grass on; null: the clock ends with the first flower. */
  grass: grassRate.nullable(),
  /** Spread of `rate.days` between stands, as a factor. */
  stands: spread,
  /** What is left on top, days (standard deviation). */
  noise_days: z.number().min(0),
  /** Spread after the last leaf or a later stage was seen: log of the days still to go, and days. */
  reported: z.strictObject({ log: z.number().min(0), days: z.number().min(0) }).nullable(),
  /** Further sets of numbers that fit alike, each as departures from `rate` and `grass` by name. */
  members: z.strictObject({ names: z.array(z.string()), rows: z.array(z.array(z.number())) }).nullable(),
  /** How it came about: fitted to observed rows, or a published range turned into development days. */
  basis: z.strictObject({
    how: z.enum(["fitted", "published", "kin"]),
    grade,
    source: sourceKeys,
    /** One clause for `why`. */
    says: z.string().min(1),
    note: z.string().optional(),
    fit: z
      .strictObject({
        data: z.string(),
        on: z.string(),
        rows: z.number().int(),
        places: z.number().int(),
        mae_days: z.number(),
        leftOut: z.string(),
      })
      .optional(),
  }),
})

const warmth = z.strictObject({ tmin_c: z.number(), tmax_c: z.number() })

/** How a species develops from sowing to seed, as `shared/development/ID.json` holds it. */
export const developmentSchema = z.strictObject({
  id: z.string().regex(/^[a-z0-9-]+$/),
  emergence: z.strictObject({
    base_c: z.number(),
    ceiling_c: z.number(),
    /** Degree-days of the seedbed from sowing to the first seedlings. */
    sum: figure,
  }),
  clocks: z.array(clock),
  /** Days of full cold without which winter types do not flower; null: none are needed. */
  needsCold: figure.nullable(),
  /** Where winters are mild (`sorts`) its spring types are grown, which need none of that cold. */
  springTypes: z.literal(true).optional(),
  /** Temperatures at which cold counts. */
  cold: z.strictObject({ least: z.number(), from: z.number(), to: z.number(), most: z.number() }),
  /**
   * Where gardeners grow quicker sorts: by the mean of the coldest month (mild winters) or of the warmest (cool summers);
   * not at all at `from_c`, wholly at `to_c`.
   */
  sorts: z.strictObject({ month: z.enum(["coldest", "warmest"]), from_c: z.number(), to_c: z.number() }),
  /** How much warmer a raised bed's seedbed is than open ground, and the air of an unheated greenhouse than outside, C. */
  beds: z.strictObject({ raised: warmth, greenhouse: warmth }),
  /** Boot of a grass as a share of the days from last leaf to heading. */
  bootShare: z.number().min(0).max(1).nullable(),
})
export type Development = z.infer<typeof developmentSchema>
export type DevelopmentClock = z.infer<typeof clock>
export type DevelopmentRate = z.infer<typeof rate>
export type GrassRate = z.infer<typeof grassRate>
