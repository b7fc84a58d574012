import type { Act } from "../garden/acts.ts"
import { settleDay } from "./days.ts"
import type { Frame } from "./frames.ts"
import { hasWord, startsWith } from "./says.ts"
import { A_NOTE, NOTHING, type Proposal, type Scene } from "./scene.ts"
import type { Outcome } from "./settle.ts"
import { targetsOf } from "./targets.ts"

type Propose = (frames: readonly Frame[], index: number, scene: Scene) => Proposal | null

/** Does the clause start with a word that takes something back ("no wait", "I mean", "scratch that")? */
export function isLastMended(frame: Frame): boolean {
  return frame.mends
}

/**
 * Puts right what came before: a new number, bed or day takes the place of the old one; the same kind of statement
 * replaces the last one; a word of correction alone takes it back. Null where there is nothing to put right.
 */
export function mendLast(
  frames: readonly Frame[],
  index: number,
  outcomes: Outcome[],
  scene: Scene,
  propose: Propose,
): Proposal | null {
  const frame = frames[index] as Frame
  const at = outcomes.findLastIndex(
    ({ proposal, frame: { command } }) => proposal.acts.length > 0 || proposal.ask !== null || command === "snooze",
  )
  if (at < 0) return mendEarlier(frame, scene)
  const last = outcomes[at] as Outcome
  const adds = frame.items.some((item) => hasWord(item, "also"))
  if (frame.heads.length > 0 && !isOnlyBack(frame)) {
    const it = frame.items.some((item) => startsWith(item, "refers"))
    // "snooze 1. no, skip it"
    if (
      !adds &&
      it &&
      frame.named.length === 0 &&
      (frame.command ?? frame.work) &&
      last.frame.named.length > 0 &&
      !frame.has("not")
    ) {
      takeBack(last, scene)
      const named = { ...frame, named: last.frame.named.map((each) => ({ ...each, at: frame.items.length })) }
      return propose(
        frames.map((each, i) => (i === index ? named : each)),
        index,
        scene,
      )
    }
    if (!adds && sameKind(frame, last.frame)) takeBack(last, scene)
    return null
  }
  if (isOnlyBack(frame) && frame.named.length === 0 && frame.days.length === 0) {
    // "undo, wrong bed" says twice that it was wrong.
    if (last.proposal.acts.some((act) => act.act === "undo")) return NOTHING
    if (!isSure(frame)) return null
    takeBack(last, scene)
    return frame.stray.length > 0 || outcomes.every((each) => each.proposal.acts.length === 0) ? A_NOTE : NOTHING
  }
  const denied = frame.has("not") && frame.left.length === 0
  if (frame.stray.length > 0 || denied || (frame.named.length === 0 && frame.days.length === 0)) {
    if (last.proposal.acts.some((act) => act.act === "undo")) return NOTHING
    if (!frame.firm || frame.stray.length > 2) return null
    // What was meant cannot be told, but what was said is taken back.
    takeBack(last, scene)
    return { acts: [], ask: { which: "what", choices: [] }, note: false }
  }
  const position = frames.indexOf(last.frame)
  if (position < 0) return null
  takeBack(last, scene)
  const patched = patch(last.frame, frame)
  const changed = frames.map((each, i) => (i === position ? patched : each))
  return propose(changed.slice(0, position + 1), position, scene) ?? A_NOTE
}

/** Nothing but words of correction, and what they put in place. */
function isOnlyBack(frame: Frame): boolean {
  return frame.heads.every((head) => head.item.senses.has("ways:mend") || head.item.senses.has("ways:drop"))
}

/** "scratch that", "no I didn't": sure enough to take something back by itself. */
function isSure(frame: Frame): boolean {
  return frame.has("drop") || (frame.has("not") && frame.items.some((item) => hasWord(item, "mend-verb")))
}

function sameKind(frame: Frame, last: Frame): boolean {
  if (frame.command || last.command) return frame.command === last.command
  if (frame.work && last.work) return true
  return frame.stage !== null && last.stage !== null
}

function takeBack(outcome: Outcome, scene: Scene): void {
  for (const act of outcome.proposal.acts)
    if ("n" in act && Array.isArray(act.n)) for (const n of act.n) scene.spoken.delete(n)
  outcome.proposal = NOTHING
  outcome.absorbed = true
  scene.lastWork = null
  scene.lastBeds = null
}

/** The last statement with the names and days of the correction in place of its own. */
function patch(last: Frame, frame: Frame): Frame {
  const named =
    frame.named.length > 0 ? frame.named.map((each) => ({ ...each, at: last.items.length + 1 })) : last.named
  const offset = last.items.length
  return {
    ...last,
    items: [
      ...last.items,
      ...frame.items.filter((item) => !item.senses.has("ways:mend") && !item.senses.has("ways:not")),
    ],
    named: named.map((each) => ({ ...each, at: each.at })),
    left: [],
    days:
      frame.days.length > 0
        ? frame.days.map((each) => ({ ...each, at: offset + each.at }))
        : last.days.filter(({ at }) => at < offset),
    mends: false,
  }
}

/** A correction in a text of its own: takes back the sender's last change and puts it right. */
function mendEarlier(frame: Frame, scene: Scene): Proposal | null {
  const last = scene.context.last?.acts ?? []
  if (last.length === 0 || frame.stray.length > 0) return null
  if (frame.heads.length > 0 && !isOnlyBack(frame)) return null
  if (frame.named.length === 0 && frame.days.length === 0) return null
  const targets = targetsOf(frame, scene, "state")
  if (targets.unknownBed || targets.unclear)
    return {
      acts: [{ act: "undo" }],
      ask: { which: "bed", choices: [...(targets.unclear ?? scene.context.beds.map((bed) => bed.id))] },
      note: false,
    }
  const acts: Act[] = [{ act: "undo" }]
  for (const act of last) {
    const mended = mendAct(act, frame, targets, scene)
    if (mended === null) return { acts: [{ act: "undo" }], ask: { which: "day", choices: [] }, note: false }
    acts.push(mended)
  }
  return { acts, ask: null, note: false }
}

function mendAct(act: Act, frame: Frame, targets: ReturnType<typeof targetsOf>, scene: Scene): Act | null {
  let mended: Act = act
  const said = frame.days.at(-1)
  if (said && "on" in mended) {
    const on = settleDay(said.day, scene.context.now.day, mended.act === "want" ? "future" : "past")
    if (!on) return null
    mended = { ...mended, on }
  }
  if (said && mended.act === "snooze") {
    const until = settleDay(said.day, scene.context.now.day, "future")
    if (!until) return null
    mended = { ...mended, until }
  }
  const bed = targets.beds[0]
  if (bed !== undefined && "bed" in mended) mended = { ...mended, bed } as Act
  if (mended.act === "done" || mended.act === "snooze" || mended.act === "skip") {
    const numbers =
      targets.numbers.length > 0
        ? targets.numbers
        : bed === undefined
          ? []
          : scene.context.open.filter((each) => each.bed === bed).map((each) => each.n)
    if (numbers.length > 0) mended = { ...mended, n: numbers }
  }
  return mended
}
