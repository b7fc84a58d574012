import type { ActName } from "../garden/acts.ts"
import { undoneSeqs } from "../garden/effective.ts"
import { localDay } from "../values/zone.ts"
import { askPieces } from "./answer-ask.ts"
import { inTwoSegments, must, nice, type Piece, room } from "./answer-fit.ts"
import { movedPieces } from "./answer-moved.ts"
import { notedOf, notedSentence } from "./answer-noted.ts"
import { servicePieces, stopAnswer } from "./answer-service.ts"
import { settledBefore, skipPieces, snoozePieces } from "./answer-settled.ts"
import { tellPieces } from "./answer-tell.ts"
import { type AnswerInput, bedsToTeach, todayOf } from "./answer-view.ts"
import { wantPieces } from "./answer-want.ts"

export type { AnswerInput, AnswerView } from "./answer-view.ts"

/** What changes the log and can be taken back with UNDO; a snooze tells its own way to change it. */
const UNDOABLE: ReadonlySet<ActName> = new Set([
  "done",
  "skip",
  "observe",
  "measure",
  "sowed",
  "cut",
  "watered",
  "planted",
  "want",
])

/** So many notes are answered with a hint before it is left out: after that the person knows. */
const HINTS = 3

/**
 * The answer to a reply, in one text of one segment where that can be and of two at most: what was logged, what moved,
 * answers to questions, one question back. null for courtesy, and for notes once the hint is known. Pure.
 */
export function answerTo(input: AnswerInput): string | null {
  const stopped = stopAnswer(input)
  if (stopped !== null) return inTwoSegments([must(stopped)])
  const pieces = piecesOf(input)
  if (pieces.length > 0) return inTwoSegments(oneReplySentence(pieces))
  if (input.understood.acts.length > 0) return "Noted, thank you."
  return input.understood.note ? hint(input) : null
}

function piecesOf(input: AnswerInput): Piece[] {
  const { understood } = input
  const noted = notedOf(input)
  const fresh = noted.length > 0
  const skipped = skipPieces(input)
  const sentence = notedSentence(noted, todayOf(input))
  const seen = understood.acts.some((act) => act.act === "observe" || act.act === "measure")
  const undoable = understood.acts.some((act) => UNDOABLE.has(act.act)) && (fresh || skipped.length > 0)
  return [
    ...(seen && fresh ? [nice("Thank you.")] : []),
    ...(sentence ? [must(sentence)] : []),
    ...settledBefore(input),
    ...skipped,
    ...undoPieces(input),
    ...movedPieces(input),
    ...wantPieces(input),
    ...snoozePieces(input),
    ...tellPieces(input),
    ...servicePieces(input),
    ...(understood.ask ? askPieces(understood.ask, input) : []),
    ...(understood.ask && understood.note ? [nice("I kept the rest of your note.")] : []),
    ...(undoable && !understood.ask ? [room("Not right? Reply UNDO.")] : []),
  ]
}

function undoPieces(input: AnswerInput): Piece[] {
  if (!input.understood.acts.some((act) => act.act === "undo")) return []
  if (!input.undone) return [must("There is nothing of yours to take back.")]
  return [must(`Taken back: "${quoted(input.undone.text)}".`)]
}

/** The gardener's own words, short enough to be quoted. */
function quoted(text: string): string {
  const line = text.replace(/\s+/g, " ").replaceAll('"', "'").trim()
  return line.length <= 40 ? line : `${line.slice(0, 37).trimEnd()}...`
}

/** Two sentences with reply words confuse: the one that came first stays. */
function oneReplySentence(pieces: readonly Piece[]): Piece[] {
  const teaches = (piece: Piece) => /\b(?:Reply|SNOOZE|SKIP) /.test(piece.text)
  const first = pieces.find((piece) => teaches(piece) && piece.keep !== "nice") ?? pieces.find(teaches)
  return pieces.filter((piece) => !teaches(piece) || piece === first)
}

/** A note is kept without a word; the first few times, once a day, with a hint. */
function hint(input: AnswerInput): string | null {
  const taken = undoneSeqs(input.before.entries)
  const notes = input.before.entries.filter(
    (entry) =>
      entry.kind === "reply" &&
      entry.by === input.person.id &&
      entry.acts.length === 0 &&
      entry.note === true &&
      !entry.ask &&
      !taken.has(entry.seq),
  )
  const today = todayOf(input)
  const hinted = notes.some((entry) => localDay(entry.at, input.person.zone) === today)
  if (notes.length >= HINTS || hinted) return null
  const [one, other] = bedsToTeach(input)
  return `Kept as a note. To log work or what you see, a word and a bed will do. Such as: cut ${one}, or bloom on ${other}. Reply HELP for more.`
}
