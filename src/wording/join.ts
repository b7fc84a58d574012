import type { Garden, Units } from "../garden/garden.ts"
import type { SaidSowing } from "../garden/join-answers.ts"
import { capital, listOf } from "../reminders/names.ts"
import { plainLetters } from "./plain-letters.ts"
import { measure } from "./segments.ts"

/** What somebody who joins by text or mail is asked and told. Each is one text of two segments at most. */

/** The first mail to an address that sent an invite word. Nobody has proved yet that it was its owner: it says so, and how to end it. */
export const inviteMailText = (host: Pick<Garden, "name">): string =>
  `Ryebell for ${host.name}: garden bed reminders, about 2 mails a week in season. Your address asked for them. Reply JOIN to this mail to start, STOP to end. If it was not you, do nothing: nothing more comes.`

/** A mail came in the middle of a talk, and nothing shows that it is from whom it says. */
export const proveText = (host: Pick<Garden, "name">): string =>
  `To join ${host.name}, please use the reply button of my last mail to you. A new mail proves nothing. Reply STOP to it to end.`

export const confirmText = "Reply JOIN to start, STOP to end."

export const ASK_NAME = "What is your first name?"

export const askNameText = (host: Pick<Garden, "name">): string => `Welcome to ${host.name}. ${ASK_NAME}`

export const askBedText = (name: string, units: Units): string => `Thanks, ${name}. ${askBedAgain(units)}`

export const askBedAgain = (units: Units): string =>
  `What do you call your first bed, and how big is it? Such as: South bed, ${sizeOf(units)}`

export const askSizeText = (bed: string, units: Units): string => `How big is ${bed}? Such as: ${sizeOf(units)}`

export const askSowingText = (bed: string): string =>
  `Which cover is sown in ${bed}, and when? Such as: rye 60, hairy vetch 40, on 20 Sep. Reply NONE if nothing is sown yet.`

/** The answer could not be read: what would be right, and the question once more. */
export const askAgainText = (expected: string, question: string): string =>
  `I did not get that: I need ${expected}. ${question}`

/** How plants and days are named in a text. */
export type Naming = { species: (id: string) => string; day: (day: SaidSowing["on"]) => string }

/** More covers than this are counted: a text is short. */
const NAMED_COVERS = 3

/** A bed and what is sown in it, in few words. */
export function bedWords(bed: string, sowing: SaidSowing | null, naming: Naming): string {
  if (!sowing) return `${bed}, nothing sown yet; tell me when you sow`
  const names = sowing.species.slice(0, NAMED_COVERS).map(({ id }) => naming.species(id))
  const more = sowing.species.length - names.length
  const covers = listOf([...names, ...(more > 0 ? [`${more} more`] : [])], "and")
  return `${bed}. ${capital(covers)} ${sowing.isSown ? "sown on" : "planned for"} ${naming.day(sowing.on)}`
}

/** All is known: what was understood, and what comes. */
export function joinedText(
  name: string,
  bed: string,
  sowing: SaidSowing | null,
  naming: Naming,
  by: "text" | "mail",
): string {
  const saying = (words: string) =>
    `You are in, ${name}: ${bedWords(bed, sowing, naming)}. About 2 ${by}s a week in season. Reply ${words}HELP for what I know, STOP to end.`
  const whole = saying("ADD BED for another bed, NEXT for what is coming, ")
  return measure(plainLetters(whole)).segments <= 2 ? whole : saying("")
}

/** Somebody of the household came in. */
export const memberText = (name: string, garden: string): string =>
  `You are in, ${name}: reminders for ${garden}, about 2 texts a week in season. Reply NEXT for what is coming, HELP for what I know, STOP to end. Msg and data rates may apply.`

/** To somebody who asks for a code for the rest of their household. */
export const inviteCodeText = (code: string): string =>
  `To share this garden, have them text LINK ${code} to the number of its reminders within 2 days.`

export const inFileText = (garden: string): string =>
  `${garden} is kept in a file: whoever keeps that file adds people and addresses there.`

export const mailCodeText = (email: string): string =>
  `A mail with a code went to ${email}. Text me LINK and that code.`

/** What was to be linked is no address. */
export const notMailText = (email: string): string => `${email} is not a mail address.`

export const noMailText = "No mail goes out from here, so there is nothing to link."

export const mailLinkedText = (email: string): string =>
  `Linked: the weekly mail goes to ${email}. Nudges still come as texts.`

export const phoneLinkedText = (name: string, garden: string): string =>
  `Linked, ${name}: nudges for ${garden} come to this phone, about 2 a week in season. Reply HELP for what I know, STOP to end. Msg and data rates may apply.`

export const codeUnknownText = "That code is not right, or it has run out. Ask for a new one."

export const codeMail = (code: string, garden: string): { subject: string; text: string } => ({
  subject: `Your code is ${code}`,
  text: `Somebody with a phone wants the weekly mail of ${garden} at this address. If that is you, text LINK ${code} to the number that your reminders come from, within 2 days. If not, there is nothing to do: nothing more comes.`,
})

export const phoneCodeText = (code: string): string =>
  `To have nudges as texts, text LINK ${code} from your phone to the number of this garden's reminders. The code is good for 2 days.`

function sizeOf(units: Units): string {
  return units === "us" ? "4 x 8 ft" : "1.2 x 2.4 m"
}
