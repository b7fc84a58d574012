import type { GardenPlace } from "../garden/garden.ts"
import { readBed, readSowing, type SaidBed, type SaidSowing } from "../garden/join-answers.ts"
import type { Handbook } from "../handbook/handbook.ts"
import { showWeekday } from "../reminders/dates.ts"
import type { Day } from "../values/day.ts"
import { askAgainText, askBedAgain, askSizeText, askSowingText, type Naming } from "../wording/join.ts"
import type { House } from "./house.ts"

/** Why the log sets aside what is said in the middle of the talk: the bed comes whole at its end. */
export const PART_OF_TALK = "part of telling of a bed"

/** What is still to be said of a bed: its name, its size, what is sown there. */
export type BedStep = "bed" | "size" | "sowing"

/** What bed and sowing are read against. */
export type BedPlace = { place: Pick<GardenPlace, "units" | "dates">; handbook: Handbook; today: Day }

/** What an answer came to: something more to ask, all that is to be known, or words that cannot be read. */
export type BedAnswer =
  | { is: "next"; step: BedStep; bed: SaidBed; ask: string }
  | { is: "whole"; bed: SaidBed & { size: string }; sowing: SaidSowing | null }
  | { is: "unread"; expected: string; ask: string }

/** Takes an answer in the talk about a bed, whether somebody joins or adds one. All of it may be told at once. */
export function answerAboutBed(step: BedStep, before: SaidBed | null, text: string, about: BedPlace): BedAnswer {
  const { units } = about.place
  const name = before?.name ?? "Bed 1"
  if (step === "sowing") {
    const sowing = sowingIn(text, about)
    if (!("value" in sowing)) return { is: "unread", expected: sowing.expected, ask: askSowingText(name) }
    return { is: "whole", bed: sized(before, name), sowing: sowing.value }
  }
  const said = readBed(text, units, (words) => "value" in sowingIn(words, about))
  if (step === "bed")
    return "value" in said
      ? afterBed(said.value, about)
      : { is: "unread", expected: said.expected, ask: askBedAgain(units) }
  if (!("value" in said) || said.value.size === null)
    return { is: "unread", expected: "a size with its unit", ask: askSizeText(name, units) }
  return afterBed({ name, size: said.value.size, rest: said.value.rest ?? before?.rest ?? null }, about)
}

/** What is asked once a bed has a name: its size, then what is sown there. */
function afterBed(bed: SaidBed, about: BedPlace): BedAnswer {
  if (bed.size === null) return { is: "next", step: "size", bed, ask: askSizeText(bed.name, about.place.units) }
  const ask = askSowingText(bed.name)
  if (bed.rest === null) return { is: "next", step: "sowing", bed, ask }
  const sowing = sowingIn(bed.rest, about)
  return "value" in sowing
    ? { is: "whole", bed: sized(bed, bed.name), sowing: sowing.value }
    : { is: "next", step: "sowing", bed, ask: askAgainText(sowing.expected, ask) }
}

function sowingIn(text: string, { handbook, today, place }: BedPlace) {
  return readSowing(text, handbook, today, place.dates)
}

function sized(bed: SaidBed | null, name: string): SaidBed & { size: string } {
  return { name, size: bed?.size ?? "1 m2", rest: null }
}

/** How plants and days are named in what is said of a bed. */
export function namingOf({ handbook }: Pick<House, "handbook">, today: Day): Naming {
  return {
    species: (id) => handbook.species.get(id)?.names[0] ?? id,
    day: (day) => showWeekday(day, today),
  }
}
