import type { Climate } from "../handbook/climate.ts"
import { type Day, dayFromNumber, dayNumber, partsOf } from "../values/day.ts"
import { overYear, SLOTS, slotsOf } from "./calendar-slots.ts"
import { MADE_YEARS, madeYears } from "./made-years.ts"
import type { KnownWeather } from "./weather-series.ts"
import { departuresByMonth, normalsOf, type Response, responseOf, type Tape, tapeOf } from "./weather-tape.ts"

/** One way the weather may go where it is not known: a past year of the place, or a year made of normals. */
export type Course = { weight: number; year: number; kind: "own" | "made" }

/** The weather of a place as it stands at the end of a day, with every way it may go on. */
export type Outlook = {
  lat: number
  on: number
  climate: Climate
  /** Days measured or forecast, both included; null where none are. */
  known: { first: number; last: number; measured: number } | null
  courses: readonly Course[]
  /** Whole years of the place that ended before the day. */
  ownYears: readonly number[]
  /** Mean departure of the measured days from the normals by month, C: normals stand corrected by it. */
  departure: { tmin_c: readonly number[]; tmax_c: readonly number[] }
  /** A response day by day from day number `first` on, as the weather goes on that course. */
  along(course: Course, response: Response, first: number, days: number): Float64Array
  /** A response day by day as the corrected normals have it. */
  normal(response: Response, first: number, days: number): Float64Array
  /** Days between two days, both included, that the measurements left out. */
  bridged(first: number, last: number): number
}

/** A year counts as whole with so many measured days. */
const WHOLE_YEAR_DAYS = 350
/** The latest so many years of a place are enough, and nearest to today's climate. */
const MOST_OWN_YEARS = 20
/** With fewer of its own, years made of normals stand in for the rest. */
const ENOUGH_OWN_YEARS = 8
/** So many measured days weigh as much as the normals in correcting them; in one month, as much as all the other months. */
const NORMALS_WEIGH_DAYS = 60
const MONTH_WEIGHS_DAYS = 30

const prepared = new WeakMap<KnownWeather, Map<Day | "any", Outlook>>()

/** What is known of a place's weather at the end of day `on`, and how it may go on; worked out once for each object and day. */
export function prepareWeather(weather: KnownWeather, on: Day): Outlook {
  const known = prepared.get(weather) ?? new Map<Day | "any", Outlook>()
  prepared.set(weather, known)
  // Where nothing was measured or forecast one day knows as much as another.
  const key = weather.observed || weather.forecast ? on : "any"
  const before = known.get(key)
  if (before) return before
  if (known.size >= 8) known.clear()
  const made = outlookOf(weather, dayNumber(on))
  known.set(key, made)
  return made
}

function outlookOf(weather: KnownWeather, on: number): Outlook {
  const { climate } = weather
  const tape = weather.observed ? tapeOf(weather.observed, climate) : null
  const measuredLast = tape ? Math.min(on, tape.first + tape.tmin_c.length - 1) : 0
  const measured = tape && measuredLast >= tape.first ? { tape, last: measuredLast } : null
  const forecast = weather.forecast ? tapeOf(weather.forecast, climate) : null
  const told = forecastSpan(forecast, measured ? measured.last + 1 : null, on)
  const departure = measured ? departureOf(measured.tape, measured.last) : NO_DEPARTURE
  const ownYears = measured ? wholeYears(measured.tape, on) : []
  const normals = makeNormals(climate, departure)
  const known = measured
    ? { first: measured.tape.first, last: told ? told.last : measured.last, measured: measured.last }
    : told
      ? { first: told.first, last: told.last, measured: told.first - 1 }
      : null

  const fill = (course: Course, response: Response, out: Float64Array, first: number, from: number, to: number) => {
    // Days from..to (both included) that nobody knows, a calendar year at a time.
    if (to < from) return
    if (course.kind === "made") {
      const source = normals.made(response, course.year)
      const { slots } = slotsOf(from, to - from + 1)
      for (let i = 0; i < slots.length; i += 1) out[from - first + i] = source[slots[i]!]!
      return
    }
    const source = responseOf(measured!.tape, response)
    for (let day = from; day <= to; ) {
      const { year } = partsOf(dayFromNumber(day))
      const end = Math.min(to, newYear(year + 1) - 1)
      const past = ownYears[wrap(course.year + year - yearOf(on), ownYears.length)]!
      const shift = newYear(year) - newYear(past) + measured!.tape.first
      const last = source.length - 1
      for (let i = day; i <= end; i += 1) out[i - first] = source[Math.min(last, i - shift)]!
      day = end + 1
    }
  }

  return {
    lat: weather.lat,
    on,
    climate,
    known,
    ownYears,
    departure,
    courses: coursesOf(ownYears.length),
    along(course, response, first, days) {
      const out = new Float64Array(days)
      const end = first + days - 1
      if (!known) {
        fill(course, response, out, first, first, end)
        return out
      }
      fill(course, response, out, first, first, Math.min(end, known.first - 1))
      if (measured)
        copy(measured.tape, response, out, first, Math.max(first, known.first), Math.min(end, measured.last))
      if (told) copy(forecast!, response, out, first, Math.max(first, told.first), Math.min(end, told.last))
      fill(course, response, out, first, Math.max(first, known.last + 1), end)
      return out
    },
    normal(response, first, days) {
      const source = normals.plain(response)
      const { slots } = slotsOf(first, days)
      return Float64Array.from(slots, (slot) => source[slot]!)
    },
    bridged(first, last) {
      if (!measured) return 0
      let count = 0
      for (let day = Math.max(first, measured.tape.first); day <= Math.min(last, measured.last); day += 1)
        count += measured.tape.bridged[day - measured.tape.first]!
      return count
    },
  }
}

function copy(tape: Tape, response: Response, out: Float64Array, first: number, from: number, to: number): void {
  if (to < from) return
  out.set(responseOf(tape, response).subarray(from - tape.first, to - tape.first + 1), from - first)
}

/** The forecast days that follow the measured ones without a gap, or begin no later than tomorrow. */
function forecastSpan(forecast: Tape | null, next: number | null, on: number): { first: number; last: number } | null {
  if (!forecast) return null
  const first = Math.max(forecast.first, next ?? forecast.first)
  const last = forecast.first + forecast.tmin_c.length - 1
  if (first > last || first > (next ?? on + 1)) return null
  let end = first - 1
  while (end < last && forecast.bridged[end + 1 - forecast.first] === 0) end += 1
  return end < first ? null : { first, last: end }
}

const NO_DEPARTURE = { tmin_c: new Array<number>(12).fill(0), tmax_c: new Array<number>(12).fill(0) }

/** Departure of a month: of its own measured days, drawn to that of all measured days, and that to none. */
function departureOf(tape: Tape, last: number): Outlook["departure"] {
  const { low, high, days } = departuresByMonth(tape, last)
  const over = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0)
  const drawn = (sums: readonly number[]) => {
    const all = over(sums) / (over(days) + NORMALS_WEIGH_DAYS)
    return sums.map((sum, month) => (sum + all * MONTH_WEIGHS_DAYS) / (days[month]! + MONTH_WEIGHS_DAYS))
  }
  return { tmin_c: drawn(low), tmax_c: drawn(high) }
}

/** Calendar years that ended before the day and were measured nearly whole, oldest first. */
function wholeYears(tape: Tape, on: number): number[] {
  const last = Math.min(on - 1, tape.first + tape.tmin_c.length - 1)
  const found: number[] = []
  for (let year = yearOf(last); newYear(year) >= tape.first; year -= 1) {
    if (newYear(year + 1) - 1 > last) continue
    const { days } = tape
    if (days[newYear(year + 1) - tape.first]! - days[newYear(year) - tape.first]! >= WHOLE_YEAR_DAYS)
      found.unshift(year)
    if (found.length === MOST_OWN_YEARS) break
  }
  return found
}

function coursesOf(own: number): Course[] {
  const courses: Course[] = Array.from({ length: own }, (_, year) => ({ weight: 1, year, kind: "own" }))
  const lacking = Math.max(0, ENOUGH_OWN_YEARS - own)
  if (lacking === 0) return courses
  for (let year = 0; year < MADE_YEARS; year += 1) courses.push({ weight: lacking / MADE_YEARS, year, kind: "made" })
  return courses
}

/** Responses of the normals and of the years made of them, by place in a leap year, normals standing corrected. */
function makeNormals(climate: Climate, departure: Outlook["departure"]) {
  const normal = normalsOf(climate)
  const low = overYear(departure.tmin_c)
  const high = overYear(departure.tmax_c)
  const ofYear = (response: Response, off: Float64Array | null) => {
    const out = new Float64Array(SLOTS)
    for (let slot = 0; slot < SLOTS; slot += 1) {
      const more = off ? off[slot]! * (response.departs ?? 1) : 0
      const tmin = normal.tmin_c[slot]! + low[slot]! + more
      out[slot] = response.of(tmin, normal.tmax_c[slot]! + high[slot]! + more)
    }
    return out
  }
  const known = new Map<string, (Float64Array | undefined)[]>()
  const plain = new Map<string, Float64Array>()
  return {
    plain(response: Response): Float64Array {
      const made = plain.get(response.key) ?? ofYear(response, null)
      plain.set(response.key, made)
      return made
    },
    /** Of one of the made years; a response is seldom asked of them all. */
    made(response: Response, year: number): Float64Array {
      const years = known.get(response.key) ?? []
      known.set(response.key, years)
      const made = years[year] ?? ofYear(response, madeYears(climate)[year]!)
      years[year] = made
      return made
    },
  }
}

/** A place in a ring of so many. */
function wrap(place: number, length: number): number {
  return ((place % length) + length) % length
}

const newYears = new Map<number, number>()

/** Day number of 1 January. */
function newYear(year: number): number {
  const before = newYears.get(year)
  if (before !== undefined) return before
  const made = dayNumber(`${String(year).padStart(4, "0")}-01-01` as Day)
  newYears.set(year, made)
  return made
}

function yearOf(number: number): number {
  return partsOf(dayFromNumber(number)).year
}
