/**
 * Spread of stands of one species at a place the fit has not seen, set so that the ranges hold about 82 of 100 events of
 * places and seasons left out (`score.ts` prints the table): log of the days needed, days, log of the seedbed's sum,
 * and after a report of the last leaf.
 */
export type Spread = { stands: number; noise: number; emergence: number; reported?: { log: number; days: number } }

export const SPREADS: Readonly<Record<string, Spread>> = {
  "winter-wheat": { stands: 0.09, noise: 1, emergence: 0.2, reported: { log: 0.12, days: 1.5 } },
  "spring-wheat": { stands: 0.23, noise: 2, emergence: 0.2, reported: { log: 0.16, days: 2 } },
  barley: { stands: 0.1, noise: 2, emergence: 0.2, reported: { log: 0.08, days: 1 } },
  oats: { stands: 0.14, noise: 2, emergence: 0.2, reported: { log: 0.2, days: 2 } },
  rapeseed: { stands: 0.14, noise: 2, emergence: 0.25 },
  "brown-mustard": { stands: 0.2, noise: 2, emergence: 0.25 },
  soybean: { stands: 0.12, noise: 2, emergence: 0.25 },
  cowpea: { stands: 0.15, noise: 2, emergence: 0.25 },
  other: { stands: 0.15, noise: 3, emergence: 0.25 },
}

/** Common practice without a source: raised beds warm earlier; an unheated house keeps off little frost and is hot by day. */
export const BEDS = { raised: { tmin_c: 0.5, tmax_c: 1.5 }, greenhouse: { tmin_c: 2, tmax_c: 7 } }
