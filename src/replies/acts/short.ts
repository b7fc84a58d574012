import type { Stage } from "../../garden/acts.ts"
import { addDays } from "../../values/day.ts"
import { settleDay } from "../days.ts"
import type { Frame } from "../frames.ts"
import type { Item } from "../item.ts"
import { isBare, isNextJob } from "../lists.ts"
import { hasWord, isOne, isPolite, isTagged, isTarget, onlyWords, startsWith } from "../says.ts"
import { A_NOTE, ask, NOTHING, type Proposal, type Scene } from "../scene.ts"
import { bedOrNumber, targetsOf } from "../targets.ts"
import { when } from "../when.ts"
import { measureAlike } from "./measure.ts"
import { place } from "./observe.ts"
import { aim, bedsWith } from "./settle-work.ts"
import { skip } from "./skip.ts"
import { work } from "./work.ts"

/** A short clause that takes its head from the one before: "but no peas yet", "and 1 today", "common not yet". */
export function short(frames: readonly Frame[], index: number, scene: Scene): Proposal | null {
  const frame = frames[index] as Frame
  const names = frame.named.length > 0 || (frame.has("rest") && frame.days.length > 0)
  if (!frame.short || !names || frame.stray.length > 0) return null
  if (!isBare(frame)) return isLead(frame) && leadsOn(frames, index) ? NOTHING : A_NOTE
  const own = targetsOf(frame, scene, "state")
  if (own.none && own.crops.length === 0) return A_NOTE
  const before = frames[index - 1]
  if (!before || before.asked) return null
  const unclear = frame.named.flatMap(({ item }) => bedOrNumber(item, before.named, scene) ?? [])
  if (unclear.length > 0) return ask("bed", unclear)
  const denied = frame.has("not") || frame.has("yet")
  const ahead = frame.days.length > 0 && aheadOnly(frame, scene)
  if (before.stage && !before.command && ahead && own.numbers.length > 0) return snoozeShort(frame, scene)
  if (before.stage && !before.command) {
    const begun = frame.items.some((item) => hasWord(item, "just-begun"))
    const said = begun && before.stage === "full-bloom" ? "bloom" : before.stage
    if (!denied && frame.has("partly") && !begun) return A_NOTE
    const stage = denied ? deniedStage(said) : said
    if (stage === null || frame.has("nearly") || frame.has("past")) return A_NOTE
    return place(frames, index, scene, stage)
  }
  if (before.figures.length > 0 && !before.work) return measureAlike(frames, index, scene)
  if (denied || frame.has("nearly") || frame.has("partly") || frame.has("maybe")) return A_NOTE
  const headed: Frame = {
    ...frame,
    work: before.work,
    kind: before.kind,
    command: before.command,
    headAt: frame.items.length,
  }
  // "cut south. north." may begin something else.
  const also = frame.items.some((item) => hasWord(item, "also") || startsWith(item, "and-but"))
  if (before.sentence !== frame.sentence && before.work && frame.days.length === 0 && !also) return ask("what")
  const with_ = frames.map((each, at) => (at === index ? headed : each))
  const end = frames[index + 1]
  const held = end?.sentence === frame.sentence && (end.opener === "when" || end.opener === "if")
  if (held && before.command === null) return A_NOTE
  if (before.command === "snooze") return snoozeShort(headed, scene)
  if (before.command === "skip") return skip(with_, index, scene)
  if (!before.work || !scene.lastWork) return before.work ? A_NOTE : null
  if (isNextJob(frame, before) || frame.days.some(({ day }) => settleDay(day, scene.context.now.day, "past") === null))
    return snoozeShort(headed, scene)
  return work(with_, index, scene)
}

function snoozeShort(frame: Frame, scene: Scene): Proposal {
  const said = frame.days.at(-1)
  const until = when(said ? [said.day] : null, scene, "future", addDays(scene.context.now.day, 1))
  if ("unclear" in until) return ask("day")
  // "south cut, kitchen tomorrow": the other bed's reminder may be of another kind.
  const targets = targetsOf(frame, scene, "command")
  const kind = targets.beds.length + targets.numbers.length > 0 && frame.command === null ? null : frame.kind
  const aimed = aim(frame, scene, targets, kind, false)
  const n = aimed.aims.flatMap((each) => (each.n === null ? [] : [each.n]))
  for (const each of n) scene.spoken.add(each)
  return { acts: n.length > 0 ? [{ act: "snooze", n, until: until.day }] : [], ask: aimed.ask, note: false }
}

function deniedStage(stage: Stage): Stage | null {
  if (stage === "up" || stage === "not-up") return "not-up"
  if (stage === "bloom" || stage === "full-bloom" || stage === "no-bloom") return "no-bloom"
  if (stage === "regrowth" || stage === "no-regrowth") return "no-regrowth"
  return null
}

const ANSWERED_NOT: Partial<Record<string, Stage>> = {
  "watch-bloom": "no-bloom",
  "check-emergence": "not-up",
  "check-regrowth": "no-regrowth",
}

/** "not yet", "none", "still nothing": the answer to the only open question of that kind. */
export function notYet(frames: readonly Frame[], index: number, scene: Scene): Proposal | null {
  const frame = frames[index] as Frame
  if (frame.heads.length > 0) return null
  if (frame.named.length > 0) return notYetOf(frames, index, scene) ?? noneUp(frames, index, scene)
  const said = frame.items.filter((item) => item.mark === undefined && !item.senses.has("courtesy"))
  const words = said.flatMap((item) => item.words)
  const only =
    said.length > 0 &&
    said.every((item) => item.senses.has("ways:not") || item.senses.has("ways:yet") || isFiller(item))
  if (!only || !frame.has("not")) return null
  if (frames.length > 1 && scene.lastWork) return A_NOTE
  const looked = frames[index - 1]?.sentence === frame.sentence ? lookedFor(frames[index - 1] as Frame) : null
  if (looked) return place(frames, index, scene, looked)
  const none = words.some((word) => isTagged(word, "nothing"))
  if (!none && !frame.has("yet")) return A_NOTE
  const { open } = scene.context
  const regrowth = open.filter((each) => each.kind === "check-regrowth")
  const asking =
    open.length === 1 ? open[0] : none && words.length === 1 && regrowth.length === 1 ? regrowth[0] : undefined
  const stage = asking ? ANSWERED_NOT[asking.kind] : undefined
  if (!asking || !stage) return A_NOTE
  return {
    acts: [{ act: "observe", bed: asking.bed, species: null, what: stage, on: scene.context.now.day }],
    ask: null,
    note: false,
  }
}

/** "43 not yet", "lane bed: not yet": the answer to the one thing that is asked there. */
function notYetOf(frames: readonly Frame[], index: number, scene: Scene): Proposal | null {
  const frame = frames[index] as Frame
  const answers = frame.has("yet") || frame.items.some((item) => isOne(item, "nothing"))
  if (!frame.has("not") || !answers || frame.stray.length > 0 || frame.days.length > 0 || !isBare(frame)) return null
  if (frames[index - 1]?.sentence === frame.sentence && frames[index - 1]?.stage) return null
  const { numbers, beds, species, unclear, unknownBed } = targetsOf(frame, scene, "state")
  if (species.length > 0 || unclear || unknownBed || numbers.length + beds.length !== 1) return null
  const asking = scene.context.open.filter((each) => numbers.includes(each.n) || beds.includes(each.bed))
  const stage = asking.length === 1 ? ANSWERED_NOT[asking[0]?.kind ?? ""] : undefined
  return stage ? place(frames, index, scene, stage) : null
}

/** "looked for blooms on north": what was looked for, as what was not there. */
function lookedFor(frame: Frame): Stage | null {
  for (const item of frame.items) {
    for (const stage of ["up", "bloom", "regrowth"] as const)
      if (item.senses.has(`stages:${stage}`) && !frame.stage) return deniedStage(stage)
  }
  return null
}

/** "no peas in lane yet", where that bed is asked whether it is up. */
function noneUp(frames: readonly Frame[], index: number, scene: Scene): Proposal | null {
  const frame = frames[index] as Frame
  const none = frame.items.some((item) => startsWith(item, "none") && item.senses.has("ways:not"))
  if (!none || !frame.has("yet") || frame.stray.length > 0 || !isBare(frame) || frames[index - 1]?.stage) return null
  const targets = targetsOf(frame, scene, "state")
  const beds =
    targets.beds.length > 0 ? targets.beds : [...new Set(targets.species.flatMap((ids) => bedsWith(scene, ids)))]
  const asking = scene.context.open.filter((each) => each.kind === "check-emergence" && beds.includes(each.bed))
  return targets.species.length > 0 && beds.length === 1 && asking.length === 1
    ? place(frames, index, scene, "not-up")
    : null
}

function isFiller(item: Item): boolean {
  return onlyWords(item, "not-yet")
}

/** A number, a bed or a day and nothing else: what about it? */
export function bare(frames: readonly Frame[], index: number, scene: Scene): Proposal | null {
  const frame = frames[index] as Frame
  if (frame.heads.length > 0 || frame.stray.length > 0 || frame.asked) return null
  if (frame.has("past") || frame.has("not") || frame.has("nearly") || frame.has("partly")) return A_NOTE
  if (!isBare(frame)) return frame.named.length > 0 && frames.length === 1 ? A_NOTE : null
  const small = frame.items.every(
    (item) =>
      item.mark !== undefined ||
      item.senses.has("courtesy") ||
      item.senses.has("light") ||
      item.senses.has("picture:courtesy") ||
      item.senses.has("name") ||
      item.bed ||
      item.numbers ||
      item.species ||
      item.day ||
      item.time ||
      item.senses.has("ways:both") ||
      item.senses.has("ways:all") ||
      item.senses.has("ways:mend"),
  )
  if (!small || scene.story) return null
  const targets = targetsOf(frame, scene, "command")
  const content = frame.items.filter((item) => item.mark === undefined && !item.senses.has("courtesy"))
  const told = content.filter((item) => item.bed || item.numbers || item.species || item.day)
  const counted = content.every((item) => item.senses.has("ways:both") || item.senses.has("ways:all"))
  if ((told.length === 0 && !counted) || content.length === 0 || content.length > told.length + 2) return null
  // "sunny today", where a bed is the Sunny side.
  if (
    frame.days.length > 0 &&
    told.every((item) => item.day ?? item.bed?.doubtful) &&
    told.some((item) => item.bed && !item.day)
  )
    return A_NOTE
  if (frames.length > 1 && !alone(frames)) return frame.named.length > 0 && !leadsOn(frames, index) ? A_NOTE : NOTHING
  if (frame.days.length > 0 && (targets.none || aheadOnly(frame, scene))) return bareDay(frame, scene)
  return ask("what")
}

/** Nothing but a name and small words that say nothing of it. */
function isLead(frame: Frame): boolean {
  return frame.items.every(
    (item) => isTarget(item) || isPolite(item) || (item.senses.has("light") && !item.senses.has("measure")),
  )
}

/** "creekside is finally down, mowed it": the clause behind it says what became of what this one names. */
function leadsOn(frames: readonly Frame[], index: number): boolean {
  const next = frames[index + 1]
  if (!next || next.sentence !== frames[index]?.sentence || !next.work || next.named.length > 0) return false
  return next.items.some((item) => startsWith(item, "object-it"))
}

/** Is everything else in the text courtesy? */
function alone(frames: readonly Frame[]): boolean {
  return (
    frames.filter((frame) => frame.heads.length > 0 || frame.named.length > 0 || frame.stray.length > 0).length <= 1
  )
}

function aheadOnly(frame: Frame, scene: Scene): boolean {
  return frame.days.every(({ day }) => settleDay(day, scene.context.now.day, "past") === null)
}

/** "tomorrow", "2 on monday": the one reminder that can be meant is put off to it. */
function bareDay(frame: Frame, scene: Scene): Proposal {
  const day = settleDay((frame.days[0] as Frame["days"][number]).day, scene.context.now.day, "future")
  if (!day || day <= scene.context.now.day) return ask("what")
  const aimed = aim(frame, scene, targetsOf(frame, scene, "command"), null, false)
  const n = aimed.aims.flatMap((each) => (each.n === null ? [] : [each.n]))
  return n.length === 1 && !aimed.ask
    ? { acts: [{ act: "snooze", n, until: day }], ask: null, note: false }
    : ask("what")
}
