import { describe, expect, test } from "vitest"
import { CIVIL_TWILIGHT, dayLengthHours, daylightHours, SUNSET } from "../../src/agronomy/daylength.ts"
import { sunAngles } from "../../src/agronomy/evaporation.ts"
import { day, dayOfYear } from "../../src/values/day.ts"
import { checkValues } from "./check-values.ts"

const { rows, row, title } = checkValues("day-length")
const near = (found: number, expected: number, tolerance: number) =>
  expect(Math.abs(found - expected), `${found} against ${expected}`).toBeLessThanOrEqual(tolerance)
const withId = (of: RegExp) => rows.filter(({ id }) => of.test(id)).map((one) => [title(one), one] as const)
const degreesBelow = (inputs: { sun_altitude_deg?: number; sun_below_horizon_deg?: number }) =>
  inputs.sun_below_horizon_deg ?? -(inputs.sun_altitude_deg ?? -SUNSET)

describe("daylight hours of the evapotranspiration handbook (sun's centre, no refraction)", () => {
  test(title(row("day-fao-ex8-terms")), () => {
    const { inputs, expected, tolerance } = row("day-fao-ex8-terms")
    const { distance, declination, sunset } = sunAngles(inputs.latitude_deg, inputs.day_of_year)
    near(distance, expected.dr, tolerance)
    near(declination, expected.declination, tolerance)
    near(sunset, expected.sunset_angle, tolerance)
  })
  test.each(withId(/^day-(fao-ex9|ncar-20s|rio|brussels|bangkok)$/))("%s", (_, { inputs, expected, tolerance }) => {
    near(daylightHours(inputs.latitude_deg, inputs.day_of_year), expected, tolerance)
  })
  test.each(withId(/^day-(polar|equator)$/))("%s", (_, { inputs, expected, tolerance }) => {
    inputs.days_of_year.forEach((each: number, i: number) => {
      near(daylightHours(inputs.latitude_deg, each), expected[i], tolerance)
    })
  })
  test.each(withId(/^dl-(0\d|10|11|35)$/))("%s", (_, { inputs, expected, tolerance }) => {
    near(daylightHours(inputs.lat_deg, inputs.day_of_year), expected.N_h, tolerance)
  })
})

describe("from sunrise to sunset, and with civil twilight", () => {
  test.each(withId(/^day-decorah-/))("%s", (_, { inputs, expected, tolerance }) => {
    const date = dayOfYear(day(`2026-${inputs.month_day}`))
    near(dayLengthHours(inputs.latitude_deg, date, SUNSET), expected.daylight_h, tolerance)
    near(dayLengthHours(inputs.latitude_deg, date, CIVIL_TWILIGHT), expected.civil_h, tolerance)
  })
  test.each(withId(/^day-almanac-/))("%s", (_, { inputs, expected, tolerance }) => {
    near(dayLengthHours(inputs.latitude_deg, dayOfYear(day(inputs.date)), SUNSET), expected, tolerance)
  })
  test.each(withId(/^dl-2\d$/))("%s", (_, { inputs, expected, tolerance }) => {
    const hours = dayLengthHours(inputs.lat_deg, dayOfYear(day(inputs.date)), degreesBelow(inputs))
    near(hours * 60, expected.minutes, tolerance)
  })
  test.each(withId(/^dl-3[0-4]$/))("%s", (_, { inputs, expected, tolerance }) => {
    near(dayLengthHours(inputs.lat_deg, inputs.day_of_year, degreesBelow(inputs)), expected.hours, tolerance)
  })
  test(`${title(row("day-sunrise-jan1"))}: the sun is due south at 12.056 h on that day (equation of time, from memory)`, () => {
    const { inputs, expected, tolerance } = row("day-sunrise-jan1")
    inputs.latitudes_deg.forEach((latitude: number, i: number) => {
      near(12.056 - dayLengthHours(latitude, 1, SUNSET) / 2, expected[i], tolerance)
    })
  })
  test(title(row("day-two-definitions")), () => {
    const { inputs, expected } = row("day-two-definitions")
    const date = dayOfYear(day(inputs.date))
    const longer = dayLengthHours(inputs.latitude_deg, date, SUNSET) - daylightHours(inputs.latitude_deg, date)
    expect(longer).toBeGreaterThanOrEqual(expected.low)
    expect(longer).toBeLessThanOrEqual(expected.high)
  })
})

describe("where the sun does not set or rise (own reasoning)", () => {
  test.each([78, -78, 90, -90])("at latitude %d the longest day has 24 hours and the shortest none", (latitude) => {
    const [longest, shortest] = latitude > 0 ? [172, 355] : [355, 172]
    expect(dayLengthHours(latitude, longest!, SUNSET)).toBe(24)
    expect(dayLengthHours(latitude, shortest!, SUNSET)).toBe(0)
  })
  test("no latitude and no day gives anything but 0 to 24 hours", () => {
    for (let latitude = -90; latitude <= 90; latitude += 5)
      for (let date = 1; date <= 366; date += 1) {
        const hours = dayLengthHours(latitude, date, CIVIL_TWILIGHT)
        expect(hours >= 0 && hours <= 24, `${latitude} ${date} ${hours}`).toBe(true)
      }
  })
})

test("every row is checked above", () => {
  const checked =
    /^(day-(fao-ex8-terms|fao-ex9|ncar-20s|rio|brussels|bangkok|polar|equator|decorah-\d+|almanac-.*|sunrise-jan1|two-definitions)|dl-(0\d|10|11|35|2\d|3[0-4]))$/
  expect(rows.map(({ id }) => id).filter((id) => !checked.test(id))).toEqual([])
})
