import type { Garden, Units } from "../garden/garden.ts"
import type { SaidSowing } from "../garden/join-answers.ts"
import { listOf } from "../reminders/names.ts"
import { bedWords, type Naming } from "./join.ts"

/** What somebody who adds a bed or leaves one out is asked and told. Each is one text of two segments at most. */

export const askNewBedText = (units: Units): string =>
  `What do you call the new bed, and how big is it? Such as: North bed, ${units === "us" ? "4 x 8 ft" : "1.2 x 2.4 m"}`

/** A bed came in: what was understood of it. */
export function bedAddedText(bed: string, size: string, sowing: SaidSowing | null, naming: Naming): string {
  return `Added: ${bedWords(`${bed} (${size})`, sowing, naming)}. Reply UNDO if that is not right, NEXT for what is coming.`
}

export const bedKnownText = (bed: string): string =>
  `There is a bed called ${bed} already. Say ADD BED with another name for the new one.`

export const bedDroppedText = (bed: string): string =>
  `${bed} is left out from now on: nothing more comes about it. What you told of it stays in the log. Not right? Reply UNDO.`

export const lastBedText = (bed: string): string =>
  `${bed} is your only bed, so I keep it. Add another first, or reply STOP to end all reminders.`

export const tooManyBedsText = (most: number): string =>
  `That would be more than ${most} beds. Leave one out first: say DROP BED and its name.`

/** Beds are few enough to name, or their names are asked for. */
export function whichBedText(beds: readonly string[]): string {
  return beds.length <= 3 ? `Which bed is to be left out: ${listOf(beds, "or")}? Say DROP BED and its name.` : ANY_BED
}

const ANY_BED = "Which bed is to be left out? Say DROP BED and its name."

/** A garden that its owner keeps in a file is not changed by texts. */
export const bedsInFileText = (garden: Pick<Garden, "name">): string =>
  `${garden.name} is kept in a file, so I change no beds there. Please ask whoever keeps that file. I kept your words.`
