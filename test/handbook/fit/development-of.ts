import { normalQuantile, TENTH } from "../../../src/agronomy/spread.ts"
import type { Development, DevelopmentClock } from "../../../src/handbook/development.ts"
import type { Figure } from "../../../src/handbook/figure.ts"
import type { Family } from "./families.ts"
import type { Fitted } from "./least-squares.ts"
import { COLD, type Layout, MILD } from "./model.ts"
import { BEDS, SPREADS } from "./spreads.ts"

/** Sets of numbers that fit alike, kept beside the best: pairs on both sides of it. */
const PAIRS = 4

/** The development of a species as fitted. */
export function developmentOf(
  layout: Layout,
  fitted: Fitted,
  id: string,
  basis: DevelopmentClock["basis"],
  needsCold: Figure | null = null,
): Development {
  const family = layout.family
  const best = layout.numbers(fitted.at, id)
  const spread = SPREADS[id] ?? SPREADS.other!
  const members = drawsOf(layout, fitted).map((at) => layout.numbers(at, id))
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
    mild: MILD,
    beds: BEDS,
    bootShare: family.grass ? 0.5 : null,
  }
}

/** Points around the best fit with its covariance, in mirrored pairs on a fixed low-discrepancy sequence. */
function drawsOf(layout: Layout, { at, spread }: Fitted): Float64Array[] {
  const limits = layout.limits
  return Array.from({ length: PAIRS * 2 }, (_, draw) => {
    const sign = draw % 2 === 0 ? 1 : -1
    const point = Float64Array.from(at)
    spread.forEach((column, i) => {
      const z =
        sign * normalQuantile(((draw >> 1) + 0.5) / (2 * PAIRS) + 0.5 * ((i * 0.6180339887) % 1 < 0.5 ? 0 : 1) - 0)
      const turned = z * ((i * 7 + (draw >> 1) * 3) % 4 < 2 ? 1 : -1)
      for (let k = 0; k < point.length; k += 1) point[k] = point[k]! + turned * column[k]!
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

export type { Family }
