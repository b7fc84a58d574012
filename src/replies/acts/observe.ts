import type { Act, Stage } from "../../garden/acts.ts"
import type { ReminderKind } from "../../garden/entry.ts"
import { addDays } from "../../values/day.ts"
import type { SaidDay } from "../days.ts"
import type { Frame } from "../frames.ts"
import type { Item } from "../item.ts"
import { foreignSubject, isOfOthers, isOfSpeaker } from "../mood.ts"
import { hasWord, startsWith } from "../says.ts"
import { A_NOTE, ask, openOf, type Proposal, type Scene } from "../scene.ts"
import { type Pair, targetsOf } from "../targets.ts"
import { saidDays, when } from "../when.ts"
import { bedsWith } from "./settle-work.ts"
import { isGuess } from "./work.ts"

/** Which reminders ask for a stage. */
const ASKED_BY: Readonly<Record<Stage, ReminderKind | null>> = {
  up: "check-emergence",
  "not-up": "check-emergence",
  patchy: "check-emergence",
  "flag-leaf": "watch-boot",
  boot: "watch-boot",
  heading: "watch-boot",
  bloom: "watch-bloom",
  "no-bloom": "watch-bloom",
  "full-bloom": "watch-bloom",
  seed: null,
  "seed-drop": null,
  "frost-killed": "frost",
  "survived-frost": "frost",
  regrowth: "check-regrowth",
  "no-regrowth": "check-regrowth",
  "broken-down": "rest-over",
}

/** Stages that were seen: "vetch is blooming", "kitchen not up yet". */
export function observe(frames: readonly Frame[], index: number, scene: Scene): Proposal | null {
  const frame = frames[index] as Frame
  if (
    !frame.stage ||
    frame.command ||
    (frame.work && frame.figures.length === 0 && !frame.heads.some((head) => head.stage && !head.work))
  )
    return null
  const stage = seenStage(frame, frame.stage)
  if (stage === null || isElsewhere(frame) || isGuess(frame) || isOfOthers(frame)) return A_NOTE
  return place(frames, index, scene, stage)
}

/** The stage that was seen once "not", "nearly" and "will" are heard; null where nothing was. */
function seenStage(frame: Frame, stage: Stage): Stage | null {
  if (
    frame.held ||
    frame.before("nearly") ||
    frame.before("future") ||
    frame.before("must") ||
    frame.before("maybe") ||
    frame.before("told") ||
    frame.before("habit") ||
    frame.has("past")
  )
    return null
  if (stage === "broken-down" && frame.before("partly")) return null
  if (!frame.before("not") && !(frame.has("not") && frame.has("yet"))) return stage
  if (stage === "not-up" || stage === "no-bloom" || stage === "no-regrowth") return stage
  if (stage === "up") return "not-up"
  if (stage === "regrowth") return "no-regrowth"
  const looked =
    frame.has("yet") || frame.items.some((item) => item.senses.has("ways:not") && startsWith(item, "denial"))
  return (stage === "bloom" || stage === "full-bloom") && looked ? "no-bloom" : null
}

/** Said of something else: other plants, people, the weather. */
function isElsewhere(frame: Frame): boolean {
  const own = (item: Item): boolean =>
    Boolean(item.species) || (item.senses.has("measure") && !startsWith(item, "weather"))
  const heads = frame.heads.filter((head) => head.stage)
  const head = heads[0]
  if (!head) return true
  // "vetch blooming along the road"
  const placed = frame.named.some(({ item }) => item.bed)
  if (!placed && frame.items.some((item) => hasWord(item, "elsewhere"))) return true
  if (isOfSpeaker(frame, head.at)) return true
  if (foreignSubject(frame, head.at, own)) return true
  const last = heads.at(-1)
  const behind = last ? frame.items[last.at + 1] : undefined
  const named = frame.named.length > 0
  if (behind?.senses.has("content") && !named) return true
  if (isOfCrop(frame, last?.at ?? head.at)) return true
  return isOfForeignPlace(frame, last?.at ?? head.at)
}

/** "the cold killed my tomatoes" */
function isOfCrop(frame: Frame, at: number): boolean {
  for (const item of frame.items.slice(at + 1)) {
    if (item.bed || item.species || item.mark !== undefined || !(item.senses.has("light") || item.crops)) return false
    if (item.crops) return true
  }
  return false
}

/** "flowers on the apple tree" */
function isOfForeignPlace(frame: Frame, at: number): boolean {
  if (!startsWith(frame.items[at + 1], "stage-place")) return false
  for (const item of frame.items.slice(at + 2)) {
    if (item.bed || item.species || item.numbers || item.day || item.time) return false
    if (item.senses.has("content") || item.senses.has("trap") || item.crops) return true
    if (item.mark !== undefined) return false
  }
  return false
}

/** Finds the bed and species of what was seen; shared by a short clause that takes its stage from the one before. */
export function place(frames: readonly Frame[], index: number, scene: Scene, stage: Stage): Proposal {
  const frame = frames[index] as Frame
  const day = when(since(frame, saidDays(frames, index, "before"), scene), scene, "past", scene.context.now.day)
  if ("unclear" in day) return ask("day")
  const targets = targetsOf(frame, scene, "state")
  if (targets.unknownBed)
    return ask(
      "bed",
      scene.context.beds.map((bed) => bed.id),
    )
  if (targets.unclear) return ask("bed", targets.unclear)
  const pairs: Pair[] = [...targets.pairs]
  for (const n of targets.numbers) {
    const reminder = scene.context.open.find((each) => each.n === n)
    if (!reminder)
      return ask(
        "reminder",
        scene.context.open.map((each) => each.n),
      )
    // "5: a few peas poking up"
    const open = pairs.findIndex((pair) => pair.bed === null && isGrown(pair.species, reminder.bed, scene))
    if (open >= 0) pairs[open] = { ...(pairs[open] as Pair), bed: reminder.bed }
    else pairs.push({ bed: reminder.bed, species: null })
  }
  const seenBefore = scene.lastSeen
  if (pairs.length === 0 && seenBefore?.sentence === frame.sentence) {
    pairs.push(...seenBefore.pairs.map(({ bed, species: one }) => ({ bed, species: one === null ? null : [one] })))
  }
  for (let i = index - 1; pairs.length === 0 && frames[i]?.sentence === frame.sentence; i -= 1) {
    pairs.push(...targetsOf(frames[i] as Frame, scene, "state").pairs)
  }
  if (pairs.length === 0) {
    if (scene.story || frames.some((each) => each.sentence === frame.sentence && each.command === "pause"))
      return A_NOTE
    if (scene.context.beds.length > 1 && frame.stray.length > 0) return A_NOTE
    if (scene.context.beds.length > 1 && frame.items.some((item) => startsWith(item, "everywhere"))) return A_NOTE
    pairs.push({ bed: null, species: null })
  }
  if (targets.amount === "both" && pairs.length === 1 && pairs[0]?.bed === null && pairs[0].species) {
    const beds = bedsWith(scene, pairs[0].species)
    if (beds.length === 2) pairs.splice(0, 1, ...beds.map((bed) => ({ bed, species: pairs[0]?.species ?? null })))
  }
  if (frame.either && pairs.length > 1 && scene.assumed === null)
    return ask(
      "bed",
      pairs.flatMap((pair) => pair.bed ?? (pair.species ? bedsWith(scene, pair.species) : [])),
    )
  const found: Act[] = []
  const seen: string[] = []
  let question: Proposal["ask"] = null
  for (const pair of pairs) {
    const placed = placeOne(pair, frame, scene, stage)
    if ("ask" in placed) question ??= placed.ask
    else {
      found.push({ act: "observe", bed: placed.bed, species: placed.species, what: stage, on: day.day })
      if (!seen.includes(placed.bed)) seen.push(placed.bed)
    }
  }
  if (seen.length > 0) {
    scene.lastBeds = { beds: seen, sentence: frame.sentence }
    scene.lastSeen = {
      pairs: found.flatMap((act) => (act.act === "observe" ? [{ bed: act.bed, species: act.species }] : [])),
      sentence: frame.sentence,
    }
  }
  return { acts: found, ask: question, note: false }
}

function isGrown(ids: readonly string[] | null, bed: string, scene: Scene): boolean {
  return ids !== null && scene.beds.get(bed)?.species.some((id) => ids.includes(id)) === true
}

/** "up for 4 days", "blooming a week now": seen that long ago. */
function since(frame: Frame, said: readonly SaidDay[] | null, scene: Scene): readonly SaidDay[] | null {
  const today = scene.context.now.day
  const ahead = frame.items.some((item) => item.day && hasWord(item, "in-days"))
  const lasting = !ahead && frame.days.some(({ day, lead }) => day.said === "span" && lead !== "other")
  if (!lasting || said === null) return said
  return said.flatMap((each) => (each.said === "span" ? [{ said: "day", day: addDays(today, -each.days) }] : []))
}

type Placed = { bed: string; species: string | null } | Proposal

function placeOne(pair: Pair, frame: Frame, scene: Scene, stage: Stage): Placed {
  const bed = pair.bed ?? bedFor(pair.species?.length ? pair.species : null, frame, scene, ASKED_BY[stage])
  if (typeof bed !== "string") return bed
  if (!pair.species || pair.species.length === 0) return { bed, species: null }
  if (pair.carried && !scene.beds.get(bed)?.species.some((id) => pair.species?.includes(id)))
    return { bed, species: null }
  return speciesIn(bed, pair.species, scene)
}

/** Which of the named species grows in the bed; asked where two do or none does. */
export function speciesIn(bed: string, ids: readonly string[], scene: Scene): Placed {
  const grown = scene.beds.get(bed)?.species ?? []
  const here = grown.filter((id) => ids.includes(id))
  if (here.length === 1) return { bed, species: here[0] as string }
  if (scene.assumed?.which === "species") {
    const chosen = grown.filter((id) => scene.assumed?.species?.includes(id))
    if (chosen.length === 1) return { bed, species: chosen[0] as string }
  }
  return ask("species", here.length > 1 ? here : grown)
}

/** Named bed; else the only bed with the species; else the one open reminder that asks; else the only bed; else ask. */
export function bedFor(
  ids: readonly string[] | null,
  frame: Frame,
  scene: Scene,
  kind: ReminderKind | null,
): string | Proposal {
  const last = scene.lastBeds
  const beds = ids ? bedsWith(scene, ids) : scene.context.beds.map((bed) => bed.id)
  const near =
    last && last.sentence >= frame.sentence - (ids ? 1 : 0) ? last.beds.filter((bed) => beds.includes(bed)) : []
  if (near.length === 1) return near[0] as string
  if (ids && beds.length === 1) return beds[0] as string
  const asking = openOf(scene, (each) => each.kind === kind && (beds.length === 0 || beds.includes(each.bed)))
  if (kind && asking.length === 1 && beds.length > 0) return asking[0]?.bed as string
  if (scene.context.beds.length === 1) return scene.context.beds[0]?.id as string
  if (scene.assumed?.which === "bed" && scene.assumed.beds?.length === 1) return scene.assumed.beds[0] as string
  return ask("bed", beds.length > 0 ? beds : scene.context.beds.map((bed) => bed.id))
}
