import { describe, expect, test } from "vitest"
import { asWater, referenceEvaporation, skyRadiation, sunAngles } from "../../src/agronomy/evaporation.ts"
import { wateringTable } from "../../src/agronomy/watering-table.ts"
import { checkValues } from "./check-values.ts"
import { handbook } from "./shared.ts"

const { row, title } = checkValues("evaporation")
const table = wateringTable(handbook).hargreaves

/** Daylight hours of FAO-56, equation 34, from the sunset angle. */
const daylight = (latitude: number, dayOfYear: number) => (24 / Math.PI) * sunAngles(latitude, dayOfYear).sunset

describe("radiation at the top of the air", () => {
  test.each([
    ["et-ex8", 32.2],
    ["et-ra-lyon", 40.5546],
    ["et-ra-bangkok", 38.06],
  ])("%s", (id, printed) => {
    const { inputs, expected, tolerance } = row(id)
    expect(expected).toBe(printed)
    expect(Math.abs(skyRadiation(inputs.latitude_deg, inputs.day_of_year, table) - expected)).toBeLessThan(tolerance)
  })

  test(title(row("et-ex8-precise")), () => {
    const { inputs, expected } = row("et-ex8-precise")
    const mj = skyRadiation(inputs.latitude_deg, inputs.day_of_year, table)
    expect(mj).toBeCloseTo(expected.mj, 2)
    expect(asWater(mj, table)).toBeCloseTo(expected.mm, 2)
  })

  test(title(row("et-03")), () => {
    const { inputs, expected, tolerance } = row("et-03")
    const found = skyRadiation(inputs.lat_deg, inputs.day_of_year, table)
    expect(Math.abs(found - expected.Ra_MJ_m2_d)).toBeLessThan(tolerance)
  })

  test(title(row("et-04")), () => {
    const { inputs, expected } = row("et-04")
    const found = sunAngles(inputs.lat_deg, inputs.day_of_year)
    expect(Math.abs(found.distance - expected.dr)).toBeLessThan(0.001)
    expect(Math.abs(found.declination - expected.declination_rad)).toBeLessThan(0.001)
    expect(Math.abs(found.sunset - expected.sunset_angle_rad)).toBeLessThan(0.001)
  })

  test(title(row("et-05")), () => {
    const { inputs, expected } = row("et-05")
    expect(Math.abs(asWater(inputs.Ra_MJ_m2_d, table) - expected.mm_d)).toBeLessThan(0.05)
  })

  test.each(["et-06", "et-12", "et-14"])("%s: radiation and daylight together", (id) => {
    const { inputs, expected, tolerance } = row(id)
    const found = skyRadiation(inputs.lat_deg, inputs.day_of_year, table)
    expect(Math.abs(found - (expected.Ra ?? expected.Ra_MJ_m2_d))).toBeLessThan(tolerance)
    expect(Math.abs(daylight(inputs.lat_deg, inputs.day_of_year) - expected.N_h)).toBeLessThan(tolerance)
  })

  test(`${title(row("et-11"))}: its radiation at the top of the air; the rest needs a coefficient we do not use`, () => {
    const { inputs, expected } = row("et-11")
    expect(Math.abs(skyRadiation(inputs.lat_deg, inputs.day_of_year, table) - expected.Ra)).toBeLessThan(0.06)
  })
})

describe("reference evapotranspiration after Hargreaves", () => {
  test.each(["et-ex20-hargreaves", "et-hargreaves-bangkok"])("%s", (id) => {
    const { inputs, expected, tolerance } = row(id)
    const { tmin_c, tmax_c, latitude_deg, day_of_year } = inputs
    const found = referenceEvaporation(tmin_c, tmax_c, latitude_deg, day_of_year, table)
    expect(Math.abs(found - expected)).toBeLessThan(tolerance)
  })

  test.each(["et-19", "et-20", "et-21", "et-22", "et-23"])("%s", (id) => {
    const { inputs, expected, tolerance } = row(id)
    const found = referenceEvaporation(inputs.tmin_c, inputs.tmax_c, inputs.lat_deg, inputs.day_of_year, table)
    expect(Math.abs(found - expected.ETo_mm_d)).toBeLessThanOrEqual(tolerance)
  })

  test("is never below nothing, at a pole in winter and on a frozen day", () => {
    expect(referenceEvaporation(-20, -10, 80, 355, table)).toBe(0)
    expect(referenceEvaporation(-30, -20, 60, 15, table)).toBe(0)
  })
})
