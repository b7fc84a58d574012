import { showDay } from "../reminders/dates.ts"
import { around } from "../reminders/rest-over.ts"
import { type Piece, room } from "./answer-fit.ts"
import { type AnswerInput, currentSowing, todayOf } from "./answer-view.ts"

/** A wish for a day of planting: whether it fits, and if not the first way out. */
export function wantPieces(input: AnswerInput): Piece[] {
  const want = input.understood.acts.find((act) => act.act === "want")
  const next = want ? currentSowing(input.after, want.bed)?.next : null
  if (!next) return []
  const today = todayOf(input)
  const ready = `ready around ${around(next.ready, today)}`
  if (next.fits) return [room(`That fits: ${ready}.`)]
  const way = next.ways[0]
  const out = way
    ? [room(`A way out: ${way.way.replace(/\.$/, "")}, then about ${showDay(way.ready.likely, today)}.`)]
    : []
  return [room(`That is early: ${ready}.`), ...out]
}
