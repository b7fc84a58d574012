import type { Act } from "../garden/acts.ts"
import type { Garden, Person } from "../garden/garden.ts"
import { showWeekday } from "../reminders/dates.ts"
import { listOf } from "../reminders/names.ts"
import { must, nice, type Piece, room } from "./answer-fit.ts"
import { type AnswerInput, bedsToTeach, todayOf } from "./answer-view.ts"

/** The words that invite somebody to join; the carrier wants the name, the number of texts and the ways out in it. */
export function inviteText(garden: Pick<Garden, "name">): string {
  return `Ryebell for ${garden.name}: garden bed reminders, about 2 texts a week in season. Reply JOIN to start, HELP for help, STOP to end. Msg and data rates may apply.`
}

/** Answers a stranger: what they said is kept, and nothing is acted on. The subject is for a mail. */
export function strangerMessage(channel: "text" | "mail"): { subject: string; text: string } {
  const from = channel === "text" ? "number" : "address"
  return {
    subject: "Ryebell does not know this address",
    text: `This is Ryebell, reminders for garden beds. I do not know this ${from}, so nothing was changed. The garden's owner can add you.`,
  }
}

/** To somebody in whose name a mail came that nothing proves to be theirs. */
export const PROOF_MAIL = {
  subject: "Was that you?",
  text: "A mail came in your name that answers none of mine, so I kept its words and changed nothing. If it was you, please say it again as a reply to this mail. If not, there is nothing to do.",
}

/** Answers somebody who says that this is not their number: the last text there. */
export const WRONG_NUMBER_TEXT = "Sorry to have bothered you. No more texts from Ryebell will come to this number."

/** Asks once, after a year without a word, whether a number is still the same person's. */
export function stillYouText(person: Pick<Person, "name">, garden: Pick<Garden, "name">): string {
  return `Ryebell for ${garden.name}: is this still ${person.name}'s phone? It has been a year. Reply JOIN to go on; without a word from you I fall silent.`
}

/** Asks which of several gardens somebody means. */
export function whichGardenText(names: readonly string[]): string {
  return names.length <= 3
    ? `Which garden is that for: ${listOf(names, "or")}?`
    : "Which garden is that for? Its name will do."
}

/** Asks which bed a photo without words shows. */
export function whichPhotoText(beds: readonly string[]): string {
  return beds.length <= 3
    ? `Photo kept. Which bed does it show: ${listOf(beds, "or")}?`
    : "Photo kept. Which bed does it show? Its name will do."
}

/** Confirms a stop, once, and names what goes on. */
export function stopText(person: Person, channel: "text" | "mail"): string {
  if (channel === "mail") {
    const texts = person.phone && person.by !== "mail" ? " Texts still come; a stop by text ends those." : ""
    return `Done: no more mails to this address.${texts} Write START any day to have me back.`
  }
  const mail = mailOf(person)
  const goesOn = mail ? ` Your ${mail} still comes; stop it with the link at its foot.` : ""
  return `Done: no more texts to this phone.${goesOn} Text START any day to have me back.`
}

/** What acts about the service itself are answered: stop, start, help, join, pause, resume. */
export function servicePieces(input: AnswerInput): Piece[] {
  return input.understood.acts.flatMap((act) => pieceOf(act, input))
}

/** Does the reply end something, so that nothing else is to be said? */
export function stopAnswer(input: AnswerInput): string | null {
  if (!input.understood.acts.some((act) => act.act === "stop")) return null
  const before = input.before.history.channels.get(input.person.id)
  const after = input.after.history.channels.get(input.person.id)
  const mail = after?.mail === "stopped" && before?.mail !== "stopped" && after.text === before?.text
  return stopText(input.person, mail ? "mail" : "text")
}

function pieceOf(act: Act, input: AnswerInput): Piece[] {
  const { person, after } = input
  switch (act.act) {
    case "start":
      return [must("Good to have you back: texts come again."), nice("Reply NEXT for what is coming.")]
    case "help": {
      const [one, other] = bedsToTeach(input)
      return [
        must(`Ryebell, reminders for the beds of ${after.garden.name}.`),
        room(`Write as you speak: done 1, snooze 2 to sat, bloom on ${one}, why ${other}.`),
        must("Reply NEXT for what is coming, or STOP to end."),
      ]
    }
    case "join":
      return [
        must(`You are in, ${person.name}: reminders for ${after.garden.name}, about 2 texts a week in season.`),
        room("Reply HELP for what I know, STOP to end."),
      ]
    case "pause": {
      const until = act.until ? `till ${showWeekday(act.until, todayOf(input))}` : "till you say so"
      const mail = mailOf(person)
      return [
        must(`All right, no nudges ${until}.`),
        ...(mail ? [nice(`Your ${mail} still comes.`)] : []),
        must("Reply RESUME to have them back."),
      ]
    }
    case "resume":
      return [must("Good, nudges are on again."), nice("Reply NEXT for what is coming.")]
    default:
      return []
  }
}

/** `Sunday mail`; null for a person who gets none. */
function mailOf(person: Person): string | null {
  if (!person.email || !person.digest) return null
  return `${person.digest.day.charAt(0).toUpperCase()}${person.digest.day.slice(1)} mail`
}
