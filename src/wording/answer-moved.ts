import type { Person } from "../garden/garden.ts"
import { showDay, showDaysOnly, showRange } from "../reminders/dates.ts"
import { emergenceOf } from "../reminders/emergence-range.ts"
import { bedName, speciesNames } from "../reminders/names.ts"
import { nitrogenShare } from "../reminders/nitrogen-share.ts"
import { around } from "../reminders/rest-over.ts"
import type { CutWindow, SowingPlan } from "../season/bed-plan.ts"
import type { Day } from "../values/day.ts"
import type { Range } from "../values/range.ts"
import { nice, type Piece, room } from "./answer-fit.ts"
import { bedsTouched, sawSomething } from "./answer-noted.ts"
import { type AnswerInput, sowingOf, todayOf } from "./answer-view.ts"

/** What a reply moved, bed by bed: the first that moved is told, and what follows for the gardener. */
export function movedPieces(input: AnswerInput): Piece[] {
  const today = todayOf(input)
  const beds = bedsTouched(input)
  const told = beds.map((bed) => movedOn(bed, input, today))
  const moved = told.filter((pieces) => pieces.length > 0)
  if (beds.length === 1) return moved[0] ?? []
  // With several beds only the cuts are told, each with its bed.
  return beds.flatMap((bed) => cutOf(bed, input, today))
}

function movedOn(bed: string, input: AnswerInput, today: Day): Piece[] {
  for (const after of input.after.plan.beds.find((each) => each.bed === bed)?.sowings ?? []) {
    const pieces = sowingMoved(sowingOf(input.before, after.sowing), after, input, today)
    if (pieces.length > 0) return pieces
  }
  return []
}

function sowingMoved(before: SowingPlan | null, after: SowingPlan, input: AnswerInput, today: Day): Piece[] {
  if (after.sown !== null && after.sown !== before?.sown) return justSown(after, input, today)
  if (after.wasCut && after.wasCut.on !== before?.wasCut?.on) return justCut(after, input.person, today)
  if (after.endedOn !== null && before?.endedOn === null) {
    const share = after.next ? nitrogenShare(after, after.next.crop, input.handbook) : null
    return share ? [room(share)] : []
  }
  const gaps = poorStand(after, input, today)
  if (gaps) return [room(gaps)]
  if (before?.cut && !after.cut) return after.noCut ? [room("No cut is needed there now.")] : []
  if (after.cut) return cutMoved(before?.cut ?? null, after.cut, sawSomething(input), input.person, today)
  return readyMoved(before, after, today)
}

/** After a poor stand was reported: how long there is to sow again. */
function poorStand(after: SowingPlan, input: AnswerInput, today: Day): string | null {
  const poor = input.understood.acts.find(
    (act) => act.act === "observe" && act.bed === after.bed && (act.what === "patchy" || act.what === "not-up"),
  )
  if (!poor || after.resowBy === null || after.resowBy <= today) return null
  return `There is time to sow again till about ${showDay(after.resowBy, today)}.`
}

function cutMoved(before: CutWindow | null, after: CutWindow, seen: boolean, person: Person, today: Day): Piece[] {
  const now = bestOf(after, today)
  if (!before || before.ordinal !== after.ordinal) {
    const which = after.ordinal > 1 ? "A second cut looks best" : "The best cut looks like"
    return [room(`${which} ${now}.`), opening(after, person, today)]
  }
  if (before.best === after.best && before.by === after.by) return seen ? [nice(`The best cut stays ${now}.`)] : []
  const was = showDaysOnly(before.best, before.by, after.by, today)
  return [room(`That moves the best cut to ${now} (it was ${was}).`), opening(after, person, today)]
}

function opening(cut: CutWindow, person: Person, today: Day): Piece {
  return nice(cut.from > today ? `${iWill(person)} when it opens.` : "It can be cut now.")
}

/** How this person hears of it. */
function iWill({ by }: Person): string {
  return by === "mail" ? "I'll write" : "I'll text"
}

function justSown(after: SowingPlan, input: AnswerInput, today: Day): Piece[] {
  const green = emergenceOf(after)
  const pieces: Piece[] = green ? [room(`Look for green ${showRange(green.early, green.late, today)}.`)] : []
  const stay = after.species
    .map((each) => each.id)
    .filter((id) => input.handbook.species.get(id)?.cut.killedFrom === "never")
  if (stay.length > 0)
    pieces.push(
      room(
        `One cut will not kill the ${speciesNames(input.handbook, stay)}: plan to dig it out or cover it with a tarp.`,
      ),
    )
  return pieces
}

function justCut(after: SowingPlan, person: Person, today: Day): Piece[] {
  if (after.cut) return [room(`What is left can be cut ${bestOf(after.cut, today)}.`)]
  const ready = readyOf(after)
  return ready ? [room(`Planting looks good around ${around(ready, today)}.`), nice(`${iWill(person)} then.`)] : []
}

function readyMoved(before: SowingPlan | null, after: SowingPlan, today: Day): Piece[] {
  const [was, is] = [before ? readyOf(before) : null, readyOf(after)]
  if (!is || (was && was.likely === is.likely && was.early === is.early && was.late === is.late)) return []
  const old = was ? `; it was about ${showDay(was.likely, today)}` : ""
  return [room(`Planting now looks good around ${around(is, today)}${old}.`)]
}

function cutOf(bed: string, input: AnswerInput, today: Day): Piece[] {
  for (const after of input.after.plan.beds.find((each) => each.bed === bed)?.sowings ?? []) {
    const before = sowingOf(input.before, after.sowing)?.cut
    if (!before || !after.cut || (before.best === after.cut.best && before.by === after.cut.by)) continue
    return [room(`${bedName(input.after.garden, bed)}: best cut now ${bestOf(after.cut, today)}.`)]
  }
  return []
}

function readyOf(sowing: SowingPlan): Range | null {
  return sowing.next?.ready ?? sowing.rest?.transplants ?? null
}

/** `6-11 May`: the days from the best to the last good one. */
export function bestOf(cut: CutWindow, today: Day): string {
  return cut.best < cut.by ? showRange(cut.best, cut.by, today) : `by about ${showDay(cut.by, today)}`
}
