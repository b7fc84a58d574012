import { plainLetters } from "./plain-letters.ts"
import { measure } from "./segments.ts"

/**
 * A sentence of an answer: `must` stays whatever it costs, `room` may take a second segment, `nice` is said only where
 * the first segment holds it.
 */
export type Piece = { text: string; keep: "must" | "room" | "nice" }

export const must = (text: string): Piece => ({ text, keep: "must" })
export const room = (text: string): Piece => ({ text, keep: "room" })
export const nice = (text: string): Piece => ({ text, keep: "nice" })

/** The sentences as one text of one segment where that can be, of two at most; the last to go in are the first to go out. */
export function inTwoSegments(pieces: readonly Piece[]): string {
  const plain = pieces
    .map((piece) => ({ ...piece, text: plainLetters(piece.text).trim() }))
    .filter(({ text }) => text !== "")
  let kept = plain
  while (measure(joined(kept)).segments > 1) {
    const last = kept.findLastIndex((piece) => piece.keep === "nice")
    if (last < 0) break
    kept = kept.toSpliced(last, 1)
  }
  while (measure(joined(kept)).segments > 2) {
    const last = kept.findLastIndex((piece) => piece.keep === "room")
    if (last < 0) return clip(joined(kept))
    kept = kept.toSpliced(last, 1)
  }
  return joined(kept)
}

/** What cannot be dropped is cut at a word. */
function clip(text: string): string {
  const words = text.split(" ")
  while (words.length > 1 && measure(`${words.join(" ")}...`).segments > 2) words.pop()
  const short = `${words.join(" ").replace(/[.,;:]$/, "")}...`
  if (measure(short).segments <= 2) return short
  let letters = [...short]
  while (measure(letters.join("")).segments > 2) letters = letters.slice(0, -1)
  return letters.join("")
}

function joined(pieces: readonly Piece[]): string {
  return pieces.map((piece) => piece.text).join(" ")
}
