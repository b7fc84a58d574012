import { z } from "zod"
import { cited, citedValue, tableReader } from "../agronomy/table.ts"

const cuttingSchema = z.strictObject({
  about: z.string(),
  seedChance: citedValue,
  seedChanceAtMost: citedValue,
  actOnFirstFlower_days: citedValue,
  budBeforeFlower_days: citedValue,
  bootBeforeHeading_days: citedValue,
  floweringLasts_days: citedValue,
  podsAtShareOfSeed: citedValue,
  usefulFrom_days: citedValue,
  noBloomFrom_days: citedValue,
  noBloomWindow_days: citedValue,
  leastWindow_days: citedValue,
  regrowthCheck_days: z.strictObject({ from: z.number(), to: z.number(), ...cited }),
  secondCut: z.strictObject({ best_days: z.number(), by_days: z.number(), ...cited }),
  perennialRebloom_days: z.strictObject({ from: z.number(), to: z.number(), ...cited }),
  secondGrowth_days: citedValue,
  killedByWinter: z.strictObject({ expected: z.number(), remark: z.number(), ...cited }),
  springAsk_days: citedValue,
  giveUp_days: citedValue,
  youngestCut_days: citedValue,
  weights: z.strictObject({
    regrowth: z.number(),
    seed: z.number(),
    seedNear_days: z.number(),
    latePerDay: z.number(),
    hunger: z.number(),
    wet: z.number(),
    unusualDay: z.number(),
    waiting: z.number(),
    ...cited,
  }),
  planned: z.strictObject({ giveUp_days: z.number(), ...cited }),
})
export type CuttingTable = z.infer<typeof cuttingSchema>

/** `shared/tables/cutting.json`. */
export const cuttingTable = tableReader("cutting", cuttingSchema)

const rotationSchema = z.strictObject({
  about: z.string(),
  /** Years that a family should keep away from a bed. */
  years: z.strictObject({ source: z.array(z.string()) }).catchall(z.union([z.number(), z.array(z.string())])),
  /** What carries over, by family. */
  next: z.strictObject({ source: z.array(z.string()) }).catchall(z.union([z.string(), z.array(z.string())])),
})
export type RotationTable = z.infer<typeof rotationSchema>

/** `shared/tables/rotation.json`. */
export const rotationTable = tableReader("rotation", rotationSchema)
