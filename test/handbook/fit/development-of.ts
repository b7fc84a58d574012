import { normalQuantile, TENTH } from "../../../src/agronomy/spread.ts"
import type { Development, DevelopmentClock } from "../../../src/handbook/development.ts"
import type { Figure } from "../../../src/handbook/figure.ts"
import type { Fitted } from "./least-squares.ts"
import { COLD, type FamilyFit, type Layout } from "./model.ts"
import { BEDS, SPREADS } from "./spreads.ts"

/** Sets of numbers that fit alike, kept beside the best: pairs on both sides of it. */
const PAIRS = 8

/** The development of a species as fitted. */
export function developmentOf(
  { layout, fits }: FamilyFit,
  id: string,
  basis: DevelopmentClock["basis"],
  needsCold: Figure | null = null,
): Development {
  const family = layout.family
  const best = layout.numbers(middleOf(fits), id)
  const spread = SPREADS[id] ?? SPREADS.other!
  const members = fits
    .flatMap((fitted) => drawsOf(layout, fitted, PAIRS / fits.length))
    .map((at) => layout.numbers(at, id))
  const names = [
    ...Object.keys(best.clock.rate),
    ...(best.clock.grass ? Object.keys(best.clock.grass).map((name) => `grass.${name}`) : []),
  ]
  const flat = ({ clock }: typeof best): number[] =>
    [...Object.values(clock.rate), ...Object.values(clock.grass ?? {})].map(short)
  const factor = Math.exp(TENTH * spread.stands)
  const emergence = Math.exp(TENTH * spread.emergence)
  return {
    id,
    emergence: {
      base_c: short(best.seedbed.base),
      ceiling_c: 30,
      sum: {
        low: short(best.seedbed.sum / emergence),
        likely: short(best.seedbed.sum),
        high: short(best.seedbed.sum * emergence),
        unit: "C d",
        source: basis.source,
        grade: basis.grade,
      },
    },
    clocks: [
      {
        sown: "any",
        from: family.from,
        reference_c: family.reference,
        heat: { share: short(best.heatShare), rest: "steady" },
        rate: rounded(best.clock.rate),
        grass: best.clock.grass && rounded(best.clock.grass),
        stands: { low: short(1 / factor), likely: 1, high: short(factor) },
        noise_days: spread.noise,
        reported: family.grass ? spread.reported! : null,
        members: { names, rows: members.map(flat) },
        basis,
      },
    ],
    needsCold,
    cold: COLD,
    sorts: family.sorts,
    beds: BEDS,
    bootShare: family.grass ? 0.5 : null,
  }
}

/** The middle of several fits. */
function middleOf(fits: readonly Fitted[]): Float64Array {
  return Float64Array.from(fits[0]!.at, (_, i) => fits.reduce((sum, fit) => sum + fit.at[i]!, 0) / fits.length)
}

/** Points around a fit with its covariance, in mirrored pairs; the directions are a fixed sequence of signed quantiles. */
function drawsOf(layout: Layout, { at, spread }: Fitted, pairs: number): Float64Array[] {
  const limits = layout.limits
  return Array.from({ length: pairs * 2 }, (_, draw) => {
    const side = draw % 2 === 0 ? 1 : -1
    const point = Float64Array.from(at)
    spread.forEach((column, i) => {
      const z = side * normalQuantile(((i + 1) * 0.6180339887 + (draw >> 1) * 0.4142135624) % 1)
      for (let k = 0; k < point.length; k += 1) point[k] = point[k]! + z * column[k]!
    })
    return point.map((value, i) => Math.min(limits[i]![1], Math.max(limits[i]![0], value)))
  })
}

function rounded<Numbers extends Record<string, number>>(numbers: Numbers): Numbers {
  return Object.fromEntries(Object.entries(numbers).map(([name, value]) => [name, short(value)])) as Numbers
}

/** Four figures are more than the fit knows. */
function short(value: number): number {
  return Number(value.toPrecision(4))
}
