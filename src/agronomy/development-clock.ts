import type { Development, DevelopmentClock, DevelopmentRate, GrassRate } from "../handbook/development.ts"
import { SLOTS, slotsOf } from "./calendar-slots.ts"
import { CIVIL_TWILIGHT, dayLengthHours } from "./daylength.ts"
import { sineDegreeDays } from "./degree-day.ts"
import type { Course, Outlook } from "./ensemble.ts"
import { coldResponse, heatResponse, type Warmth } from "./weather-tape.ts"

/** One set of numbers of a clock. */
export type ClockNumbers = { rate: DevelopmentRate; grass: GrassRate | null }

/** Every set of numbers of a clock: its members, or the one it has. */
export function membersOf(clock: DevelopmentClock): ClockNumbers[] {
  const before = members.get(clock)
  if (before) return before
  const made = clock.members
    ? clock.members.rows.map((row) => departing(clock, clock.members!.names, row))
    : [{ rate: clock.rate, grass: clock.grass }]
  members.set(clock, made)
  return made
}
const members = new WeakMap<DevelopmentClock, ClockNumbers[]>()

function departing(clock: DevelopmentClock, names: readonly string[], row: readonly number[]): ClockNumbers {
  const rate: Record<string, number> = { ...clock.rate }
  const grass: Record<string, number> | null = clock.grass ? { ...clock.grass } : null
  names.forEach((name, i) => {
    if (name.startsWith("grass.") && grass) grass[name.slice("grass.".length)] = row[i]!
    else rate[name] = row[i]!
  })
  return { rate: rate as DevelopmentRate, grass: grass as GrassRate | null }
}

/**
 * Progress of a plant day by day, as running sums: index i is the sum before day i, counted in days from `first`. Development
 * days, one for each full day at the reference temperature.
 */
export type Progress = {
  /** Degree-days of the seedbed. */
  seedbed: Float64Array
  /** From emergence to the last leaf of a grass, or to first flower. */
  leaves: Float64Array
  /** From the last leaf of a grass on. */
  ear: Float64Array | null
  /** Days of cold. */
  cold: Float64Array | null
  /** Days of ripening seed, whole ones where it is warm. */
  seed: Float64Array
}

/** What a clock needs to know of a place, apart from its weather. */
export type PlaceNumbers = { quickness: number; warmest: { tmin_c: number; tmax_c: number } }

/** How quick the sorts of a place are (0: as elsewhere, 1: quick) and its warmest month, from the corrected normals. */
export function placeNumbers(outlook: Outlook, development: Pick<Development, "sorts">): PlaceNumbers {
  const { climate, departure } = outlook
  const low = climate.tmin_c.map((tmin, month) => tmin + departure.tmin_c[month]!)
  const high = climate.tmax_c.map((tmax, month) => tmax + departure.tmax_c[month]!)
  const means = low.map((tmin, month) => (tmin + high[month]!) / 2)
  const warm = means.indexOf(Math.max(...means))
  const { month, from_c, to_c } = development.sorts
  const mean = month === "warmest" ? means[warm]! : Math.min(...means)
  return {
    quickness: Math.min(1.2, Math.max(0, (mean - from_c) / (to_c - from_c))),
    warmest: { tmin_c: low[warm]!, tmax_c: high[warm]! },
  }
}

/**
 * Progress along one course of the weather. The daily rate is warmth between two limits (single sine, horizontal cut-off) times
 * a ramp over day length with civil twilight times a ramp over the cold received: the multiplicative photothermal model with
 * vernalization. Source of the form: Weir et al. 1984 (J. agric. Sci. 102:371-382), from memory; the numbers come as data.
 */
export function progressOf(
  development: Pick<Development, "emergence" | "cold">,
  clock: DevelopmentClock,
  numbers: ClockNumbers,
  place: PlaceNumbers,
  outlook: Outlook,
  course: Course,
  span: { first: number; days: number },
  warmth: { seedbed: Warmth; air: Warmth },
): Progress {
  const { first, days } = span
  const { rate, grass } = numbers
  const { emergence } = development
  const seedbed = outlook.along(
    course,
    heatResponse(emergence.base_c, emergence.ceiling_c, warmth.seedbed),
    first,
    days,
  )
  const heat = heatResponse(rate.base_c, rate.ceiling_c, warmth.air)
  const reference =
    clock.reference_c === "warmest"
      ? Math.max(0.5, sineDegreeDays(place.warmest.tmin_c, place.warmest.tmax_c, rate.base_c, rate.ceiling_c))
      : Math.min(clock.reference_c, rate.ceiling_c) - rate.base_c
  const leaves = outlook.along(course, heat, first, days)
  const { share, rest } = clock.heat
  const normal = share < 1 && rest === "normals" ? outlook.normal(heat, first, days) : null
  const hours = lightHours(outlook.lat, first, days)
  const ripening = leaves.map((each) => Math.min(1, each / (RIPENS_FULLY_C - rate.base_c)))
  const least = Math.min(1, Math.max(0, rate.least + rate.localLeast * place.quickness))
  const cold = rate.uncooled < 1 ? outlook.along(course, coldResponse(development.cold, warmth.air), first, days) : null
  const ear = grass ? outlook.along(course, heatResponse(grass.base_c, grass.ceiling_c, warmth.air), first, days) : null
  const earReference = grass && typeof clock.reference_c === "number" ? clock.reference_c - grass.base_c : 1
  const span_h = rate.to_h - rate.from_h
  const fitted_h = rate.localLight === 0 ? 0 : rate.localLight * (longestDay(outlook.lat) - LONGEST_OF_REFERENCE)
  let received = 0
  for (let i = 0; i < days; i += 1) {
    const ramp = Math.min(1, Math.max(0, (hours[i]! - fitted_h - rate.from_h) / span_h))
    let speed = leaves[i]! / reference
    if (share < 1) speed = share * speed + (1 - share) * (normal ? normal[i]! / reference : 1)
    speed *= least + (1 - least) * ramp
    if (cold) {
      received += cold[i]!
      speed *= rate.uncooled + (1 - rate.uncooled) * Math.min(1, received / rate.cold_days)
    }
    leaves[i] = speed
    if (ear && grass) ear[i] = (ear[i]! / earReference) * (1 - grass.dayShare + grass.dayShare * ramp)
  }
  return {
    seedbed: runningSum(seedbed),
    leaves: runningSum(leaves),
    ear: ear && runningSum(ear),
    cold: cold && runningSum(cold),
    seed: runningSum(ripening),
  }
}

/** Development days from the start of the clock to the last leaf or first flower, less where local sorts are quick. */
export function daysNeeded(rate: DevelopmentRate, place: PlaceNumbers): number {
  return rate.days * Math.exp(-rate.localDays * place.quickness)
}

/** The moment a running sum reaches a value, in days from its beginning; infinite where it does not within the span. */
export function reaches(sum: Float64Array, value: number): number {
  const last = sum.length - 1
  if (!(value <= sum[last]!)) return Number.POSITIVE_INFINITY
  let low = 0
  let high = last
  while (high - low > 1) {
    const middle = (low + high) >> 1
    if (sum[middle]! >= value) high = middle
    else low = middle
  }
  const step = sum[high]! - sum[low]!
  return step > 0 ? low + Math.max(0, (value - sum[low]!) / step) : low
}

/** A running sum at a moment. */
export function sumAt(sum: Float64Array, moment: number): number {
  if (moment <= 0) return 0
  const last = sum.length - 1
  if (moment >= last) return sum[last]!
  const day = Math.floor(moment)
  return sum[day]! + (sum[day + 1]! - sum[day]!) * (moment - day)
}

function runningSum(daily: Float64Array): Float64Array {
  const sum = new Float64Array(daily.length + 1)
  for (let i = 0; i < daily.length; i += 1) sum[i + 1] = sum[i]! + daily[i]!
  return sum
}

/**
 * Warmth from which seed ripens in the days that are published for it, which are those of late spring and summer; in cooler
 * weather it takes longer in proportion, in warmer weather no less is counted on. Our own judgement: a sum of heat is how
 * seed filling is reckoned in the field, the figure has no source.
 */
const RIPENS_FULLY_C = 15

/** The longest day, twilight included, at which light counts as it is, hours. */
const LONGEST_OF_REFERENCE = 15

function longestDay(lat: number): number {
  return dayLengthHours(lat, lat < 0 ? 355 : 172, CIVIL_TWILIGHT)
}

/** A garden has one latitude and a few dozen sowings: their days are worked out once. */
const MOST_LIGHTS = 200
const lights = new Map<string, Float64Array>()
const lightYears = new Map<number, Float64Array>()

/** Hours of light with civil twilight, day by day. Not to be written to. */
export function lightHours(lat: number, first: number, days: number): Float64Array {
  const key = `${lat} ${first} ${days}`
  const known = lights.get(key)
  if (known) return known
  if (lights.size >= MOST_LIGHTS) lights.clear()
  const year = lightYear(lat)
  const made = Float64Array.from(slotsOf(first, days).slots, (slot) => year[slot]!)
  lights.set(key, made)
  return made
}

function lightYear(lat: number): Float64Array {
  const known = lightYears.get(lat)
  if (known) return known
  if (lightYears.size >= 64) lightYears.clear()
  const made = Float64Array.from({ length: SLOTS }, (_, slot) => dayLengthHours(lat, slot + 1, CIVIL_TWILIGHT))
  lightYears.set(lat, made)
  return made
}
