/** US customary or metric: how amounts are shown and read. What is kept is always in the units named in the keys. */
export type Units = "us" | "metric"

type Kind = "length" | "area" | "mass" | "volume" | "temperature" | "areal mass"
type Unit = { kind: Kind; factor: number; offset?: number; words: readonly string[] }

const INCH_M = 0.0254
const FOOT_M = 12 * INCH_M
const POUND_G = 453.59237
const US_GALLON_L = 231 * (INCH_M * 10) ** 3

/**
 * Units by their short name: value in the kind's base unit (m, m2, g, l, C, g/m2) = factor * value + offset.
 * The factors are definitions: inch 25.4 mm, pound 453.59237 g, US gallon 231 cubic inches, acre 43,560 square feet,
 * degree F (t - 32) / 1.8. Source: NIST Special Publication 811 (2008), appendix B, from memory. The foot is the
 * international foot, the gallon the US liquid gallon, the ounce the avoirdupois ounce.
 */
const UNITS = {
  mm: { kind: "length", factor: 0.001, words: ["mm", "millimetre", "millimeter"] },
  cm: { kind: "length", factor: 0.01, words: ["cm", "centimetre", "centimeter"] },
  m: { kind: "length", factor: 1, words: ["m", "metre", "meter"] },
  in: { kind: "length", factor: INCH_M, words: ["in", "inch", "inche", '"', "''", "″", "”"] },
  ft: { kind: "length", factor: FOOT_M, words: ["ft", "foot", "feet", "'", "′", "’"] },
  yd: { kind: "length", factor: 3 * FOOT_M, words: ["yd", "yard"] },
  m2: { kind: "area", factor: 1, words: ["qm"] },
  cm2: { kind: "area", factor: 0.0001, words: [] },
  "sq ft": { kind: "area", factor: FOOT_M ** 2, words: ["sf"] },
  "sq in": { kind: "area", factor: INCH_M ** 2, words: [] },
  "sq yd": { kind: "area", factor: (3 * FOOT_M) ** 2, words: [] },
  acre: { kind: "area", factor: 43_560 * FOOT_M ** 2, words: ["acre", "ac"] },
  ha: { kind: "area", factor: 10_000, words: ["ha", "hectare"] },
  g: { kind: "mass", factor: 1, words: ["g", "gm", "gr", "gram", "gramme"] },
  kg: { kind: "mass", factor: 1000, words: ["kg", "kilo", "kilogram", "kilogramme"] },
  oz: { kind: "mass", factor: POUND_G / 16, words: ["oz", "ounce"] },
  lb: { kind: "mass", factor: POUND_G, words: ["lb", "pound"] },
  l: { kind: "volume", factor: 1, words: ["l", "litre", "liter"] },
  ml: { kind: "volume", factor: 0.001, words: ["ml", "millilitre", "milliliter"] },
  gal: { kind: "volume", factor: US_GALLON_L, words: ["gal", "gallon"] },
  qt: { kind: "volume", factor: US_GALLON_L / 4, words: ["qt", "quart"] },
  c: { kind: "temperature", factor: 1, words: ["c", "°c", "degc", "deg c", "degrees c", "celsius"] },
  f: {
    kind: "temperature",
    factor: 1 / 1.8,
    offset: -32 / 1.8,
    words: ["f", "°f", "degf", "deg f", "degrees f", "fahrenheit"],
  },
  "g/m2": { kind: "areal mass", factor: 1, words: ["g/m2", "g/m²"] },
  "lb/1000 sq ft": { kind: "areal mass", factor: POUND_G / (1000 * FOOT_M ** 2), words: ["lb/1000 sq ft"] },
  "lb/acre": { kind: "areal mass", factor: POUND_G / (43_560 * FOOT_M ** 2), words: ["lb/acre", "lb/ac"] },
} as const satisfies Record<string, Unit>

export type UnitName = keyof typeof UNITS

/** A number with its unit, as a person wrote it. */
export type Amount = { value: number; unit: UnitName }

/** A value in another unit of the same kind; throws a RangeError where the kinds differ (grams into litres). */
export function convert(value: number, from: UnitName, to: UnitName): number {
  const [source, target]: [Unit, Unit] = [UNITS[from], UNITS[to]]
  if (source.kind !== target.kind) throw new RangeError(`${from} is a ${source.kind}, ${to} a ${target.kind}`)
  if (from === to) return value
  return (value * source.factor + (source.offset ?? 0) - (target.offset ?? 0)) / target.factor
}

/** What a unit measures. */
export function kindOf(unit: UnitName): Kind {
  return UNITS[unit].kind
}

const LENGTHS: readonly UnitName[] = ["m", "cm", "in", "ft", "yd"]

/**
 * The unit that a word names: short or long, singular or plural, any casing, with or without a full stop; squares as
 * `sq ft`, `square feet`, `ft2`, `ft²`, `ft^2`. Undefined where it names none.
 */
export function unitOf(word: string): UnitName | undefined {
  const plain = word.toLowerCase().replaceAll(".", "").replaceAll(/\s+/g, " ").trim()
  const square = /^(?:square|sq) ?(.+)$/.exec(plain)?.[1] ?? /^(.+?) ?(?:\^?2|²)$/.exec(plain)?.[1]
  if (square !== undefined && !plain.includes("/")) {
    const side = simpleUnit(square)
    if (!side || !LENGTHS.includes(side)) return undefined
    return side === "m" || side === "cm" ? `${side}2` : (`sq ${side}` as UnitName)
  }
  return simpleUnit(plain)
}

function simpleUnit(word: string): UnitName | undefined {
  const names = Object.keys(UNITS) as UnitName[]
  const means = (name: UnitName, text: string) => (UNITS[name].words as readonly string[]).includes(text)
  return (
    names.find((name) => means(name, word)) ??
    (word.endsWith("s") ? names.find((name) => means(name, word.slice(0, -1))) : undefined)
  )
}

const FRACTIONS: Record<string, number> = { "½": 1 / 2, "¼": 1 / 4, "¾": 3 / 4, "⅓": 1 / 3, "⅔": 2 / 3 }

/** A number as people write one, for use inside a longer pattern; `readNumber` reads what it finds. */
export const NUMBER_PATTERN = String.raw`(?:\d\/\d|\d+(?:[.,]\d+)?(?:\s*[½¼¾⅓⅔]|\s+\d\/\d)?|\.\d+|[½¼¾⅓⅔])`

const THOUSANDS = /^\d{1,3}(?:,\d{3})+(?:\.\d+)?$/
const PARTS = /^(?:(\d+(?:[.,]\d+)?|\.\d+)(?=$|\s|[½¼¾⅓⅔]))?\s*(?:(\d)\/(\d)|([½¼¾⅓⅔]))?$/

/**
 * Reads a number as people write one: `4`, `4.5`, `4,5`, `4 1/2`, `4½`, `1/2`. Null for anything else, and for a comma
 * before exactly three digits (`1,200`), which is a thousand to some and one and a fifth to others.
 */
export function readNumber(text: string): number | null {
  const trimmed = text.trim()
  if (trimmed === "" || THOUSANDS.test(trimmed)) return null
  const parts = PARTS.exec(trimmed)
  if (!parts || parts[3] === "0") return null
  const whole = parts[1] === undefined ? 0 : Number(parts[1].replace(",", "."))
  const written = parts[2] === undefined ? 0 : Number(parts[2]) / Number(parts[3])
  return whole + written + (parts[4] === undefined ? 0 : FRACTIONS[parts[4]]!)
}

const AMOUNT = new RegExp(String.raw`^([-−+]?)\s*(${NUMBER_PATTERN})\s*(\D.*)?$`, "u")

/** Reads one amount such as `14 in`, `0.8 oz` or `-9 C`; `assumed` is the unit where none is written. Null for anything else. */
export function readAmount(text: string, assumed?: UnitName): Amount | null {
  const parts = AMOUNT.exec(text.trim())
  const value = parts ? readNumber(parts[2]!) : null
  const unit = parts?.[3] === undefined ? assumed : unitOf(parts[3])
  if (!parts || value === null || unit === undefined) return null
  return { value: parts[1] === "-" || parts[1] === "−" ? -value : value, unit }
}

/** Units that amounts are kept in, as the keys of stored values name them. */
export type KeptUnit = "cm" | "mm" | "m2" | "g" | "l" | "c" | "g/m2"

/**
 * An amount for a person to act on, rounded to what hand and eye can follow: `5 gal`, `14 g`, `0.5 oz`, `32 sq ft`,
 * `-9 C`. `cm` is a height or depth, `mm` is rain. All characters are of the SMS alphabet (no degree sign).
 */
export function showAmount(value: number, kept: KeptUnit, units: Units): string {
  return (units === "us" ? SHOW_US : SHOW_METRIC)[kept](value)
}

/** The same with the word `about` before it: for amounts that are estimates. */
export function showAbout(value: number, kept: KeptUnit, units: Units): string {
  return `about ${showAmount(value, kept, units)}`
}

type Show = Record<KeptUnit, (value: number) => string>

const SHOW_METRIC: Show = {
  cm: (cm) => (Math.abs(cm) < 200 ? `${handful(cm)} cm` : `${tenths(cm / 100)} m`),
  mm: (mm) => `${Math.abs(mm) < 10 ? tenths(mm) : whole(mm)} mm`,
  m2: (m2) => `${Math.abs(m2) < 10 ? tenths(m2) : whole(m2)} m2`,
  g: (g) => (Math.abs(g) < 1000 ? `${handful(g)} g` : `${handful(g / 1000)} kg`),
  l: (l) => (pourable(l) === "1" ? "1 litre" : `${pourable(l)} litres`),
  c: (c) => `${whole(c)} C`,
  "g/m2": (rate) => `${twoFigures(rate)} g per m2`,
}

const SHOW_US: Show = {
  cm: (cm) => {
    const inches = convert(cm, "cm", "in")
    return Math.abs(inches) < 72 ? `${handful(inches)} in` : `${tenths(inches / 12)} ft`
  },
  mm: (mm) => `${twoFigures(convert(mm, "mm", "in"))} in`,
  m2: (m2) => `${handful(convert(m2, "m2", "sq ft"))} sq ft`,
  g: (g) => {
    const ounces = convert(g, "g", "oz")
    return Math.abs(ounces) < 16 ? `${handful(ounces)} oz` : `${handful(ounces / 16)} lb`
  },
  l: (l) => `${pourable(convert(l, "l", "gal"))} gal`,
  c: (c) => `${whole(convert(c, "c", "f"))} F`,
  "g/m2": (rate) => `${twoFigures(convert(rate, "g/m2", "lb/1000 sq ft"))} lb per 1,000 sq ft`,
}

/** What a hand can measure: whole from 10 on, tenths below, and one figure where tenths would show nothing. */
function handful(value: number): string {
  const size = Math.abs(value)
  if (size >= 10) return whole(value)
  return size >= 0.1 ? tenths(value) : plain(Number(value.toPrecision(1)))
}

/** Two significant figures, whole from 10 on, at most one digit after the point from 1 on. */
function twoFigures(value: number): string {
  const size = Math.abs(value)
  if (size >= 10) return whole(value)
  if (size >= 1) return tenths(value)
  return plain(Number(value.toPrecision(size < 0.1 ? 1 : 2)))
}

/** Volumes are poured from cans: halves below 3, then whole, fives from 50 and tens from 200. */
function pourable(value: number): string {
  const step = value < 3 ? 0.5 : value < 50 ? 1 : value < 200 ? 5 : 10
  return value < step ? plain(Number(value.toPrecision(1))) : plain(Math.round(value / step) * step)
}

function tenths(value: number): string {
  return plain(Math.round(value * 10) / 10)
}

function whole(value: number): string {
  return plain(Math.round(value))
}

/** Never `-0`, never an exponent for the sizes of a garden. */
function plain(value: number): string {
  return String(value === 0 ? 0 : value)
}
