import { existsSync, readFileSync } from "node:fs"
import { describe, expect, test } from "vitest"
import { frostTable, usualFrosts } from "../../src/agronomy/frost-dates.ts"
import { climateOf } from "../../src/garden/place-climate.ts"
import { addDays, type Day, day, dayOfYear, daysBetween } from "../../src/values/day.ts"
import { aGarden } from "../given.ts"
import { checkValues } from "./check-values.ts"
import { handbook } from "./shared.ts"

const { row, title } = checkValues("frost-days")

describe("days of the year", () => {
  test(title(row("fr-05")), () => {
    const { inputs, expected } = row("fr-05")
    inputs.years.forEach((year: number, i: number) => {
      const found = addDays(day(`${year}-01-01`), inputs.day_of_year - 1)
      expect(found).toBe(expected.date[i])
      expect(dayOfYear(found)).toBe(inputs.day_of_year)
    })
  })
  test(title(row("fr-07")), () => {
    const { inputs, expected } = row("fr-07")
    expect(daysBetween(day(inputs.last), day(inputs.first))).toBe(expected.days_between)
  })
})

/** Records of frost days that lie beside a checkout of the makers; a plain clone has none and skips these. */
const reference = new URL("../../../shared/reference/", import.meta.url)

const present = existsSync(reference)
/** Read also where the tests are skipped, since they are listed all the same. */
const read = (name: string): unknown =>
  present ? JSON.parse(readFileSync(new URL(name, reference), "utf8")) : { checks: [] }

describe.runIf(present)(
  "usual frosts from twelve normals against a record of years (skipped where the reference folder is not beside the checkout)",
  () => {
    const { checks } = read("handbook.json") as {
      checks: { id: string; inputs: { file: string }; expected: Record<string, number> }[]
    }
    const places = read("observed/places/places.json") as {
      place: string
      lat: number
      lon: number
      normals: { tmin_c: number; tmax_c: number; rain_mm: number }[]
    }[]
    // The middle of ten to thirty years is itself not known better than by a week.
    test.each(["frost-rothamsted", "frost-klein-altendorf"])("%s: the middle year within ten days", (id) => {
      const check = checks.find((one) => one.id === id)!
      const place = places.find((one) => check.inputs.file.includes(one.place))!
      const { lat: latitude, lon: longitude } = place
      const monthly = (name: "tmin_c" | "tmax_c" | "rain_mm") => place.normals.map((month) => month[name])
      const normals = { tmin_c: monthly("tmin_c"), tmax_c: monthly("tmax_c"), rain_mm: monthly("rain_mm") }
      const climate = climateOf(aGarden({ place: { latitude, longitude, normals } }).place, handbook)
      const frosts = usualFrosts(null, climate, frostTable(handbook))
      const date = (monthDay: string | null) => dayOfYear(`2023-${monthDay}` as Day)
      expect(Math.abs(date(frosts.last) - check.expected.last_p50!)).toBeLessThanOrEqual(10)
      expect(Math.abs(date(frosts.first) - check.expected.first_p50!)).toBeLessThanOrEqual(10)
    })
  },
)
