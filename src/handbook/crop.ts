import { z } from "zod"
import { figure, sourceKeys } from "./figure.ts"

/** How a crop is started. */
const start = z.enum(["transplant", "set", "large-seed", "small-seed"])

/** One food crop that follows a cover, as `shared/crops/ID.json` holds it. */
export const cropSchema = z.strictObject({
  id: z.string().regex(/^[a-z0-9-]+$/),
  names: z.array(z.string().min(1)).min(1),
  family: z.string().min(1),
  start,
  /** Other ways it is often started. */
  alsoStarted: z.array(start).optional(),
  nitrogen: z.strictObject({
    need: z.enum(["light", "light-medium", "medium", "medium-heavy", "heavy"]),
    need_g_per_m2: figure,
  }),
  /** Soil colder than this holds the crop back in the way it is started. */
  minSoil_c: figure,
  /** Usual planting out or sowing, in weeks from the average last spring frost; negative is before it. */
  weeksFromLastFrost: figure.optional(),
  harvest_days: figure.optional(),
  /** Does frost kill it once it is out? */
  tender: z.boolean(),
  after: z.strictObject({ rye: z.string().optional(), legume: z.string().optional(), brassica: z.string().optional() }),
  source: sourceKeys,
})
export type Crop = z.infer<typeof cropSchema>
