import type { Act, Ask } from "../garden/acts.ts"
import type { ReminderKind } from "../garden/entry.ts"
import { settleDay } from "./days.ts"
import type { Frame } from "./frames.ts"
import type { Outcome } from "./outcome.ts"
import { hasWord, startsWith } from "./says.ts"
import { A_NOTE, NOTHING, type Proposal, type Scene } from "./scene.ts"
import { type Targets, targetsOf } from "./targets.ts"

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
  if (frame.named.length === 0 && frame.days.length === 0)
    return isSure(frame) ? { acts: [{ act: "undo" }], ask: null, note: false } : null
  const targets = targetsOf(frame, scene, "state")
  if (targets.unknownBed || targets.unclear)
    return undoAnd("bed", targets.unclear ?? scene.context.beds.map((bed) => bed.id))
  const acts: Act[] = [{ act: "undo" }]
  for (const act of last) {
    const mended = mendAct(act, frame, targets, scene)
    if ("which" in mended) return undoAnd(mended.which, mended.choices)
    acts.push(mended)
  }
  return { acts, ask: null, note: false }
}

function undoAnd(which: Ask["which"], choices: readonly (string | number)[]): Proposal {
  return { acts: [{ act: "undo" }], ask: { which, choices: [...choices] }, note: false }
}

/** The act with the day, bed or number of the correction; what must be asked where that cannot be told. */
function mendAct(act: Act, frame: Frame, targets: Targets, scene: Scene): Act | Ask {
  const dated = dateAgain(act, frame, scene)
  if ("which" in dated) return dated
  const [bed] = targets.beds
  if (targets.numbers.length > 0) return renumber(dated, targets.numbers, scene)
  if (bed === undefined) return dated
  if ("bed" in dated) return inBed(dated, bed, scene)
  if (dated.act !== "done" && dated.act !== "snooze" && dated.act !== "skip") return dated
  const kinds = scene.context.open.filter((each) => dated.n.includes(each.n)).map((each) => each.kind)
  const here = scene.context.open.filter((each) => each.bed === bed)
  const alike = kinds.length > 0 ? here.filter((each) => kinds.includes(each.kind)) : here
  if (alike.length === 1) return { ...dated, n: alike.map((each) => each.n) }
  return here.length > 0 ? { which: "reminder", choices: here.map((each) => each.n) } : { which: "what", choices: [] }
}

/** The act in another bed; of a plant that does not grow there, the whole bed. */
function inBed(act: Act, bed: string, scene: Scene): Act {
  const grown = scene.beds.get(bed)?.species ?? []
  const seen = (act.act === "observe" || act.act === "measure") && act.species && !grown.includes(act.species)
  return (seen ? { ...act, bed, species: null } : { ...act, bed }) as Act
}

function dateAgain(act: Act, frame: Frame, scene: Scene): Act | Ask {
  const said = frame.days.at(-1)
  if (!said) return act
  const ahead = act.act === "want" || act.act === "snooze" || act.act === "pause"
  const day = settleDay(said.day, scene.context.now.day, ahead ? "future" : "past")
  if (!day) return { which: "day", choices: [] }
  if ("on" in act) return { ...act, on: day }
  return act.act === "snooze" || act.act === "pause" ? { ...act, until: day } : act
}

const WORK_OF: Partial<Record<ReminderKind, Act["act"]>> = {
  cut: "cut",
  "water-in": "watered",
  sow: "sowed",
  plant: "planted",
}

/** "no, 4": another reminder's number; of an act that has a bed, that reminder's bed or its work. */
function renumber(act: Act, numbers: readonly number[], scene: Scene): Act | Ask {
  if (act.act === "done" || act.act === "snooze" || act.act === "skip") return { ...act, n: [...numbers] }
  const reminder = scene.context.open.find((each) => each.n === numbers[0])
  if (!reminder || numbers.length > 1) return { which: "what", choices: [] }
  if (act.act === "observe" || act.act === "measure") return { ...act, bed: reminder.bed }
  const same = "on" in act && WORK_OF[reminder.kind] === act.act
  return same ? { act: "done", n: [reminder.n], on: act.on } : { which: "what", choices: [] }
}
