import { z } from "zod"
import type { DailyWeather } from "../agronomy/weather-series.ts"

/** One day's weather at the door: `day` counts from 1970-01-01; NaN is a value that is not known. */
export type DayRow = { day: number; tmin_c: number; tmax_c: number; rain_mm: number }

/** A series of days, without holes in its days, from rows in any order; a later row of the same day goes before. null: no rows. */
export function seriesOf(rows: readonly DayRow[]): DailyWeather | null {
  if (rows.length === 0) return null
  const first = rows.reduce((least, row) => Math.min(least, row.day), Number.POSITIVE_INFINITY)
  const last = rows.reduce((most, row) => Math.max(most, row.day), Number.NEGATIVE_INFINITY)
  const empty = () => new Float64Array(last - first + 1).fill(Number.NaN)
  const series: DailyWeather = { first, tmin_c: empty(), tmax_c: empty(), rain_mm: empty() }
  for (const row of rows) {
    series.tmin_c[row.day - first] = row.tmin_c
    series.tmax_c[row.day - first] = row.tmax_c
    series.rain_mm[row.day - first] = row.rain_mm
  }
  return series
}

/** The rows of a series, gaps among them. */
export function rowsOf(series: DailyWeather | null): DayRow[] {
  if (!series) return []
  return Array.from(series.tmin_c, (tmin_c, i) => ({
    day: series.first + i,
    tmin_c,
    tmax_c: series.tmax_c[i] as number,
    rain_mm: series.rain_mm[i] as number,
  }))
}

/** Older rows with newer ones laid over them, value by value: what is not known anew stays as it was. */
export function laidOver(older: readonly DayRow[], newer: readonly DayRow[]): DayRow[] {
  const byDay = new Map(older.map((row) => [row.day, row]))
  for (const row of newer) {
    const before = byDay.get(row.day)
    byDay.set(row.day, {
      day: row.day,
      tmin_c: known(row.tmin_c, before?.tmin_c),
      tmax_c: known(row.tmax_c, before?.tmax_c),
      rain_mm: known(row.rain_mm, before?.rain_mm),
    })
  }
  return [...byDay.values()].sort((a, b) => a.day - b.day)
}

function known(value: number, before: number | undefined): number {
  return Number.isNaN(value) ? (before ?? Number.NaN) : value
}

/** Are two series the same, value by value? */
export function sameSeries(a: DailyWeather | null, b: DailyWeather | null): boolean {
  if (a === null || b === null) return a === b
  const same = (x: Float64Array, y: Float64Array) => x.every((value, i) => Object.is(value, y[i]))
  return (
    a.first === b.first &&
    a.tmin_c.length === b.tmin_c.length &&
    same(a.tmin_c, b.tmin_c) &&
    same(a.tmax_c, b.tmax_c) &&
    same(a.rain_mm, b.rain_mm)
  )
}

const column = z
  .array(z.number().nullable())
  .transform((values) => Float64Array.from(values, (value) => value ?? Number.NaN))

/** A series as it is kept: null for what is not known, since JSON has no NaN. */
export const keptSeries = z
  .object({ first: z.number().int(), tmin_c: column, tmax_c: column, rain_mm: column })
  .refine((series) => series.tmin_c.length === series.tmax_c.length && series.tmin_c.length === series.rain_mm.length)
  .nullable()

export function packSeries(series: DailyWeather | null): unknown {
  if (!series) return null
  // Two decimals are more than any service measures.
  const pack = (values: Float64Array) =>
    Array.from(values, (value) => (Number.isNaN(value) ? null : Math.round(value * 100) / 100))
  return {
    first: series.first,
    tmin_c: pack(series.tmin_c),
    tmax_c: pack(series.tmax_c),
    rain_mm: pack(series.rain_mm),
  }
}
