/** Monthly normals of one weather station; every array holds January to December. */
export type Climate = {
  id: string
  name: string
  /** Country, or state in the USA. */
  where: string
  lat: number
  lon: number
  elev_m: number
  tmin_c: readonly number[]
  tmax_c: readonly number[]
  /** null: unknown, which is not zero. */
  rain_mm: readonly (number | null)[]
  /** Standard deviation of the daily mean within the month. */
  sdDay_c: readonly number[]
  /** Standard deviation of the month's mean between years. */
  sdYear_c: readonly number[]
  /** Key of `shared/sources.json`. */
  source: string
  /** One sentence on how it was made where it joins several stations. */
  made?: string
}
