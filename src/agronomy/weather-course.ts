import type { Climate } from "../handbook/climate.ts"
import { type Day, dayNumber, monthLength } from "../values/day.ts"
import { MONTH_OF_SLOT, overYear, slotsOf } from "./calendar-slots.ts"
import type { DailyWeather, KnownWeather } from "./weather-series.ts"

/**
 * The weather of a place day by day as it stands at the end of day `on`: measured, then forecast, then normals. Index 0 is
 * day number `first`. Rain of a day that only normals know is the month's rain spread over its days; NaN where not even
 * they know it.
 */
export type WeatherCourse = {
  first: number
  /** Day number of `on`: later days are forecast or normals. */
  on: number
  lat: number
  tmin_c: Float64Array
  tmax_c: Float64Array
  rain_mm: Float64Array
  /** 2 measured, 1 forecast, 0 normals. */
  known: Uint8Array
  /** Standard deviation between years of a month's mean, where only normals are known; else 0. */
  spread_c: Float64Array
}

/** The course from one day to another, both included. Measured days after `on` are not looked at. */
export function weatherCourse(weather: KnownWeather, on: Day, from: Day, to: Day): WeatherCourse {
  const first = dayNumber(from)
  const length = Math.max(1, dayNumber(to) - first + 1)
  const today = dayNumber(on)
  const course: WeatherCourse = {
    first,
    on: today,
    lat: weather.lat,
    tmin_c: new Float64Array(length),
    tmax_c: new Float64Array(length),
    rain_mm: new Float64Array(length),
    known: new Uint8Array(length),
    spread_c: new Float64Array(length),
  }
  const normals = yearOfNormals(weather.climate)
  const { slots } = slotsOf(first, length)
  for (let i = 0; i < length; i += 1) {
    const number = first + i
    const slot = slots[i]!
    const seen = number <= today ? at(weather.observed, number) : null
    const told = seen ? null : at(weather.forecast, number)
    const taken = seen ?? told
    course.tmin_c[i] = taken ? taken.tmin : normals.tmin_c[slot]!
    course.tmax_c[i] = taken ? taken.tmax : normals.tmax_c[slot]!
    course.spread_c[i] = taken ? 0 : normals.spread_c[slot]!
    course.known[i] = seen ? 2 : told ? 1 : 0
    // Of a day that is not measured yet, today above all, the forecast is the best that is known.
    const fell = number <= today ? rainAt(weather.observed, number) : Number.NaN
    const rain = Number.isNaN(fell) && !seen ? rainAt(weather.forecast, number) : fell
    course.rain_mm[i] = Number.isNaN(rain) ? normals.rain_mm[slot]! : rain
  }
  return course
}

/** Index of a day in a course; outside it the nearest day it holds. */
export function indexIn(course: { first: number; tmin_c: Float64Array }, d: Day): number {
  return Math.min(course.tmin_c.length - 1, Math.max(0, dayNumber(d) - course.first))
}

function at(series: DailyWeather | null, number: number): { tmin: number; tmax: number } | null {
  if (!series) return null
  const i = number - series.first
  if (i < 0 || i >= series.tmin_c.length) return null
  const tmin = series.tmin_c[i]!
  const tmax = series.tmax_c[i]!
  return Number.isNaN(tmin) || Number.isNaN(tmax) ? null : { tmin, tmax }
}

function rainAt(series: DailyWeather | null, number: number): number {
  if (!series) return Number.NaN
  const i = number - series.first
  return i < 0 || i >= series.rain_mm.length ? Number.NaN : series.rain_mm[i]!
}

type NormalYear = { tmin_c: Float64Array; tmax_c: Float64Array; rain_mm: Float64Array; spread_c: Float64Array }

const years = new WeakMap<Climate, NormalYear>()

/** Normals by place in a leap year; a month's rain is spread over its days. */
function yearOfNormals(climate: Climate): NormalYear {
  const before = years.get(climate)
  if (before) return before
  const rainOn = (month: number) => {
    const rain = climate.rain_mm[month]
    return rain === null || rain === undefined ? Number.NaN : rain / monthLength(2024, month + 1)
  }
  const made: NormalYear = {
    tmin_c: overYear(climate.tmin_c),
    tmax_c: overYear(climate.tmax_c),
    rain_mm: Float64Array.from(MONTH_OF_SLOT, rainOn),
    spread_c: overYear(climate.sdYear_c),
  }
  years.set(climate, made)
  return made
}
