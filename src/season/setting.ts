import { frostTable, type UsualFrosts, usualFrosts } from "../agronomy/frost-dates.ts"
import { type NitrogenTable, nitrogenTable } from "../agronomy/nitrogen.ts"
import { type ResidueTable, residueTable, type WaitsTable, waitsTable } from "../agronomy/residue-table.ts"
import { type Ground, groundOf } from "../agronomy/soil-warmth.ts"
import { type WateringTable, wateringTable } from "../agronomy/watering-table.ts"
import { type WeatherCourse, weatherCourse } from "../agronomy/weather-course.ts"
import type { KnownWeather } from "../agronomy/weather-series.ts"
import type { BedKind, Garden } from "../garden/garden.ts"
import type { History } from "../garden/history.ts"
import type { Climate } from "../handbook/climate.ts"
import type { Handbook } from "../handbook/handbook.ts"
import { addDays, type Day } from "../values/day.ts"
import { type CuttingTable, cuttingTable, type RotationTable, rotationTable } from "./cutting-table.ts"

/** Everything that a garden's plan is made of. */
export type Known = { handbook: Handbook; garden: Garden; history: History; weather: KnownWeather }

/** What the beds of one garden share on one day: place, weather and tables. */
export type Setting = {
  on: Day
  handbook: Handbook
  garden: Garden
  history: History
  weather: KnownWeather
  course: WeatherCourse
  frosts: UsualFrosts
  residue: ResidueTable
  waits: WaitsTable
  nitrogen: NitrogenTable
  watering: WateringTable
  cutting: CuttingTable
  rotation: RotationTable
  /** The ground of a kind of bed in which nothing was measured or watered; made at the first question. */
  ground(kind: BedKind): Ground
}

/** Days of weather that a plan looks back and ahead: the same for every bed, so that no bed's figures hang on another's. */
const BACK_DAYS = 760
const AHEAD_DAYS = 640

/** The setting of a garden's beds at the end of a day. */
export function settingOf(known: Known, on: Day): Setting {
  const { handbook, garden, weather } = known
  const course = weatherCourse(weather, on, addDays(on, -BACK_DAYS), addDays(on, AHEAD_DAYS))
  const residue = residueTable(handbook)
  const rain = known.history.rain.filter((one) => one.on <= on)
  const grounds = new Map<BedKind, Ground>()
  return {
    on,
    handbook,
    garden,
    history: known.history,
    weather,
    course,
    frosts: usualFrosts(garden.place.frost, weather.climate, frostTable(handbook)),
    residue,
    waits: waitsTable(handbook),
    nitrogen: nitrogenTable(handbook),
    watering: wateringTable(handbook),
    cutting: cuttingTable(handbook),
    rotation: rotationTable(handbook),
    ground(kind) {
      const before = grounds.get(kind) ?? groundOf(course, kind, { soil: [], watered: [], rain }, residue)
      grounds.set(kind, before)
      return before
    },
  }
}

const usualWeathers = new WeakMap<Climate, KnownWeather>()
const usualSettings = new WeakMap<Setting, Setting>()

/**
 * The same garden on the same day in the usual weather of its place, with nothing measured and nothing forecast: what is
 * asked of it stays the same from day to day.
 */
export function inUsualWeather(setting: Setting): Setting {
  const { weather, on } = setting
  if (!weather.observed && !weather.forecast) return setting
  const before = usualSettings.get(setting)
  if (before) return before
  const kept = usualWeathers.get(weather.climate)
  const isSamePlace = kept?.lat === weather.lat && kept.lon === weather.lon
  const usual = kept && isSamePlace ? kept : { ...weather, observed: null, forecast: null }
  usualWeathers.set(weather.climate, usual)
  const made = settingOf({ ...setting, weather: usual }, on)
  usualSettings.set(setting, made)
  return made
}
