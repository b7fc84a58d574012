import { z } from "zod"
import { cited, citedValue, tableReader } from "./table.ts"

const span = z.strictObject({ low: z.number(), high: z.number() })

const wateringSchema = z.strictObject({
  about: z.string(),
  hargreaves: z.strictObject({
    factor: z.number(),
    offset_c: z.number(),
    mmPerMj: z.number(),
    solar_mj_m2_min: z.number(),
    ...cited,
  }),
  /** Water that soil holds for plants, as a share of its volume. */
  available_share: z.strictObject({ sand: span, loam: span, clay: span, ...cited }),
  seedbed_mm: citedValue,
  rootDepth_mm: citedValue,
  depletion: citedValue,
  bareSoil: citedValue,
  cover: citedValue,
  rainCounts_mm: citedValue,
  youngStand_days: citedValue,
  greenhouseEvaporation: citedValue,
})
export type WateringTable = z.infer<typeof wateringSchema>

/** `shared/tables/watering.json`. */
export const wateringTable = tableReader("watering", wateringSchema)
