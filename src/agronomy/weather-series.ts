import type { Climate } from "../handbook/climate.ts"

/** Daily weather of one place without holes in its days: index 0 is day number `first`; NaN is a value that is not known. */
export type DailyWeather = {
  /** Days since 1970-01-01 of index 0. */
  first: number
  tmin_c: Float64Array
  tmax_c: Float64Array
  rain_mm: Float64Array
}

/** All that is known of a place's weather when standing at the end of a day. */
export type KnownWeather = {
  lat: number
  lon: number
  /** Measured; may hold later days, which nobody may look at. */
  observed: DailyWeather | null
  /** Forecast for the days after. */
  forecast: DailyWeather | null
  /** Normals with their spread, for what neither holds. */
  climate: Climate
}
