import type { Act } from "../garden/acts.ts"
import { control } from "./acts/control.ts"
import { PROPOSERS } from "./acts/index.ts"
import { skip } from "./acts/skip.ts"
import { snooze } from "./acts/snooze.ts"
import { stop } from "./acts/stop.ts"
import { tell } from "./acts/tell.ts"
import type { Frame } from "./frames.ts"
import { isBare } from "./lists.ts"
import { isLastMended, mendLast } from "./mend.ts"
import type { Outcome } from "./outcome.ts"
import { isRequest, questionFrames } from "./questions.ts"
import { isPolite, isTagged, isWay } from "./says.ts"
import { A_NOTE, ask as askFor, NOTHING, type Proposal, type Scene } from "./scene.ts"

/** Asks every proposer about every clause, in order, and lets corrections take back what came before them. */
export function settle(frames: readonly Frame[], scene: Scene): Outcome[] {
  const asking = questionFrames(frames)
  const outcomes: Outcome[] = []
  for (let i = 0; i < frames.length; i += 1) {
    const frame = frames[i] as Frame
    if (isDoubtedDay(frames, i)) {
      let to = i
      while (frames[to + 1]?.opener === "or" && (frames[to + 1] as Frame).days.length > 0) to += 1
      outcomes.push({ frame, proposal: doubted(frames, i, to, scene), claimed: true })
      i = to
      continue
    }
    if (isUnreadEnd(frame, outcomes.at(-1))) {
      outcomes.push({ frame, proposal: NOTHING, claimed: true, absorbed: true })
      continue
    }
    if (isLeftStanding(frame, outcomes.at(-1))) {
      outcomes.push({ frame, proposal: NOTHING, claimed: true, absorbed: true })
      continue
    }
    if (asking.has(i)) {
      const to = lastOf(frames, i, asking)
      outcomes.push(question(frames, i, to, scene))
      i = to
      continue
    }
    const mended =
      isLastMended(frame) || isLaterDay(frame, outcomes.at(-1)) || putsDayRight(frames, scene)
        ? mendLast(frames, i, outcomes, scene, propose)
        : null
    if (mended) {
      outcomes.push({ frame, proposal: mended, claimed: true })
      continue
    }
    const proposal = propose(frames, i, scene)
    if (isContradiction(frame, i === frames.length - 1) || isAfterthought(frame, outcomes.at(-1)))
      takeBackWork(outcomes.slice(-1))
    absorbNegation(outcomes.at(-1), frame, proposal)
    outcomes.push({ frame, proposal: proposal ?? NOTHING, claimed: proposal !== null })
    follow(frame, proposal, scene)
  }
  if (endsInNotYet(frames)) takeBackWork(outcomes)
  return outcomes
}

/** "put 2 off till the holiday... so monday": the day that could not be told before. */
function isLaterDay(frame: Frame, before: Outcome | undefined): boolean {
  if (before?.frame.command !== "snooze" || before.proposal.acts.length > 0 || frame.days.length !== 1) return false
  return frame.heads.length === 0 && frame.named.length === 0 && frame.stray.length === 0 && !frame.asked
}

/** "sorry, yesterday not today", as a text of its own behind a change: what was told before is put right. */
function putsDayRight(frames: readonly Frame[], scene: Scene): boolean {
  const said = frames.filter((frame) => !frame.items.every(isPolite))
  const [frame] = said
  if (!frame || said.length > 1 || (scene.context.last?.acts.length ?? 0) === 0) return false
  return frame.heads.length === 0 && isBare(frame) && frame.items.some((item, at) => isWay(item, "not") && at > 0)
}

/** Does the text end in a "not yet" that is of no bed, plant or stage of its own? Then it is of all that was said. */
function endsInNotYet(frames: readonly Frame[]): boolean {
  const last = frames.at(-1)
  if (!last || (last.short && last.named.length > 0) || last.stage !== null) return false
  const said = last.items.filter(
    (item) => item.mark === undefined && !item.senses.has("courtesy") && !item.senses.has("picture:courtesy"),
  )
  const words = said.flatMap((item) => item.words)
  return isTagged(words.at(-1), "yet") && isTagged(words.at(-2), "plain-not")
}

/** "you have south as cut but it isn't" */
function isContradiction(frame: Frame, last: boolean): boolean {
  if (
    !(frame.opener === "but" || (last && !frame.has("yet"))) ||
    frame.heads.length > 0 ||
    frame.named.length > 0 ||
    frame.stray.length > 0 ||
    !(frame.has("not") || frame.has("drop"))
  )
    return false
  return frame.items.every(
    (item) =>
      (item.senses.has("light") && frame.opener === "but") ||
      item.senses.has("ways:not") ||
      item.senses.has("ways:drop") ||
      item.mark !== undefined ||
      item.senses.has("courtesy"),
  )
}

/** "done south, sort of" */
function isAfterthought(frame: Frame, before: Outcome | undefined): boolean {
  if (
    before?.frame.sentence !== frame.sentence ||
    frame.heads.length > 0 ||
    frame.named.length > 0 ||
    frame.stray.length > 0
  )
    return false
  return frame.has("maybe") || frame.has("nearly") || (frame.has("partly") && frame.items.length <= 2)
}

function takeBackWork(outcomes: readonly Outcome[]): void {
  for (const outcome of outcomes) {
    const worked = outcome.proposal.acts.some((act) => ["done", "cut", "watered", "sowed", "planted"].includes(act.act))
    if (worked) outcome.proposal = A_NOTE
  }
}

/** "done 1 last thursday?? or was it wednesday" */
function isDoubtedDay(frames: readonly Frame[], index: number): boolean {
  const frame = frames[index] as Frame
  const next = frames[index + 1]
  return (
    Boolean(frame.work ?? frame.stage) &&
    frame.days.length > 0 &&
    next?.opener === "or" &&
    next.days.length > 0 &&
    next.named.length === 0
  )
}

/** "remind me when it rains": what was asked about is no remark besides. */
function isUnreadEnd(frame: Frame, before: Outcome | undefined): boolean {
  if (frame.opener !== "when" || before?.frame.sentence !== frame.sentence) return false
  return before.absorbed === true || (before.frame.command === "snooze" && before.proposal.ask?.which === "day")
}

/** "barley cut, clover left to grow": the cut of a part has said so. */
function isLeftStanding(frame: Frame, before: Outcome | undefined): boolean {
  const part = before?.proposal.acts.some((act) => act.act === "cut" && act.species.length > 0)
  if (!part || before?.frame.sentence !== frame.sentence || frame.heads.length > 0 || frame.stray.length > 0)
    return false
  return frame.has("not") && frame.named.length > 0 && frame.named.every(({ item }) => item.species && !item.bed)
}

/** Which of the days it was must be asked, if it is not what was answered. */
function doubted(frames: readonly Frame[], from: number, to: number, scene: Scene): Proposal {
  if (scene.assumed?.which !== "day") return askFor("day")
  const frame = frames[from] as Frame
  const [said] = frame.days as [Frame["days"][number]]
  const open: Frame = { ...frame, days: [{ ...said, day: { said: "wrong" } }] }
  return propose([...frames.slice(0, from), open, ...frames.slice(to + 1)], from, scene) ?? A_NOTE
}

/** "haven't cut it yet, doing it sunday": the promise says it all. */
function absorbNegation(before: Outcome | undefined, frame: Frame, proposal: Proposal | null): void {
  const promised = proposal?.acts.length === 1 && proposal.acts[0]?.act === "snooze" && frame.command === null
  if (
    promised &&
    before?.proposal === A_NOTE &&
    before.frame.sentence === frame.sentence &&
    before.frame.work &&
    before.frame.stray.length === 0
  )
    [before.proposal, before.absorbed] = [NOTHING, true]
}

export function propose(frames: readonly Frame[], index: number, scene: Scene): Proposal | null {
  for (const proposer of PROPOSERS) {
    const proposal = proposer(frames, index, scene)
    if (proposal) return proposal
  }
  return null
}

/** Beds a clause spoke of are where the next one goes on, if it names none. */
function follow(frame: Frame, proposal: Proposal | null, scene: Scene): void {
  const acted = (proposal?.acts ?? []).flatMap((act) => bedsOf(act, scene))
  const named = frame.named.flatMap(({ item }) => (item.bed?.beds.length === 1 ? item.bed.beds : []))
  const beds = acted.length > 0 ? acted : named
  if (beds.length > 0) scene.lastBeds = { beds: [...new Set(beds)], sentence: frame.sentence }
}

function bedsOf(act: Act, scene: Scene): string[] {
  if ("n" in act && Array.isArray(act.n)) {
    const numbers = act.n
    return scene.context.open.filter((each) => numbers.includes(each.n)).map((each) => each.bed)
  }
  return "bed" in act && act.bed ? [act.bed] : []
}

function lastOf(frames: readonly Frame[], from: number, asking: ReadonlySet<number>): number {
  let to = from
  while (asking.has(to + 1) && (frames[to + 1] as Frame).sentence === (frames[from] as Frame).sentence) to += 1
  return to
}

/** A question is answered, never acted on; a request in its form ("can you remind me friday?") is one. */
function question(frames: readonly Frame[], from: number, to: number, scene: Scene): Outcome {
  const whole = together(frames.slice(from, to + 1))
  for (let i = from; i <= to; i += 1) {
    const stopping = stop(frames, i, scene)
    const fits =
      stopping &&
      (stopping.ask !== null || stopping.acts.some((act) => act.act === "stop") || isRequest(frames[i] as Frame))
    if (stopping && fits) return { frame: whole, proposal: stopping, claimed: true }
  }
  const first = { ...(frames[from] as Frame), asked: false }
  const one = [...frames.slice(0, from), first, ...frames.slice(from + 1)]
  const command = control(one, from, scene)
  if (command?.acts.some((act) => act.act === "help" || isRequest(first)))
    return { frame: whole, proposal: command, claimed: true }
  const starts = first.heads[0]?.command === "snooze" && first.headAt <= 1
  if (isRequest(first) || starts) {
    const plain = { ...first, before: (way: string) => way !== "must" && way !== "future" && first.before(way) }
    const asked = [...frames.slice(0, from), plain, ...frames.slice(from + 1)]
    const request =
      (first.command === "snooze" ? snooze(asked, from, scene) : null) ??
      (first.command === "skip" && isRequest(first) ? skip(asked, from, scene) : null)
    if (request && (request.acts.length > 0 || request.ask)) return { frame: whole, proposal: request, claimed: true }
  }
  const answer = tell([whole], 0, scene)
  return { frame: whole, proposal: answer ?? A_NOTE, claimed: true }
}

/** Several clauses of one question, read as one. */
function together(frames: readonly Frame[]): Frame {
  const [first, ...more] = frames
  let whole = first as Frame
  for (const frame of more) {
    const shift = whole.items.length
    const before = whole
    whole = {
      ...whole,
      items: [...whole.items, ...frame.items],
      heads: [...whole.heads, ...frame.heads],
      work: whole.work ?? frame.work,
      stage: whole.stage ?? frame.stage,
      command: whole.command ?? frame.command,
      kind: whole.kind ?? frame.kind,
      named: [...whole.named, ...frame.named.map((each) => ({ ...each, at: each.at + shift }))],
      days: [...whole.days, ...frame.days],
      stray: [...whole.stray, ...frame.stray],
      has: (way) => before.has(way) || frame.has(way),
    }
  }
  return whole
}
