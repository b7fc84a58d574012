import type { ReminderKind } from "../../garden/entry.ts"
import type { Then } from "../../garden/garden.ts"
import type { Day } from "../../values/day.ts"
import type { Frame } from "../frames.ts"
import type { Item } from "../item.ts"
import { foreignSubject, hasForeignObject, isOfOthers, moodOf } from "../mood.ts"
import { endsWith, isPolite, isTagged, startsWith } from "../says.ts"
import { A_NOTE, type Aim, ask, NOTHING, type Proposal, type Scene } from "../scene.ts"
import { type Targets, targetsOf } from "../targets.ts"
import { saidDays, when } from "../when.ts"
import { ownTargets } from "./carry.ts"
import { partCut } from "./part-cut.ts"
import { planting } from "./planting.ts"
import { aim, remember, workActs } from "./settle-work.ts"

/** Reports of work: "done 1", "cut south yesterday", "watered", "sowed rye in back", "planted tomatoes". */
export function work(frames: readonly Frame[], index: number, scene: Scene): Proposal | null {
  const frame = frames[index] as Frame
  if (!frame.work || frame.command) return null
  const mood = moodOf(frame)
  if (mood === "ahead") return null
  if (isBackground(frames, index)) return NOTHING
  // "not sure about kitchen, I think Tom watered it"
  const before = frames[index - 1]
  if (before?.sentence === frame.sentence && before.heads.length === 0 && before.has("maybe")) return A_NOTE
  // "cut a 1 ft square": a sample was taken, the bed still stands.
  const object = frame.items.slice(frame.headAt + 1).find((item) => !item.senses.has("light") || item.amount)
  if (object?.amount?.of === "area") return NOTHING
  if (
    mood === "not" ||
    isAlternative(frame, frames[index + 1]) ||
    isForeign(frame) ||
    isGuess(frame) ||
    isOfOthers(frame) ||
    leavesPart(frame, frames[index + 1])
  )
    return A_NOTE
  const said = frame.work.work
  const targets = targetsOf(frame, scene, said === "plant" || said === "sow" ? "plant" : "work")
  if (scene.story && targets.none) return A_NOTE
  if (said === "done" && targets.none && frame.kind === null && saysMore(frames, index)) return NOTHING
  const days = saidDays(frames, index, "both")
  const day = daysDiffer(frames, index) ? { unclear: true as const } : when(days, scene, "past", scene.context.now.day)
  if ("unclear" in day) return ask("day")
  if (said === "plant" && isVague(frame, targets)) return A_NOTE
  if (said === "sow" || said === "plant") return planting(frame, scene, targets, day.day, index, said)
  const part = said === "cut" ? partCut(frame, frames[index + 1], scene, targets) : null
  if (part) {
    if ("ask" in part) return part
    return {
      acts: [{ act: "cut", bed: part.bed, species: part.species, then: frame.then, on: day.day }],
      ask: null,
      note: false,
    }
  }
  const kind: ReminderKind | null = said === "done" ? frame.kind : said
  const plain = said === "done" ? kindWork(frame.kind) : said
  const told = targets.none && hasPronoun(frame) ? ownTargets(frames, index, scene, "work") : targets
  const aimed = aim(frame, scene, told, kind, plain !== null)
  remember(scene, aimed.aims, day.day, index)
  return { acts: workActs(aimed.aims, plain, day.day, { then: frame.then }), ask: aimed.ask, note: false }
}

/** "cut it or leave it", "cut or not" */
function isAlternative(frame: Frame, next: Frame | undefined): boolean {
  if (next?.opener !== "or" || next.sentence !== frame.sentence) return false
  return next.named.length === 0 && next.days.length === 0
}

/** "no regrowth since we cut it": when something was seen to begin, not what is reported. */
function isBackground(frames: readonly Frame[], index: number): boolean {
  const frame = frames[index] as Frame
  const before = frames[index - 1]
  return before?.sentence === frame.sentence && before.stage !== null && frame.opener === "since"
}

/** "did it but left the edges" */
function leavesPart(frame: Frame, next: Frame | undefined): boolean {
  if (next?.sentence !== frame.sentence || next.work) return false
  return next.has("partly") && (next.has("kept") || next.has("except") || next.has("not"))
}

/** "set out at 6", "put in 3 hours": these words plant only with something to plant. */
function isVague(frame: Frame, targets: Targets): boolean {
  if (!startsWith(frame.heads.find((head) => head.work)?.item, "vague-plant")) return false
  return targets.crops.length === 0 && targets.species.length === 0 && !hasPronoun(frame)
}

function hasPronoun(frame: Frame): boolean {
  return frame.items.some((item) => startsWith(item, "object-it"))
}

/** A head that was only guessed from a slip, among words nobody here knows: another language, a name. */
export function isGuess(frame: Frame): boolean {
  return frame.stray.length > 1 && frame.heads.every((head) => head.item.words.some((word) => word.repaired))
}

/** "Yes done, cut it yesterday": the other clause says what was done. */
function saysMore(frames: readonly Frame[], index: number): boolean {
  const { sentence } = frames[index] as Frame
  return [frames[index - 1], frames[index + 1]].some(
    (each) =>
      each?.sentence === sentence &&
      each.work !== null &&
      !each.command &&
      moodOf(each) === "did" &&
      (each.work.work !== "done" || each.named.length > 0),
  )
}

function kindWork(kind: ReminderKind | null): "cut" | "water-in" | "sow" | "plant" | null {
  return kind === "cut" || kind === "water-in" || kind === "sow" || kind === "plant" ? kind : null
}

/** Work on things that are not of this garden's beds: the lawn, dinner, a friend's hair; or done by wind and weather. */
function isForeign(frame: Frame): boolean {
  const said = frame.work?.work
  const raises = said === "plant" || said === "sow"
  const own = (item: Item): boolean =>
    Boolean(item.species) ||
    (raises && Boolean(item.crops)) ||
    (said === "sow" && isSeed(item)) ||
    (said === "water-in" && item.senses.has("stages:up")) ||
    (said === "sow" && item.senses.has("stages:patchy"))
  const head = frame.heads.find((each) => each.work)
  if (!head || isBeside(frame, head.at)) return head !== undefined
  if (hasForeignObject(frame, own) && !(raises && frame.named.some(({ item }) => item.crops || item.bed))) return true
  const subject = foreignSubject(frame, head.at, (item) => Boolean(item.species) || (raises && Boolean(item.crops)))
  if (!subject) return false
  // "mateo cut south": someone works on a bed; but no storm and no deer, and nothing that the work is said of.
  const object = frame.named.some(({ at }) => at > head.at) || startsWith(frame.items[head.at + 1], "object-it")
  return !(object && subject === frame.items[head.at - 1] && isSomeone(subject))
}

/** "mowed around south": the bed only says where. */
function isBeside(frame: Frame, head: number): boolean {
  const bed = frame.named.find(({ item, at }) => item.bed && at > head)
  if (!bed) return false
  const before = frame.items[startsWith(frame.items[bed.at - 1], "article") ? bed.at - 2 : bed.at - 1]
  return before !== undefined && before !== frame.items[head] && endsWith(before, "vicinity")
}

/** "the seed", and not the birds'. */
function isSeed(item: Item): boolean {
  return item.words.every((word) => isTagged(word, "seed-goods") || isTagged(word, "determiner"))
}

function isSomeone(item: Item): boolean {
  return item.senses.has("content") && item.to - item.from === 1 && !startsWith(item, "force")
}

/** "done 1 last thursday?? or was it wednesday" */
function daysDiffer(frames: readonly Frame[], index: number): boolean {
  const frame = frames[index] as Frame
  const next = frames[index + 1]
  const or = next?.opener === "or" && next.days.length > 0 && next.work === null && next.stage === null
  return or === true && frame.days.length > 0
}

/** What became of the tops, told beside the cut or, turned in, by itself. */
export function tops(frames: readonly Frame[], index: number, scene: Scene): Proposal | null {
  const frame = frames[index] as Frame
  if (isLeft(frame) && scene.lastWork) return topsOf(scene.lastWork.aims, "leave", scene.lastWork.on, scene)
  if (!frame.then || frame.work || frame.command) return null
  if (
    frame.before("not") ||
    frame.before("future") ||
    frame.before("must") ||
    frame.held ||
    frame.before("partly") ||
    frame.before("nearly") ||
    frame.has("maybe")
  )
    return A_NOTE
  const own = targetsOf(frame, scene, "work")
  const before = scene.lastWork
  if (before && own.beds.length === 0) return topsOf(before.aims, frame.then, before.on, scene)
  const ownPlant = (item: Item): boolean => Boolean(item.species)
  const head = frame.heads.find((each) => each.then)
  if (
    frame.then !== "turn-in" ||
    hasForeignObject(frame, ownPlant) ||
    foreignSubject(frame, head?.at ?? 0, ownPlant) !== null
  )
    return A_NOTE
  const day = when(saidDays(frames, index, "both"), scene, "past", scene.context.now.day)
  if ("unclear" in day) return ask("day")
  if (scene.story && own.none) return A_NOTE
  const aimed = aim(frame, scene, own, "cut", true)
  remember(scene, aimed.aims, day.day, index)
  return { acts: workActs(aimed.aims, "cut", day.day, { then: frame.then }), ask: aimed.ask, note: false }
}

/** "cut and left" */
function isLeft(frame: Frame): boolean {
  const [only, more] = frame.items.filter((item) => !isPolite(item))
  return (
    only !== undefined && more === undefined && !only.bed && startsWith(only, "left-word") && frame.opener !== "start"
  )
}

function topsOf(aims: readonly Aim[], then: Then, on: Day, scene: Scene): Proposal {
  const cut = aims.filter(({ n }) => n === null || scene.context.open.find((each) => each.n === n)?.kind === "cut")
  if (cut.length === 0) return A_NOTE
  return { acts: cut.map(({ bed }) => ({ act: "cut", bed, species: [], then, on })), ask: null, note: false }
}
