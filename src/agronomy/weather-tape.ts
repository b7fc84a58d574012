import type { Climate } from "../handbook/climate.ts"
import { MONTH_OF_SLOT, overYear, slotsOf } from "./calendar-slots.ts"
import { sineDegreeDays } from "./degree-day.ts"
import { type ColdLimits, vernalDay } from "./vernalisation.ts"
import type { DailyWeather } from "./weather-series.ts"

/** How one day of weather counts towards a process: a number from its minimum and maximum. */
export type Response = {
  key: string
  of(tmin_c: number, tmax_c: number): number
  /** Departures of made days from the normals count so many times; 1 where nothing is said. */
  departs?: number
}

/** Warmth of a bed over the open ground, C. */
export type Warmth = { tmin_c: number; tmax_c: number }
export const OPEN_GROUND: Warmth = { tmin_c: 0, tmax_c: 0 }

/** Degree-days between two limits. */
export function heatResponse(lower: number, upper: number, warmer: Warmth): Response {
  return {
    key: `heat ${lower} ${upper} ${warmer.tmin_c} ${warmer.tmax_c}`,
    of: (tmin, tmax) => sineDegreeDays(tmin + warmer.tmin_c, tmax + warmer.tmax_c, lower, upper),
  }
}

/**
 * Night minima swing further from their normal than daily means, above all to the cold side: so many times, over which the
 * coldest night of made years comes to that of real ones. Source: daily minima of seven places in Europe, North America and
 * New Zealand (1.15 to 1.5), and the hardiness zones of eight towns, which are means of the year's lowest minimum (1.3 to 1.5).
 */
const NIGHTS_DEPART = 1.35

/** The night's minimum. */
export const NIGHTS: Response = { key: "nights", of: (tmin) => tmin, departs: NIGHTS_DEPART }

/** Days of vernalization. */
export function coldResponse(cold: ColdLimits, warmer: Warmth): Response {
  return {
    key: `cold ${cold.least} ${cold.from} ${cold.to} ${cold.most} ${warmer.tmin_c} ${warmer.tmax_c}`,
    of: (tmin, tmax) => vernalDay(tmin + warmer.tmin_c, tmax + warmer.tmax_c, cold),
  }
}

/** Daily temperatures without holes, and what was worked out of them before. */
export type Tape = {
  first: number
  tmin_c: Float64Array
  tmax_c: Float64Array
  /** 1 where the day was not measured and is bridged. */
  bridged: Uint8Array
  /** Measured days before each. */
  days: Float64Array
  /** Departure of each measured day from the normals; 0 where it was not measured. */
  departure: { tmin_c: Float64Array; tmax_c: Float64Array }
  /** Place in a leap year of each day. */
  slots: Uint16Array
  responses: Map<string, Float32Array>
}

/** A departure from the normals fades by this factor a day where nothing was measured: a judgement of ours. */
const FADES = 0.85
/** Responses kept for one tape, enough for every species at once; the oldest goes first. Half as many digits do for them. */
const KEPT = 600

const tapes = new WeakMap<DailyWeather, WeakMap<Climate, Tape>>()

/**
 * Daily weather with its gaps bridged: a missing day has the normals and a fading part of the last measured departure from
 * them. Only earlier days are looked at, so that what lies after a day never moves what was bridged before it.
 */
export function tapeOf(series: DailyWeather, climate: Climate): Tape {
  const known = tapes.get(series) ?? new WeakMap<Climate, Tape>()
  tapes.set(series, known)
  const before = known.get(climate)
  if (before) return before
  const made = bridge(series, climate)
  known.set(climate, made)
  return made
}

function bridge(series: DailyWeather, climate: Climate): Tape {
  const length = series.tmin_c.length
  const normal = normalsOf(climate)
  const { slots } = slotsOf(series.first, length)
  const tape: Tape = {
    first: series.first,
    tmin_c: new Float64Array(length),
    tmax_c: new Float64Array(length),
    bridged: new Uint8Array(length),
    days: new Float64Array(length + 1),
    departure: { tmin_c: new Float64Array(length), tmax_c: new Float64Array(length) },
    slots,
    responses: new Map(),
  }
  let low = 0
  let high = 0
  for (let i = 0; i < length; i += 1) {
    const slot = slots[i]!
    const known = !Number.isNaN(series.tmin_c[i]!) && !Number.isNaN(series.tmax_c[i]!)
    low = known ? series.tmin_c[i]! - normal.tmin_c[slot]! : low * FADES
    high = known ? series.tmax_c[i]! - normal.tmax_c[slot]! : high * FADES
    tape.tmin_c[i] = normal.tmin_c[slot]! + low
    tape.tmax_c[i] = normal.tmax_c[slot]! + high
    tape.bridged[i] = known ? 0 : 1
    tape.days[i + 1] = tape.days[i]! + (known ? 1 : 0)
    tape.departure.tmin_c[i] = known ? low : 0
    tape.departure.tmax_c[i] = known ? high : 0
  }
  return tape
}

/** Sums of the measured days' departures by month up to a day number, and how many days those are. */
export function departuresByMonth(tape: Tape, last: number): { low: number[]; high: number[]; days: number[] } {
  const low = new Array<number>(12).fill(0)
  const high = new Array<number>(12).fill(0)
  const days = new Array<number>(12).fill(0)
  for (let i = 0; i <= last - tape.first; i += 1) {
    if (tape.bridged[i] === 1) continue
    const month = MONTH_OF_SLOT[tape.slots[i]!]!
    low[month]! += tape.departure.tmin_c[i]!
    high[month]! += tape.departure.tmax_c[i]!
    days[month]! += 1
  }
  return { low, high, days }
}

/** A response for every day of a tape; worked out once. */
export function responseOf(tape: Tape, response: Response): Float32Array {
  const before = tape.responses.get(response.key)
  if (before) return before
  const { tmin_c, tmax_c } = tape
  const made = new Float32Array(tmin_c.length)
  for (let i = 0; i < made.length; i += 1) made[i] = response.of(tmin_c[i]!, tmax_c[i]!)
  if (tape.responses.size >= KEPT) tape.responses.delete(tape.responses.keys().next().value as string)
  tape.responses.set(response.key, made)
  return made
}

/** Normals by place in a leap year. */
export type NormalYear = { tmin_c: Float64Array; tmax_c: Float64Array }
const normals = new WeakMap<Climate, NormalYear>()

/** Normals of a climate for every day of the year. */
export function normalsOf(climate: Climate): NormalYear {
  const before = normals.get(climate)
  if (before) return before
  const made = { tmin_c: overYear(climate.tmin_c), tmax_c: overYear(climate.tmax_c) }
  normals.set(climate, made)
  return made
}
