import type { Units } from "../garden/garden.ts"

/** Litres in a US gallon and centimetres in an inch: definitions. */
const LITRES_PER_GALLON = 3.785411784

/** Water for a bed in the reader's unit, rounded as a can is filled: `about 5 gal`, `about 20 l`. */
export function showWater(litres: number, units: Units): string {
  const amount = units === "us" ? litres / LITRES_PER_GALLON : litres
  const unit = units === "us" ? "gal" : "l"
  return `about ${kindly(amount)} ${unit}`
}

/** A temperature in the reader's unit, without the degree sign, which no short text can carry: `15 F`, `-9 C`. */
export function showTemperature(celsius: number, units: Units): string {
  const degrees = Math.round(units === "us" ? (celsius * 9) / 5 + 32 : celsius)
  return `${degrees === 0 ? 0 : degrees} ${units === "us" ? "F" : "C"}`
}

/** The top of the soil that seed lies in, in the reader's unit. */
export function topSoil(units: Units): string {
  return units === "us" ? "the top inch" : "the top 2-3 cm"
}

/** Rounded to what people measure: halves below 3, whole numbers below 20, fives above. */
function kindly(amount: number): number {
  if (amount < 3) return Math.max(0.5, Math.round(amount * 2) / 2)
  return amount < 20 ? Math.round(amount) : Math.round(amount / 5) * 5
}
