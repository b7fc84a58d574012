import type { Units } from "../garden/garden.ts"
import type { Amount } from "./item.ts"
import { isTagged } from "./says.ts"
import type { Words } from "./vocabulary.ts"
import type { Word } from "./words.ts"

export type AmountFound = { to: number; amount: Amount }

const INCH_CM = 2.54
const POUND_G = 453.59237
const FAHRENHEIT = (f: number): number => ((f - 32) * 5) / 9

/** The longest figure with a unit that starts at word `start`. */
export function amountAt(
  words: readonly Word[],
  start: number,
  vocabulary: Words,
  units: Units,
  openQuote: boolean,
): AmountFound | null {
  const square = squareAt(words, start, vocabulary)
  if (square) return square
  const one = oneAmount(words, start, vocabulary, units, openQuote)
  if (!one) return null
  const area = sides(words, one, vocabulary) ?? squareBehind(words, one)
  if (area) return area
  return together(words, one, vocabulary, openQuote)
}

/** "1 lb 4 oz", "5 ft 6", "1 m 30", "3 foot 2 inches", "an inch and a half" */
function together(words: readonly Word[], one: AmountFound, vocabulary: Words, openQuote: boolean): AmountFound {
  const { amount, to } = one
  if (amount.of === "other" || amount.of === "degrees" || amount.of === "share" || amount.of === "area") return one
  const half = isTagged(words[to], "plain-and") ? fractionAfterAnd(words, to + 1, vocabulary) : null
  if (half) {
    if (amount.of === "length")
      return { to: half.to, amount: { of: "length", cm: amount.cm + half.value * lastFactor(words, to, vocabulary) } }
    return { to: half.to, amount: { of: "weight", g: amount.g + half.value * lastFactor(words, to, vocabulary) } }
  }
  const at = isTagged(words[to], "amount-join") ? to + 1 : to
  const next = oneAmount(words, at, vocabulary, "us", openQuote)
  const first = unitBefore(words, to, vocabulary)
  if (next && first && next.amount.of === amount.of) {
    const second = unitBefore(words, next.to, vocabulary)
    if (second && second.factor < first.factor && !isTagged(words[next.to], "part-of")) {
      if (amount.of === "length" && next.amount.of === "length")
        return { to: next.to, amount: { of: "length", cm: amount.cm + next.amount.cm } }
      if (amount.of === "weight" && next.amount.of === "weight")
        return { to: next.to, amount: { of: "weight", g: amount.g + next.amount.g } }
    }
  }
  const bare = words[to]
  const feet = first?.factor === 30.48 && amount.of === "length"
  const more = bare ? countOf(bare, vocabulary) : null
  const alone = !unitAt(words, to + 1, vocabulary, openQuote) && words[to + 1]?.kind !== "number"
  if (feet && alone && more !== null && more < 12)
    return { to: to + 1, amount: { of: "length", cm: amount.cm + more * INCH_CM } }
  const pounds = first?.factor === POUND_G && amount.of === "weight"
  if (pounds && alone && more !== null && more < 16)
    return { to: to + 1, amount: { of: "weight", g: amount.g + (more * POUND_G) / 16 } }
  const metres = first?.factor === 100 && amount.of === "length"
  if (metres && /^\d\d$/.test(bare?.word ?? "") && !unitAt(words, to + 1, vocabulary, openQuote))
    return { to: to + 1, amount: { of: "length", cm: amount.cm + (bare?.value as number) } }
  return one
}

function countOf(word: Word, vocabulary: Words): number | null {
  if (word.kind === "number") return Number.isInteger(word.value) && !word.ordinal ? (word.value as number) : null
  return word.kind === "word" ? (vocabulary.facts.get(word.word)?.number ?? null) : null
}

function unitBefore(words: readonly Word[], to: number, vocabulary: Words) {
  return vocabulary.units.get(words[to - 1]?.word ?? "")
}

function lastFactor(words: readonly Word[], to: number, vocabulary: Words): number {
  return unitBefore(words, to, vocabulary)?.factor ?? 1
}

/** "a half", "a quarter", "half", "three quarters" */
function fractionAfterAnd(words: readonly Word[], at: number, vocabulary: Words): { to: number; value: number } | null {
  const partOf = (said: string): number => vocabulary.facts.get(said)?.amount ?? 1
  const i = isTagged(words[at], "a-an") ? at + 1 : at
  const word = words[i]?.word ?? ""
  if (isTagged(words[i], "half")) return { to: i + 1, value: partOf(word) }
  const count = vocabulary.facts.get(word)?.number ?? words[i]?.value
  const part = words[i + 1]
  if (count !== undefined && part && isTagged(part, "parts")) return { to: i + 2, value: count * partOf(part.word) }
  return null
}

function oneAmount(
  words: readonly Word[],
  start: number,
  vocabulary: Words,
  units: Units,
  openQuote: boolean,
): AmountFound | null {
  const figure =
    decimalAt(words, start, vocabulary, openQuote) ??
    rangeAt(words, start, vocabulary) ??
    figureAt(words, start, vocabulary)
  if (!figure) return null
  let at = figure.to
  const degrees = degreesAt(words, at, units)
  if (degrees)
    return {
      to: degrees.to,
      amount: { of: "degrees", c: degrees.fahrenheit ? FAHRENHEIT(figure.value) : figure.value },
    }
  if (isTagged(words[at], "part-of") && isTagged(words[at + 1], "a-an")) at += 2
  else if (figure.part && isTagged(words[at], "a-an")) at += 1
  const unit = unitAt(words, at, vocabulary, openQuote)
  if (!unit) return null
  const to = at + 1
  const value = figure.value * unit.factor
  if (unit.of === "length") return { to, amount: { of: "length", cm: value } }
  if (unit.of === "weight") return { to, amount: { of: "weight", g: value } }
  if (unit.of === "share") return { to, amount: { of: "share", percent: value } }
  return { to, amount: { of: "other" } }
}

/** "1,2 m": a comma stands for the point where a unit is right behind. */
function decimalAt(
  words: readonly Word[],
  at: number,
  vocabulary: Words,
  openQuote: boolean,
): { to: number; value: number; part: boolean } | null {
  const [whole, comma, rest] = words.slice(at, at + 3)
  if (!/^\d{1,3}$/.test(whole?.word ?? "") || comma?.word !== "," || !/^\d{1,2}$/.test(rest?.word ?? "")) return null
  if (!comma.glued || !rest?.glued || !unitAt(words, at + 3, vocabulary, openQuote)) return null
  return { to: at + 3, value: Number(`${whole?.word}.${rest.word}`), part: false }
}

/** "3-4", "3 to 4", "8 or 9": the middle of the two. */
function rangeAt(
  words: readonly Word[],
  at: number,
  vocabulary: Words,
): { to: number; value: number; part: boolean } | null {
  const low = figureAt(words, at, vocabulary)
  const joined = low ? words[low.to] : undefined
  if (!low || !joined || !isTagged(joined, "range")) return null
  const high = figureAt(words, low.to + 1, vocabulary)
  if (!high || high.value <= low.value || high.value > 4 * low.value + 4) return null
  return { to: high.to, value: (low.value + high.value) / 2, part: false }
}

/** A figure: 3, 1.5, 3/4, 1 1/2, half a, three quarters, two and a half, a. */
export function figureAt(
  words: readonly Word[],
  at: number,
  vocabulary: Words,
): { to: number; value: number; part: boolean } | null {
  const word = words[at]
  if (!word) return null
  const fraction = slashedFraction(words, at)
  if (fraction) return { ...fraction, part: true }
  if (word.kind === "number") {
    if (word.ordinal || word.dotted) return null
    const more = slashedFraction(words, at + 1)
    if (more && more.value < 1) return { to: more.to, value: (word.value as number) + more.value, part: false }
    const half = isTagged(words[at + 1], "plain-and") ? fractionAfterAnd(words, at + 2, vocabulary) : null
    if (half) return { to: half.to, value: (word.value as number) + half.value, part: false }
    return { to: at + 1, value: word.value as number, part: false }
  }
  if (word.kind !== "word") return null
  const counted = vocabulary.facts.get(word.word)?.number
  const next = words[at + 1]?.word ?? ""
  const partOf = (said: string): number => vocabulary.facts.get(said)?.amount ?? 1
  if ((counted !== undefined || isTagged(word, "a-an")) && isTagged(words[at + 1], "fraction"))
    return { to: at + 2, value: (counted ?? 1) * partOf(next), part: true }
  if (counted !== undefined) {
    const half = isTagged(words[at + 1], "plain-and") ? fractionAfterAnd(words, at + 2, vocabulary) : null
    if (half) return { to: half.to, value: counted + half.value, part: false }
    const tens = counted >= 20 && counted < 100 ? (vocabulary.facts.get(next)?.number ?? 0) : 0
    if (tens > 0 && tens < 10) return { to: at + 2, value: counted + tens, part: false }
    if (isTagged(words[at + 1], "hundred")) return { to: at + 2, value: counted * 100, part: false }
    return { to: at + 1, value: counted, part: false }
  }
  if (isTagged(word, "alone-fraction")) return { to: at + 1, value: partOf(word.word), part: true }
  if (isTagged(word, "a-an")) return { to: at + 1, value: 1, part: false }
  return null
}

function slashedFraction(words: readonly Word[], at: number): { to: number; value: number } | null {
  const [above, mark, below] = words.slice(at, at + 3)
  if (above?.kind !== "number" || mark?.word !== "/" || below?.kind !== "number") return null
  if (!mark.glued || !below.glued || !below.value || (above.value as number) >= 16) return null
  return { to: at + 3, value: (above.value as number) / below.value }
}

function unitAt(words: readonly Word[], at: number, vocabulary: Words, openQuote: boolean) {
  const word = words[at]
  if (!word) return null
  const unit = vocabulary.units.get(word.word)
  if (!unit) return null
  // A closing quotation mark is no inch; a mark counts only right behind its figure.
  if (word.kind === "mark" && word.word !== "%" && (!word.glued || (word.word === '"' && openQuote))) return null
  // "2 in the south bed": in is a unit only where it can be nothing else.
  const next = words[at + 1]
  if (isTagged(word, "inch-in") && !word.glued && (next?.kind === "number" || !endsHere(next))) return null
  return unit
}

function endsHere(next: Word | undefined): boolean {
  if (!next || next.kind !== "word") return true
  return isTagged(next, "unit-end")
}

function degreesAt(words: readonly Word[], at: number, units: Units): { to: number; fahrenheit: boolean } | null {
  let i = at
  const said = isTagged(words[i], "degrees")
  if (said) i += 1
  const letter = words[i]
  if (letter && isTagged(letter, "celsius") && (said || letter.glued || letter.word.length === 1))
    return { to: i + 1, fahrenheit: false }
  if (letter && isTagged(letter, "fahrenheit") && (said || letter.glued || letter.word.length === 1))
    return { to: i + 1, fahrenheit: true }
  return said ? { to: i, fahrenheit: units === "us" } : null
}

/** "2 foot by 2 foot", "2 x 2 ft", "50cm x 50cm", then maybe "square" */
function sides(words: readonly Word[], one: AmountFound, vocabulary: Words): AmountFound | null {
  if (one.amount.of !== "length" || !isBy(words[one.to])) return null
  const other = oneAmount(words, one.to + 1, vocabulary, "us", false)
  if (other?.amount.of !== "length") return null
  const square = isSquare(words[other.to])
  return { to: other.to + (square ? 1 : 0), amount: { of: "area", m2: (one.amount.cm * other.amount.cm) / 1e4 } }
}

function isBy(word: Word | undefined): boolean {
  return isTagged(word, "by-sides")
}

function isSquare(word: Word | undefined): boolean {
  return word?.kind === "word" && isTagged(word, "square")
}

/** "half metre square", "two-foot square": each side is so long. "1 foot quadrat" too. */
function squareBehind(words: readonly Word[], one: AmountFound): AmountFound | null {
  if (one.amount.of !== "length" || !isSquare(words[one.to])) return null
  return { to: one.to + 1, amount: { of: "area", m2: (one.amount.cm / 100) ** 2 } }
}

/** "one square foot", "0.25 m2", "half a square metre", "2 x 2 ft" */
function squareAt(words: readonly Word[], start: number, vocabulary: Words): AmountFound | null {
  const per = isTagged(words[start], "per") || (isTagged(words[start], "slash") && words[start]?.glued === true)
  const figure = per ? { to: start + 1, value: 1, part: false } : figureAt(words, start, vocabulary)
  if (!figure) return null
  let at = figure.to
  if (isBy(words[at])) {
    const other = figureAt(words, at + 1, vocabulary)
    const unit = other ? vocabulary.units.get(words[other.to]?.word ?? "") : undefined
    if (other && unit?.of === "length" && unitAt(words, other.to, vocabulary, false)) {
      const behind = isSquare(words[other.to + 1]) ? 2 : 1
      return {
        to: other.to + behind,
        amount: { of: "area", m2: (figure.value * other.value * unit.factor ** 2) / 1e4 },
      }
    }
  }
  if (isTagged(words[at], "part-of") && isTagged(words[at + 1], "a-an")) at += 2
  else if (figure.part && isTagged(words[at], "a-an")) at += 1
  const word = words[at]
  if (isTagged(word, "square-metre")) return { to: at + 1, amount: { of: "area", m2: figure.value } }
  if (isTagged(word, "square-foot")) return { to: at + 1, amount: { of: "area", m2: figure.value * 0.09290304 } }
  if (!isTagged(word, "square-word")) return null
  const point = words[at + 1]?.word === "." ? 1 : 0
  const unit = vocabulary.units.get(words[at + 1 + point]?.word ?? "")
  if (unit?.of !== "length") return null
  return { to: at + 2 + point, amount: { of: "area", m2: (figure.value * unit.factor ** 2) / 1e4 } }
}
