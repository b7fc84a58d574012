import { z } from "zod"
import type { Then } from "../garden/garden.ts"
import type { Species } from "../handbook/species.ts"
import { convert } from "../values/amount.ts"
import { cited, citedValue, tableReader } from "./table.ts"

/** How far a stand has come, as C:N tables group it. */
export const RESIDUE_STAGES = ["vegetative", "bud", "flowering", "mature"] as const
export type ResidueStage = (typeof RESIDUE_STAGES)[number]

const byStage = { vegetative: z.number(), bud: z.number(), flowering: z.number(), mature: z.number() }
const growth = z.strictObject({ in: z.number(), lb_per_acre: z.number(), perFurtherInch: z.number() })

const nitrogenSchema = z.strictObject({
  about: z.string(),
  carbon_percent: citedValue,
  available: z.strictObject({
    from_percent: z.number(),
    to_percent: z.number(),
    lbPerTonAtTo: z.number(),
    heldAt_percent: z.number(),
    range: z.tuple([z.number(), z.number()]),
    ...cited,
  }),
  method: z.strictObject({
    "turn-in": z.number(),
    leaveWarm: z.number(),
    leaveCool: z.number(),
    warmMonth_c: z.number(),
    tarp: z.number(),
    "carry-off": z.number(),
    winterKilled: z.number(),
    ...cited,
  }),
  dryShare: z.strictObject({ ...byStage, ...cited }),
  quadrat_m2: citedValue,
  height: z.strictObject({ broadleaf: growth, cereal: growth, ...cited }),
  unmeasured_g_per_m2: z.strictObject({ ...byStage, range: z.tuple([z.number(), z.number()]), ...cited }),
  tieUpAbove_cn: citedValue,
})
export type NitrogenTable = z.infer<typeof nitrogenSchema>

/** `shared/tables/cover-nitrogen.json`. */
export const nitrogenTable = tableReader("cover-nitrogen", nitrogenSchema)

const LB_PER_TON = 2000

/** Percent nitrogen of dry matter from its C:N and percent carbon: by definition. */
export function nitrogenPercent(cn: number, carbon_percent: number): number {
  return carbon_percent / cn
}

/**
 * Nitrogen that becomes available to the next crop, in pounds per US ton of dry matter, turned in: a straight line
 * through 0 at 1.5 % nitrogen and 35 at 3.5 %. Below it is negative: tied up, never a credit. Source: PNW 636.
 */
export function availablePerTon(n_percent: number, table: NitrogenTable): number {
  const { from_percent, to_percent, lbPerTonAtTo } = table.available
  return (lbPerTonAtTo * (n_percent - from_percent)) / (to_percent - from_percent)
}

/** The same in g per m2 from dry matter in g per m2, not below 0 and held beyond the percent that the source covers. */
export function availableNitrogen(dry_g_per_m2: number, n_percent: number, table: NitrogenTable): number {
  const held = Math.min(n_percent, table.available.heldAt_percent)
  return Math.max(0, (dry_g_per_m2 * availablePerTon(held, table)) / LB_PER_TON)
}

/** Dry matter in g per m2 of a fresh sample, from the share of it that is dry. */
export function dryFromFresh(fresh_g: number, area_m2: number, dryShare: number): number {
  return (fresh_g * dryShare) / area_m2
}

/**
 * Dry matter in g per m2 from the height of a stand and the share of the ground it covers (0 to 1): so much at the first
 * inches, so much more for each further inch; shorter stands in proportion. Source: NDSU, `shared/tables/cover-nitrogen.json`.
 */
export function dryFromHeight(height_cm: number, cover: number, kind: Species["kind"], table: NitrogenTable): number {
  const rule = kind === "grass" ? table.height.cereal : table.height.broadleaf
  const inches = convert(height_cm, "cm", "in")
  const lb =
    inches <= rule.in
      ? (rule.lb_per_acre * inches) / rule.in
      : rule.lb_per_acre + rule.perFurtherInch * (inches - rule.in)
  return convert(lb * cover, "lb/acre", "g/m2")
}

/** Share of the nitrogen credit that a way of killing leaves. `warm`: a month of the year is warmer than the table's mark. */
export function methodShare(then: Then, warm: boolean, table: NitrogenTable): number {
  if (then === "leave") return warm ? table.method.leaveWarm : table.method.leaveCool
  return table.method[then]
}
