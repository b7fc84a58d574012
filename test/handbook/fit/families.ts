import type { Development } from "../../../src/handbook/development.ts"

/** What is believed of a number before any row is seen: normal with mean and standard deviation, between limits. */
export type Prior = readonly [mean: number, sd: number, least: number, most: number]
/** The same of a positive number: its middle and the standard deviation of its logarithm. */
export type LogPrior = readonly [middle: number, logSd: number]

export type Numbers = {
  seedbed_base: Prior
  base: Prior
  ceiling: Prior
  from_h: Prior
  to_h: Prior
  least: Prior
  cold_days: Prior
  localLight: Prior
  localDays: Prior
  localLeast: Prior
  heatShare: Prior
  ear_base: Prior
  ear_ceiling: Prior
  dayShare: Prior
}
export type SpeciesPriors = {
  seedbed: LogPrior
  days: LogPrior
  uncooled: Prior
  /** Grasses: days from last leaf to flower, and from heading to flower. */
  flower?: LogPrior
  headingBefore?: Prior
  /** How wide the sorts and the rest are beside the family's; 1 where nothing is said. */
  errorScale?: number
}

/** Standard deviations: of places, sorts and the rest (log of the days needed), and days. */
export type Errors = { place: number; sort: number; rest: number; days: number }

/** Species that share how they answer to warmth, light and cold, and differ in how much they need. */
export type Family = {
  name: string
  shared: Numbers
  /** Standard deviation of a species' own departure from a shared number. */
  own: Partial<Record<keyof Numbers, number>>
  species: Readonly<Record<string, SpeciesPriors>>
  from: "emergence" | "sowing"
  reference: number | "warmest"
  grass: boolean
  /** What may be believed of the errors; none is known to be right, so the fits of all count alike. */
  beliefs: readonly Errors[]
  /** Where local sorts are quicker. */
  sorts: Development["sorts"]
  sources: readonly string[]
}

const MILD_WINTERS: Development["sorts"] = { month: "coldest", from_c: 4, to_c: 10 }
const COOL_SUMMERS: Development["sorts"] = { month: "warmest", from_c: 23, to_c: 18 }

const BELIEFS: readonly Errors[] = [
  { place: 0.025, sort: 0.07, rest: 0.08, days: 3 },
  { place: 0.025, sort: 0.14, rest: 0.08, days: 3 },
]

const fixed = (value: number): Prior => [value, 1e-6, value - 1e-6, value + 1e-6]
const alike = { localLight: fixed(0), localDays: fixed(0), localLeast: fixed(0) }
const sunward = { heatShare: fixed(1) }
const noLight = { from_h: fixed(10), to_h: fixed(12), least: fixed(1) }
const noEar = { ear_base: fixed(0), ear_ceiling: fixed(30), dayShare: fixed(0) }

/**
 * Small grains. Base near 0 to 4 C and an upper limit near 25 C (Porter and Gawith 1999; Slafer and Rawson 1995); light from 8
 * to 16 h, and next to no development of winter wheat before any cold (Weir et al. 1984); the base of species differs by about a
 * degree (Porter and Gawith 1999); 40 days of cold (Weir et al. 1984; Wang and Engel 1998). The base rises with the stage, from
 * 1.5 C at the terminal spikelet to 9.5 C at flower (Porter and Gawith 1999): that of the ear lies between. Last leaf to flower
 * three leaves of 100 degree-days above 0 C, 24 days in the springs of 12.5 C where that was found (Jamieson et al. 1998), and so
 * 18 days at 15 C; barley sheds pollen in the boot. All from memory.
 */
const smallGrains: Family = {
  name: "small grains",
  shared: {
    seedbed_base: [0, 0.5, -2, 4],
    base: [2, 2, -2, 9],
    ceiling: [24, 4, 12, 35],
    from_h: [8, 1.5, 4, 12],
    to_h: [16, 1.5, 12.5, 20],
    least: [0.1, 0.15, 0, 1],
    cold_days: [40, 15, 1, 80],
    localLight: fixed(0),
    localDays: [0.25, 0.15, -0.2, 1],
    localLeast: [0.1, 0.1, 0, 0.6],
    heatShare: fixed(1),
    ear_base: [5.5, 2.5, -2, 10],
    ear_ceiling: [26, 4, 12, 35],
    dayShare: [0.1, 0.1, 0, 0.9],
  },
  own: { base: 1, ear_base: 1.5, least: 0.08, cold_days: 5 },
  species: {
    "winter-wheat": {
      // Sorts of winter wheat differ by 2 days where spring wheats differ by 6 to 8 (the data's own account).
      errorScale: 0.6,
      seedbed: [130, 0.2],
      days: [35, 0.5],
      uncooled: [0.05, 0.1, 0, 1],
      flower: [18, 0.05],
      headingBefore: [5.5, 1.5, 0, 12],
    },
    "spring-wheat": {
      seedbed: [120, 0.2],
      days: [32, 0.5],
      uncooled: [0.4, 0.25, 0, 1],
      flower: [18, 0.05],
      headingBefore: [5.5, 1.5, 0, 12],
    },
    barley: {
      seedbed: [120, 0.2],
      days: [32, 0.5],
      uncooled: [0.4, 0.25, 0, 1],
      flower: [11, 0.25],
      headingBefore: [2, 1.5, -2, 6],
    },
    oats: {
      seedbed: [130, 0.2],
      days: [35, 0.5],
      uncooled: [0.4, 0.25, 0, 1],
      flower: [18, 0.25],
      headingBefore: [2, 1.5, -2, 6],
    },
  },
  from: "emergence",
  reference: 15,
  grass: true,
  beliefs: BELIEFS,
  sorts: MILD_WINTERS,
  sources: ["PORTER1999-MEM", "SLAFER1995-MEM", "WEIR1984-MEM", "WANG1998-MEM", "JAMIESON1998-MEM"],
}

/** Rape and mustards. Base near 3 C, light from 9 to 15 h (Robertson et al. 2002, from memory), a little cold in some sorts. */
const crucifers: Family = {
  name: "rape and mustards",
  shared: {
    seedbed_base: [2, 1, -2, 8],
    base: [3, 2, -2, 9],
    ceiling: [24, 4, 12, 35],
    from_h: [9, 1.5, 4, 12],
    to_h: [15, 1.5, 12.5, 20],
    least: [0.2, 0.15, 0, 1],
    cold_days: [25, 10, 1, 80],
    ...alike,
    ...sunward,
    ...noEar,
  },
  own: {},
  species: {
    rapeseed: { seedbed: [90, 0.25], days: [40, 0.4], uncooled: [0.7, 0.2, 0, 1] },
    "brown-mustard": { seedbed: [80, 0.25], days: [38, 0.4], uncooled: [0.8, 0.15, 0, 1] },
    "ethiopian-mustard": { seedbed: [80, 0.25], days: [40, 0.4], uncooled: [0.8, 0.15, 0, 1] },
  },
  from: "emergence",
  reference: 15,
  grass: false,
  beliefs: BELIEFS,
  sorts: MILD_WINTERS,
  sources: ["ROBERTSON2002-MEM"],
}

/**
 * Short-day summer legumes, of which each place grows the sorts that suit its summer: the days from sowing hold better than
 * any heat sum; long days put off the sorts of lower latitudes, and cool summers have the quickest sorts. Base 7 C, light from
 * 15.5 down to 12.8 h (Hesketh et al. 1973; Ellis et al. 1994; Major et al. 1975, from memory).
 */
const summerLegumes: Family = {
  name: "summer legumes",
  shared: {
    seedbed_base: [8, 1.5, 4, 12],
    base: [7, 2, 0, 12],
    ceiling: [26, 3, 16, 36],
    from_h: [15.5, 0.5, 14, 17],
    to_h: [12.8, 0.4, 11, 13.5],
    least: [0.75, 0.08, 0.3, 1],
    cold_days: fixed(40),
    localLight: [0.5, 0.12, 0, 1],
    localDays: [0.25, 0.1, 0, 0.6],
    localLeast: fixed(0),
    heatShare: [0.3, 0.15, 0.05, 1],
    ...noEar,
  },
  own: {},
  species: {
    soybean: { seedbed: [90, 0.2], days: [35, 0.3], uncooled: fixed(1) },
    cowpea: { seedbed: [80, 0.2], days: [40, 0.15], uncooled: fixed(1) },
  },
  from: "sowing",
  reference: "warmest",
  grass: false,
  beliefs: [{ place: 0.06, sort: 0.08, rest: 0.05, days: 2.5 }],
  sorts: COOL_SUMMERS,
  sources: ["HESKETH1973-MEM", "ELLIS1994-MEM", "MAJOR1975-MEM"],
}

/** Sunflower, too, is grown in sorts that suit the summer; day length hardly moves it. Base 6.7 C (the handbook's figures). */
const sunflower: Family = {
  name: "sunflower",
  shared: {
    seedbed_base: [6, 1, 2, 10],
    base: [6.7, 1, 2, 10],
    ceiling: [26, 3, 16, 36],
    ...noLight,
    cold_days: fixed(40),
    ...alike,
    heatShare: [0.5, 0.2, 0.05, 1],
    ...noEar,
  },
  own: {},
  species: { sunflower: { seedbed: [100, 0.2], days: [62, 0.15], uncooled: fixed(1) } },
  from: "sowing",
  reference: "warmest",
  grass: false,
  beliefs: [{ place: 0.1, sort: 0.08, rest: 0.05, days: 2.5 }],
  sorts: COOL_SUMMERS,
  sources: ["HPRCC-SUN"],
}

/** Cool-season pulses: base near 1 C, long-day (Summerfield et al. 1985; Ellis et al. 1988, from memory). */
const coolPulses: Family = {
  name: "cool-season pulses",
  shared: {
    seedbed_base: [1, 1, -2, 5],
    base: [1, 1.5, -2, 8],
    ceiling: [25, 3, 14, 35],
    from_h: [9, 1.5, 4, 12],
    to_h: [15.5, 1.5, 12.5, 20],
    least: [0.35, 0.2, 0, 1],
    cold_days: fixed(20),
    ...alike,
    heatShare: [0.4, 0.2, 0.05, 1],
    ...noEar,
  },
  own: {},
  species: {
    lentil: { seedbed: [110, 0.2], days: [32, 0.3], uncooled: fixed(1) },
    chickpea: { seedbed: [110, 0.2], days: [32, 0.3], uncooled: fixed(1) },
  },
  from: "emergence",
  reference: 15,
  grass: false,
  beliefs: [{ place: 0.08, sort: 0.1, rest: 0.08, days: 3 }],
  sorts: MILD_WINTERS,
  sources: ["SUMMERFIELD1985-MEM", "ELLIS1988-MEM"],
}

/**
 * Fava lives through mild winters and waits for spring there: its rate follows warmth above 0 C wholly (830 to 1,000
 * degree-days, Patrick and Stoddard 2010), is slow in short days and quicker once it was cold (Ellis et al. 1988, from memory).
 */
const fava: Family = {
  ...coolPulses,
  name: "fava",
  shared: {
    ...coolPulses.shared,
    base: [0, 0.5, -2, 3],
    cold_days: [30, 10, 1, 80],
    ...sunward,
  },
  species: { "fava-bean": { seedbed: [200, 0.2], days: [32, 0.3], uncooled: [0.5, 0.15, 0, 1] } },
  sources: ["PATRICK2010", "ELLIS1988-MEM"],
}

export const FAMILIES: readonly Family[] = [smallGrains, crucifers, summerLegumes, sunflower, coolPulses, fava]
