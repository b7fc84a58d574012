import { convert, kindOf, NUMBER_PATTERN, readAmount, readNumber, type UnitName, unitOf } from "../values/amount.ts"

/** The smallest and largest bed that is believed, in m2: a pot of 25 cm, and a hectare. Common practice, no source. */
export const SMALLEST_M2 = 0.05
export const LARGEST_M2 = 10_000

/** What is expected of a size, in words. */
export const SIZE_EXPECTED = "a size with its unit, such as 4 x 8 ft, 1.2 x 2.4 m, 32 sq ft or 3 m2"

export type SizeRead =
  | { m2: number }
  | { wrong: "not-a-size" | "size-without-unit" | "size-implausible"; expected: string }

const SIGN = String.raw`(?:x|×|\*|by)`
const UNIT = String.raw`(?:[a-z]+\.?|''|['"′″’”])`
const SIDE = String.raw`(${NUMBER_PATTERN})\s*(${UNIT})?(?:\s*(${NUMBER_PATTERN})\s*(${UNIT}))?`
const RECTANGLE = new RegExp(String.raw`^${SIDE}\s*?${SIGN}\s*${SIDE}$`, "iu")

/**
 * Reads the size of a bed as people write it and gives m2: two sides (`4 x 8 ft`, `4' x 8'`, `4 ft 6 in by 8 ft`,
 * `120 x 240 cm`; a unit that stands only once holds for both sides) or an area (`32 sq ft`, `3 m²`). A number without a
 * unit, a comma before three digits and a size that no bed has are wrong.
 */
export function readSize(text: string): SizeRead {
  const tidy = text.trim().toLowerCase()
  const m2 = RECTANGLE.test(tidy) ? rectangle(tidy) : area(tidy)
  if (typeof m2 === "string") return { wrong: m2, expected: SIZE_EXPECTED }
  if (m2 >= SMALLEST_M2 && m2 <= LARGEST_M2) return { m2 }
  const bounds = `${SMALLEST_M2} m2 to ${LARGEST_M2} m2 (half a square foot to 2.5 acres)`
  return { wrong: "size-implausible", expected: `a bed of ${bounds}` }
}

type Wrong = "not-a-size" | "size-without-unit"

function rectangle(text: string): number | Wrong {
  const parts = RECTANGLE.exec(text)!
  const shared = parts[2] ?? parts[6]
  if (shared === undefined) return "size-without-unit"
  const sides = [
    side(parts[1]!, parts[2] ?? shared, parts[3], parts[4]),
    side(parts[5]!, parts[6] ?? shared, parts[7], parts[8]),
  ]
  const [a, b] = sides
  return a === null || b === null || a === undefined || b === undefined ? "not-a-size" : a * b
}

/** Metres of one side: a number in one unit and, for feet and inches, a second in a smaller one. */
function side(number: string, unit: string, more: string | undefined, moreUnit: string | undefined): number | null {
  const first = metres(number, unit)
  if (more === undefined || moreUnit === undefined) return first
  const second = metres(more, moreUnit)
  return first === null || second === null ? null : first + second
}

function metres(number: string, word: string): number | null {
  const value = readNumber(number)
  const unit: UnitName | undefined = unitOf(word)
  return value === null || !unit || kindOf(unit) !== "length" ? null : convert(value, unit, "m")
}

function area(text: string): number | Wrong {
  const amount = readAmount(text)
  if (amount && kindOf(amount.unit) === "area") return convert(amount.value, amount.unit, "m2")
  return readNumber(text) === null ? "not-a-size" : "size-without-unit"
}
