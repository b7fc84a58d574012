import type { Units } from "../garden/garden.ts"
import type { Handbook } from "../handbook/handbook.ts"
import { type Day, partsOf } from "../values/day.ts"

/** Words for the reasons of a plan: plain letters only, since they go into texts. */

const MONTHS = ["Jan", "Feb", "Mar", "Apr", "May", "June", "July", "Aug", "Sep", "Oct", "Nov", "Dec"]

/** `14 May`. */
export function dayWords(d: Day): string {
  const { month, dayOfMonth } = partsOf(d)
  return `${dayOfMonth} ${MONTHS[month - 1]}`
}

/** `hairy vetch`; `peas` stay as the handbook names them. */
export function speciesWord(handbook: Handbook, id: string): string {
  return handbook.species.get(id)?.names[0] ?? id.replaceAll("-", " ")
}

/** `rye`, `rye and vetch`, `oats, peas and vetch`. */
export function listed(words: readonly string[]): string {
  if (words.length <= 1) return words[0] ?? ""
  return `${words.slice(0, -1).join(", ")} and ${words.at(-1)}`
}

/** `rye and vetch` from ids. */
export function speciesWords(handbook: Handbook, ids: readonly string[]): string {
  return listed(ids.map((id) => speciesWord(handbook, id)))
}

/** Everyday name of a food crop. */
export function cropWord(handbook: Handbook, id: string): string {
  return handbook.crops.get(id)?.names[0] ?? id.replaceAll("-", " ")
}

/** A temperature in the reader's unit: `41 F`, `5 C`. */
export function warmth(celsius: number, units: Units): string {
  const shown = Math.round(units === "us" ? celsius * 1.8 + 32 : celsius)
  return `${shown === 0 ? 0 : shown} ${units === "us" ? "F" : "C"}`
}

/** A chance in words and figures: `about 8 in 10`. */
export function odds(chance: number): string {
  const tenths = Math.round(chance * 10)
  if (tenths >= 10) return "more than 9 in 10"
  if (tenths <= 0) return "less than 1 in 10"
  return `about ${tenths} in 10`
}

/** With a capital first letter. */
export function sentence(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1)
}
