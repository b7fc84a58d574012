import type { DailyWeather, KnownWeather } from "../agronomy/weather-series.ts"
import type { Units } from "../garden/garden.ts"
import { showWeekday } from "../reminders/dates.ts"
import { showAmount } from "../values/amount.ts"
import { addDays, type Day, dayNumber, partsOf } from "../values/day.ts"
import { oneLine } from "./html.ts"

/** Days that are looked back on and ahead to. */
const WEEK = 7
/** A mean that is off the normal by less says nothing, in degrees C. */
const WORTH_TELLING_C = 1

type Weathered = { day: Day; tmin_c: number; tmax_c: number; rain_mm: number }

/**
 * The weather that mattered: last week against normal, frosts, rain, and the week ahead. What is missing is said to be
 * missing, never taken for zero.
 */
export function weatherLines(weather: KnownWeather | null, on: Day, units: Units): string[] {
  if (!weather) return ["No weather is known for this place; dates rest on normals."]
  const past = daysOf(weather.observed, addDays(on, 1 - WEEK), on)
  const next = daysOf(weather.forecast, addDays(on, 1), addDays(on, WEEK))
  const lines: string[] = []
  const known = past.filter(hasTemperature)
  if (known.length > 0) lines.push(...lookBack(weather, known, past, on, units))
  else lines.push(`Nothing was measured last week; dates rest on normals for ${oneLine(weather.climate.name)}.`)
  const ahead = next.filter(hasTemperature)
  if (ahead.length > 0) lines.push(...lookAhead(ahead, next, on, units))
  return lines
}

/**
 * How much warmer than the normals the days from `from` to `to` were on average, in degrees C; null where fewer than
 * three of them are known.
 */
export function warmerThanNormal(weather: KnownWeather | null, from: Day, to: Day): number | null {
  if (!weather) return null
  const known = daysOf(weather.observed, from, to).filter(hasTemperature)
  if (known.length < 3) return null
  const off = known.map((each) => (each.tmin_c + each.tmax_c) / 2 - normalMean(weather, each.day))
  return mean(off)
}

function lookBack(weather: KnownWeather, known: Weathered[], all: Weathered[], on: Day, units: Units): string[] {
  const low = Math.min(...known.map((each) => each.tmin_c))
  const high = Math.max(...known.map((each) => each.tmax_c))
  const off = warmerThanNormal(weather, addDays(on, 1 - WEEK), on)
  const lines = [
    `Last week: lows down to ${showAmount(low, "c", units)}, highs up to ${showAmount(high, "c", units)}${againstNormal(off, units)}. ${rainOf(
      all,
      units,
    )}.`,
  ]
  const frosts = known.filter((each) => each.tmin_c < 0)
  if (frosts.length > 0)
    lines.push(
      `Frost on ${frosts.map((each) => `${showWeekday(each.day, on)} (${showAmount(each.tmin_c, "c", units)})`).join(", ")}.`,
    )
  const missing = WEEK - known.length
  if (missing > 0)
    lines.push(`${missing === 1 ? "One day" : `${missing} days`} of last week are missing and taken from normals.`)
  return lines
}

function lookAhead(known: Weathered[], all: Weathered[], on: Day, units: Units): string[] {
  const coldest = known.reduce((a, b) => (b.tmin_c < a.tmin_c ? b : a))
  const warmest = known.reduce((a, b) => (b.tmax_c > a.tmax_c ? b : a))
  const cold = `${showAmount(coldest.tmin_c, "c", units)} on ${showWeekday(coldest.day, on)}`
  const frost = coldest.tmin_c < 0 ? `frost, ${cold}` : `coldest ${cold}`
  return [
    `Outlook for ${known.length} days: ${frost}; warmest ${showAmount(warmest.tmax_c, "c", units)} on ${showWeekday(
      warmest.day,
      on,
    )}. ${rainOf(all, units)}.`,
  ]
}

function againstNormal(off: number | null, units: Units): string {
  if (off === null) return ""
  if (Math.abs(off) < WORTH_TELLING_C) return ", near normal"
  const degrees = units === "us" ? Math.abs(off) * 1.8 : Math.abs(off)
  return `, ${Math.round(degrees)} ${units === "us" ? "F" : "C"} ${off > 0 ? "warmer" : "cooler"} than normal`
}

function rainOf(days: readonly Weathered[], units: Units): string {
  const known = days.filter((each) => !Number.isNaN(each.rain_mm))
  if (known.length === 0) return "Rain is not known"
  const sum = known.reduce((total, each) => total + each.rain_mm, 0)
  return sum < 1 ? "No rain worth naming" : `Rain ${showAmount(sum, "mm", units)}`
}

function daysOf(series: DailyWeather | null, from: Day, to: Day): Weathered[] {
  if (!series) return []
  const days: Weathered[] = []
  for (let n = dayNumber(from); n <= dayNumber(to); n += 1) {
    const i = n - series.first
    if (i < 0 || i >= series.tmin_c.length) continue
    days.push({
      day: addDays(from, n - dayNumber(from)),
      tmin_c: series.tmin_c[i] as number,
      tmax_c: series.tmax_c[i] as number,
      rain_mm: series.rain_mm[i] as number,
    })
  }
  return days
}

function hasTemperature(each: Weathered): boolean {
  return !Number.isNaN(each.tmin_c) && !Number.isNaN(each.tmax_c)
}

/** Normal daily mean of a day: monthly normals stand for the middle of their month, straight lines between them. */
function normalMean(weather: KnownWeather, d: Day): number {
  const { month, dayOfMonth } = partsOf(d)
  const place = month - 1 + (dayOfMonth - 15) / 30
  const before = Math.floor(place)
  const share = place - before
  const of = (index: number) => {
    const m = ((index % 12) + 12) % 12
    return ((weather.climate.tmin_c[m] as number) + (weather.climate.tmax_c[m] as number)) / 2
  }
  return of(before) * (1 - share) + of(before + 1) * share
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, each) => sum + each, 0) / values.length
}
