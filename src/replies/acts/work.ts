import type { ReminderKind } from "../../garden/entry.ts"
import type { Then } from "../../garden/garden.ts"
import type { Day } from "../../values/day.ts"
import type { Frame } from "../frames.ts"
import type { Item } from "../items.ts"
import { foreignSubject, hasForeignObject, isOfOthers, moodOf } from "../mood.ts"
import { isTagged, startsWith } from "../says.ts"
import { A_NOTE, type Aim, ask, NOTHING, openOfKind, type Proposal, type Scene } from "../scene.ts"
import { type Targets, targetsOf } from "../targets.ts"
import { saidDays, when } from "../when.ts"
import { ownTargets } from "./carry.ts"
import { aim, bedsWith, workActs } from "./settle-work.ts"

/** Reports of work: "done 1", "cut south yesterday", "watered", "sowed rye in back", "planted tomatoes". */
export function work(frames: readonly Frame[], index: number, scene: Scene): Proposal | null {
  const frame = frames[index] as Frame
  if (!frame.work || frame.command) return null
  const mood = moodOf(frame)
  if (mood === "ahead") return null
  if (isBackground(frames, index)) return NOTHING
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

function remember(scene: Scene, aims: readonly Aim[], on: Day, index: number): void {
  scene.lastWork = { aims, on, index }
  for (const { n } of aims) if (n !== null) scene.spoken.add(n)
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
  if (!head) return false
  if (hasForeignObject(frame, own) && !(raises && frame.named.some(({ item }) => item.crops || item.bed))) return true
  const subject = foreignSubject(frame, head.at, (item) => Boolean(item.species) || (raises && Boolean(item.crops)))
  if (!subject) return false
  // "mateo cut south": someone works on a bed; but no storm and no deer, and nothing that the work is said of.
  const object = frame.named.some(({ at }) => at > head.at) || startsWith(frame.items[head.at + 1], "object-it")
  return !(object && subject === frame.items[head.at - 1] && isSomeone(subject))
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

/** "cut just the rye", "cut the crimson, leaving the white": a part of the bed, so nothing is settled. */
function partCut(
  frame: Frame,
  next: Frame | undefined,
  scene: Scene,
  targets: Targets,
): { bed: string; species: string[] } | Proposal | null {
  if (targets.species.length === 0) return null
  const only = frame.items.some(
    (item, at) =>
      item.senses.has("ways:only") && (at > frame.headAt || (isRightBefore(frame, at) && startsWith(item, "only"))),
  )
  const kept =
    frame.items.some((item) => item.senses.has("ways:kept")) ||
    (next !== undefined &&
      next.sentence === frame.sentence &&
      next.has("kept") &&
      [...next.named, ...next.left].some(({ item }) => item.species))
  const left = frame.left.some(({ item }) => item.species)
  if (!only && !kept && !left) return null
  const ids = targets.species.flat()
  const beds = targets.beds.length > 0 ? targets.beds : bedsWith(scene, ids)
  const cutting = openOfKind(scene, "cut").map((each) => each.bed)
  const bed =
    beds.length === 1
      ? beds[0]
      : beds.filter((each) => cutting.includes(each)).length === 1
        ? beds.find((each) => cutting.includes(each))
        : undefined
  if (bed === undefined) return ask("bed", beds.length > 0 ? beds : scene.context.beds.map((each) => each.id))
  const grown = scene.context.beds.find((each) => each.id === bed)?.species ?? []
  if (grown.length === 1) return null
  const species: string[] = []
  for (const each of targets.species) {
    const here = each.filter((id) => grown.includes(id))
    const meant = here.length === 1 ? here : chosen(grown, scene)
    if (meant.length !== 1) return ask("species", here.length > 1 ? here : grown)
    if (!species.includes(meant[0] as string)) species.push(meant[0] as string)
  }
  return { bed, species }
}

/** Those of several species that were the answer to our question. */
function chosen(ids: readonly string[], { assumed }: Scene): string[] {
  return assumed?.which === "species" ? ids.filter((id) => assumed.species?.includes(id)) : []
}

function isRightBefore(frame: Frame, at: number): boolean {
  return at === frame.headAt - 1
}

/** What was sown or planted is told by plants; where, by the bed, or by the one reminder to do it. */
function planting(
  frame: Frame,
  scene: Scene,
  targets: Targets,
  on: Day,
  index: number,
  said: "sow" | "plant",
): Proposal {
  const work = raised(targets, scene, said)
  const open = openOfKind(scene, work)
  const place: Targets = { ...targets, species: [], none: false }
  place.none =
    place.beds.length === 0 &&
    place.numbers.length === 0 &&
    !place.unknownBed &&
    place.unclear === null &&
    place.amount === null &&
    !place.dayOrBed
  if (place.none && work === "sow" && open.length > 1 && targets.species.length > 0) {
    const fits = open.filter((each) =>
      targets.species.every((ids) => scene.beds.get(each.bed)?.species.some((id) => ids.includes(id))),
    )
    if (fits.length === 1) [place.numbers, place.none] = [[fits[0]?.n as number], false]
  }
  if (
    place.none &&
    open.length === 0 &&
    scene.lastBeds?.sentence === frame.sentence &&
    scene.lastBeds.beds.length === 1
  )
    [place.beds, place.none] = [[...scene.lastBeds.beds], false]
  const aimed = aim(frame, scene, place, work, true)
  remember(scene, aimed.aims, on, index)
  if (work === "plant") {
    const crops = (bed: string): string[] =>
      ofBed(targets, bed).flatMap((pair) => (pair.crop === undefined ? [] : [pair.crop]))
    return { acts: workActs(aimed.aims, work, on, { crops }), ask: aimed.ask, note: false }
  }
  const unclear: string[] = []
  const species = (bed: string): string[] => {
    const sown = ofBed(targets, bed).map((pair) =>
      sownSpecies(pair.species ?? [], scene.beds.get(bed)?.species ?? [], scene),
    )
    if (sown.includes(null)) unclear.push(...ofBed(targets, bed).flatMap((pair) => pair.species ?? []))
    return [...new Set(sown.flatMap((id) => (id ? [id] : [])))]
  }
  const acts = workActs(aimed.aims, work, on, { species })
  return unclear.length > 0 ? ask("species", unclear) : { acts, ask: aimed.ask, note: false }
}

/** Covers are sown and crops planted, whichever word was said; what is both goes by the reminder and the word. */
function raised(targets: Targets, scene: Scene, said: "sow" | "plant"): "sow" | "plant" {
  if (targets.crops.length === 0 && targets.species.length > 0) return "sow"
  if (targets.crops.length === 0) return onlyToSow(targets, scene) ? "sow" : said
  if (targets.species.length < targets.crops.length) return "plant"
  const toSow = openOfKind(scene, "sow").filter((each) => targets.beds.length === 0 || targets.beds.includes(each.bed))
  const planned = toSow.some((each) =>
    targets.species.every((ids) => scene.beds.get(each.bed)?.species.some((id) => ids.includes(id))),
  )
  if (planned) return "sow"
  // What grows as a crop too is planted where that is what is open, also from seed.
  const toPlant = openOfKind(scene, "plant").some(
    (each) => targets.beds.length === 0 || targets.beds.includes(each.bed),
  )
  return toPlant && toSow.length === 0 ? "plant" : said
}

/** "planted it", where a cover is to be sown and nothing is to be planted. */
function onlyToSow(targets: Targets, scene: Scene): boolean {
  const here = scene.context.open.filter((each) => targets.beds.length === 0 || targets.beds.includes(each.bed))
  return here.some((each) => each.kind === "sow") && !here.some((each) => each.kind === "plant")
}

/** The plants of one bed: those paired with it, or all that were named without a bed of their own. */
function ofBed(targets: Targets, bed: string): Targets["pairs"] {
  const own = targets.pairs.filter((pair) => pair.bed === bed && pair.species !== null)
  return own.length > 0 ? own : targets.pairs.filter((pair) => pair.bed === null && pair.species !== null)
}

/** The one that is planned for the bed, else the usual one of that name; null where it must be asked. */
function sownSpecies(ids: readonly string[], grown: readonly string[], scene: Scene): string | null {
  if (ids.length === 1) return ids[0] as string
  const here = ids.filter((id) => grown.includes(id))
  if (here.length === 1) return here[0] as string
  const meant = chosen(ids, scene)
  if (meant.length === 1) return meant[0] as string
  const usual = scene.context.words.data.species.usual.filter((id) => ids.includes(id))
  return usual.length === 1 ? (usual[0] as string) : null
}

/** What became of the tops, told beside the cut or, turned in, by itself. */
export function tops(frames: readonly Frame[], index: number, scene: Scene): Proposal | null {
  const frame = frames[index] as Frame
  if (!frame.then || frame.work || frame.command) return null
  if (
    frame.before("not") ||
    frame.before("future") ||
    frame.before("must") ||
    frame.held ||
    frame.before("partly") ||
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

function topsOf(aims: readonly Aim[], then: Then, on: Day, scene: Scene): Proposal {
  const cut = aims.filter(({ n }) => n === null || scene.context.open.find((each) => each.n === n)?.kind === "cut")
  if (cut.length === 0) return A_NOTE
  return { acts: cut.map(({ bed }) => ({ act: "cut", bed, species: [], then, on })), ask: null, note: false }
}
