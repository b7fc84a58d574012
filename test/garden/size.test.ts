import { describe, expect, it } from "vitest"
import { LARGEST_M2, readSize, SMALLEST_M2 } from "../../src/garden/size.ts"

/** 4 x 8 feet by the international foot of 0.3048 m (NIST SP 811, from memory). */
const FOUR_BY_EIGHT = 32 * 0.3048 ** 2

describe("the size of a bed", () => {
  it.each([
    "4 x 8 ft",
    "4x8ft",
    "4X8 FT",
    "4' x 8'",
    "4'x8'",
    "4’ × 8’",
    "4 ft x 8 ft",
    "4ft x 8",
    "4 by 8 feet",
    "4 * 8 ft.",
    "48 x 96 in",
    '48" x 96"',
    "32 sq ft",
    "32 sqft",
    "32 sq. ft.",
    "32 ft2",
    "32 ft²",
    "32 ft^2",
    "32 square feet",
    "32 sf",
    "4 ft x 96 in",
  ])("%j is 32 square feet", (text) => {
    const read = readSize(text)
    expect("m2" in read && read.m2).toBeCloseTo(FOUR_BY_EIGHT, 9)
  })

  it.each<[string, number]>([
    ["1.2 x 2.4 m", 2.88],
    ["1,2 x 2,4 m", 2.88],
    ["120 x 240 cm", 2.88],
    ["120cm x 2.4m", 2.88],
    ["3 m2", 3],
    ["3m²", 3],
    ["3 sq m", 3],
    ["3 qm", 3],
    ["3 square metres", 3],
    ["0.1 ha", 1000],
    ["4 ft 6 in x 8 ft", 36 * 0.3048 ** 2],
    ["4'6\" x 8'", 36 * 0.3048 ** 2],
    ["4 1/2 x 8 ft", 36 * 0.3048 ** 2],
    ["4½ x 8 ft", 36 * 0.3048 ** 2],
    ["6 x 3 yd", 18 * 0.9144 ** 2],
    ["0.1 acre", 4356 * 0.3048 ** 2],
  ])("%j is %d m2", (text, m2) => {
    const read = readSize(text)
    expect("m2" in read && read.m2).toBeCloseTo(m2, 9)
  })

  it.each([
    ["4 x 8", "size-without-unit"],
    ["32", "size-without-unit"],
    ["4 x 8 kg", "not-a-size"],
    ["3 kg", "not-a-size"],
    ["large", "not-a-size"],
    ["four by eight", "not-a-size"],
    ["4 x", "not-a-size"],
    ["4 x 8 x 2 ft", "not-a-size"],
    ["1,200 sq ft", "not-a-size"],
    ["", "not-a-size"],
    ["4 x 8 in", "size-implausible"],
    ["400 x 800 ft", "size-implausible"],
    ["0 m2", "size-implausible"],
    ["-3 m2", "size-implausible"],
  ])("%j is wrong: %s", (text, wrong) => {
    expect(readSize(text)).toMatchObject({ wrong, expected: expect.any(String) })
  })

  it("may be as small as a pot and as large as a field, and no more", () => {
    expect(readSize(`${SMALLEST_M2} m2`)).toEqual({ m2: SMALLEST_M2 })
    expect(readSize(`${LARGEST_M2} m2`)).toEqual({ m2: LARGEST_M2 })
    expect(readSize(`${LARGEST_M2 + 1} m2`)).toMatchObject({ wrong: "size-implausible" })
  })
})
