import { z } from "zod"
import { cited, citedValue, tableReader, threeEnds } from "./table.ts"

const placement = z.strictObject({
  /** Decay rate per decay-day: base + perNitrogen / C:N. */
  rate: z.strictObject({ base: z.number(), perNitrogen: z.number() }),
  /** C:N of the microbes: base + perNitrogen / C:N, not below `least`. */
  microbes: z.strictObject({ least: z.number(), base: z.number(), perNitrogen: z.number() }),
  /** Share of dead microbes that becomes humus: 1 - ceiling C:N / (half + C:N). */
  humus: z.strictObject({ ceiling: z.number(), half: z.number() }),
  microbeDecay: z.number().positive(),
  ...cited,
})

const level = z.strictObject({ transplants: z.number(), smallSeed: z.number() })

const residueSchema = z.strictObject({
  about: z.string(),
  temperature: z.strictObject({ reference_c: z.number(), steepness_per_c: z.number(), ceiling: z.number(), ...cited }),
  moisture: z.strictObject({ dry_share: z.number(), moist_share: z.number(), ...cited }),
  growthYield: citedValue,
  humusNitrogen: citedValue,
  turnedIn: placement,
  surface: placement,
  /** Size of the pieces as a share of the speed of finely ground residue. */
  pieces: threeEnds.extend(cited),
  roots: z.strictObject({ cnFactor: z.number(), massShare: z.number(), ...cited }),
  /** Shares of the residue's carbon that may still be there when the bed is ready, and bounds in days. */
  ready: z.strictObject({
    turnedIn: level,
    roots: level,
    winterKilledSmallSeed: z.number(),
    mulch: threeEnds,
    mulchAtMost_days: threeEnds,
    tarp_days: threeEnds,
    rakedTops_days: z.number(),
    ...cited,
  }),
  soil: z.strictObject({
    airDays: z.int().positive(),
    underMulch_c: z.number(),
    underTarp_c: z.number(),
    greenhouse_c: z.number(),
    coldestSoil_c: z.number(),
    measuredHolds_days: z.number(),
    /** Standard deviations of the year from the normals that the warm and the cold end stand off. */
    spread: z.number(),
    workable_c: z.number(),
    ...cited,
  }),
  wetness: z.strictObject({
    rainWets_mm: z.number(),
    dryDay: z.number(),
    humid: z.number(),
    dry: z.number(),
    watered: z.number(),
    soaked_mm: z.number(),
    soakedDays: z.int().positive(),
    wateringCounts_mm: z.number(),
    soilMoist: z.number(),
    soilDry: z.number(),
    ...cited,
  }),
})
export type ResidueTable = z.infer<typeof residueSchema>
export type Placement = z.infer<typeof placement>

/** `shared/tables/residue-decay.json`. */
export const residueTable = tableReader("residue-decay", residueSchema)

const days = z.tuple([z.number(), z.number(), z.number()])

const waitsSchema = z.strictObject({
  about: z.string(),
  waits: z.array(
    z.strictObject({
      group: z.enum(["strong-allelopath", "cereal", "legume", "brassica", "tender", "any"]),
      methods: z.array(z.enum(["leave", "carry-off", "turn-in", "tarp"])),
      transplants: days,
      smallSeed: days,
      ...cited,
    }),
  ),
  winterKilled: z.strictObject({ transplants: days, smallSeed: days, ...cited }),
  members: z.strictObject({ "strong-allelopath": z.array(z.string()), tender: z.array(z.string()), ...cited }),
  maggot: z.strictObject({
    base_c: z.number(),
    eggToAdult_cDays: z.number(),
    wait_days: days,
    flies_until_soil_c: z.number(),
    families: z.array(z.string()),
    crops: z.array(z.string()),
    ...cited,
  }),
  gas: z.strictObject({ days, ...cited }),
  slugs: z.strictObject({ below_c: z.number(), ...cited }),
})
export type WaitsTable = z.infer<typeof waitsSchema>

/** `shared/tables/rest-waits.json`. */
export const waitsTable = tableReader("rest-waits", waitsSchema)
