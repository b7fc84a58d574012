import { describe, expect, test } from "vitest"
import { averageDegreeDays, heldDegreeDays, sineDegreeDays } from "../../src/agronomy/degree-day.ts"
import { convert } from "../../src/values/amount.ts"
import { checkValues } from "./check-values.ts"

const { rows, row, title } = checkValues("degree-days")
const near = (found: number, expected: number, tolerance: number) =>
  expect(Math.abs(found - expected), `${found} against ${expected}`).toBeLessThanOrEqual(tolerance)

/** Lowest, highest and limits of a row, in the unit it has. */
const days = ({ inputs }: (typeof rows)[number]) => {
  const list = (value: number | number[]) => [value].flat()
  const low = list(inputs.tmin_c ?? inputs.tmin_f)
  const high = list(inputs.tmax_c ?? inputs.tmax_f)
  const lower = inputs.lower_c ?? inputs.lower_f ?? inputs.base_c ?? inputs.base_f
  const upper = inputs.upper_c ?? inputs.upper_f ?? Number.POSITIVE_INFINITY
  return { low, high, lower, upper }
}
const summed = (
  one: (typeof rows)[number],
  of: (low: number, high: number, lower: number, upper: number) => number,
) => {
  const { low, high, lower, upper } = days(one)
  return low.reduce((sum, each, i) => sum + of(each, high[i]!, lower, upper), 0)
}

describe("degree-days under a sine, upper limit as a horizontal cut-off", () => {
  const sines = rows.filter(({ id }) => id.startsWith("dd-sine-"))
  test.each(sines.map((one) => [title(one), one] as const))("%s", (_, one) => {
    near(summed(one, sineDegreeDays), one.expected, one.tolerance)
  })
  test.each(
    ["dd-10", "dd-12", "dd-13", "dd-14", "dd-15", "dd-16", "dd-17", "dd-18", "dd-19", "dd-20", "dd-21", "dd-22"].map(
      (id) => [title(row(id)), row(id)] as const,
    ),
  )("%s", (_, one) => near(summed(one, sineDegreeDays), one.expected.dd_c, one.tolerance))
})

describe("degree-days by the plain mean", () => {
  test.each(
    ["dd-average-1", "dd-average-2", "dd-average-3", "dd-average-4"].map((id) => [title(row(id)), row(id)] as const),
  )("%s", (_, one) => near(summed(one, averageDegreeDays), one.expected, one.tolerance))
  test(title(row("dd-01")), () => near(summed(row("dd-01"), averageDegreeDays), 10, 0.001))
  test(title(row("dd-27")), () => {
    const { inputs, expected } = row("dd-27")
    const each = averageDegreeDays(inputs.tmin_c, inputs.tmax_c, inputs.base_c)
    expect(Math.ceil(inputs.target_dd_c / each)).toBe(expected.days_needed)
  })
})

describe("degree-days with both ends held between the limits", () => {
  const held = rows.filter(({ id }) => id.startsWith("dd-modified-") || /^dd-corn-86-50-(\d|sum|max)$/.test(id))
  test.each(held.map((one) => [title(one), one] as const))("%s", (_, one) => {
    near(summed(one, heldDegreeDays), one.expected, one.tolerance)
  })
  test.each(["dd-02", "dd-03", "dd-04", "dd-05", "dd-07"].map((id) => [title(row(id)), row(id)] as const))(
    "%s",
    (_, one) => near(summed(one, heldDegreeDays), one.expected.dd_f, one.tolerance),
  )
  test(title(row("dd-06")), () => {
    const { inputs, expected } = row("dd-06")
    const sum = inputs.days_f.reduce(
      (total: number, [high, low]: [number, number]) =>
        total + heldDegreeDays(low, high, inputs.lower_f, inputs.upper_f),
      0,
    )
    near(sum, expected.total_dd_f, 0.001)
  })
})

describe("the methods differ, so that a sum is only of use with the method it was fitted with", () => {
  test(title(row("dd-clamp-order-matters")), () => {
    const { expected } = row("dd-clamp-order-matters")
    near(summed(row("dd-clamp-order-matters"), heldDegreeDays), expected.modified, 1e-9)
    near(summed(row("dd-clamp-order-matters"), averageDegreeDays), expected.simple, 1e-9)
  })
  test(title(row("dd-08")), () => {
    const { expected } = row("dd-08")
    near(summed(row("dd-08"), averageDegreeDays), expected.method1_dd_c, 0.001)
    near(summed(row("dd-08"), heldDegreeDays), expected.method2_dd_c, 0.001)
  })
  test(title(row("dd-09")), () => {
    const { expected } = row("dd-09")
    near(summed(row("dd-09"), averageDegreeDays), expected.average_dd_c, 0.002)
    near(summed(row("dd-09"), sineDegreeDays), expected.sine_dd_c, 0.002)
  })
  test(title(row("dd-23")), () => {
    const { expected } = row("dd-23")
    near(summed(row("dd-23"), sineDegreeDays), expected.sine_dd_f, 0.02)
    near(summed(row("dd-23"), heldDegreeDays), expected.substitution_dd_f, 0.02)
  })
})

describe("units", () => {
  test(`a degree-day is a difference: ${title(row("dd-unit"))}; ${title(row("dd-24"))}`, () => {
    const inF = (c: number) => convert(c, "c", "f") - convert(0, "c", "f")
    near(inF(row("dd-unit").inputs.celsius_degree_days), row("dd-unit").expected, 1e-6)
    near(inF(row("dd-24").expected.dd_c), row("dd-24").inputs.dd_f, 1e-6)
  })
})

test("every row is checked above", () => {
  const others = /^dd-(sine|average|modified|corn-86-50|clamp-order-matters|unit)/
  const numbered = [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 12, 13, 14, 15, 16, 17, 18, 19, 20, 21, 22, 23, 24, 27]
  const checked = (id: string) => others.test(id) || numbered.some((n) => id === `dd-${String(n).padStart(2, "0")}`)
  expect(rows.map(({ id }) => id).filter((id) => !checked(id))).toEqual([])
})
