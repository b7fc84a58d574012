import type { ReminderKind } from "../../garden/entry.ts"
import type { Then } from "../../garden/garden.ts"
import type { Frame } from "../frames.ts"
import type { Item } from "../items.ts"
import { hasForeignObject, hasForeignSubject, moodOf } from "../mood.ts"
import { A_NOTE, type Aim, ask, NOTHING, openOfKind, type Proposal, type Scene } from "../scene.ts"
import { type Targets, targetsOf } from "../targets.ts"
import { saidDays, when } from "../when.ts"
import { aim, bedsWith, workActs } from "./settle-work.ts"

/** Reports of work: "done 1", "cut south yesterday", "watered", "sowed rye in back", "planted tomatoes". */
export function work(frames: readonly Frame[], index: number, scene: Scene): Proposal | null {
  const frame = frames[index] as Frame
  if (!frame.work || frame.command) return null
  const said = frame.work.work
  const mood = moodOf(frame)
  if (mood === "ahead") return null
  if (mood === "not" || isForeign(frame)) return A_NOTE
  const purpose = said === "plant" ? "plant" : "work"
  const targets = targetsOf(frame, scene, purpose)
  if (scene.story && targets.none) return A_NOTE
  if (said === "done" && targets.none && frame.kind === null && saysMore(frames, index)) return NOTHING
  const days = saidDays(frames, index, "both")
  const day = daysDiffer(frames, index) ? { unclear: true as const } : when(days, scene, "past", scene.context.now.day)
  if ("unclear" in day) return ask("day")
  const kind: ReminderKind | null = said === "done" ? frame.kind : said
  const plainWork = said === "done" ? kindWork(frame.kind) : said
  if (said === "sow") return sowing(frame, scene, targets, day.day, index)
  const part = said === "cut" ? partCut(frame, frames[index + 1], scene, targets) : null
  if (part) {
    if ("ask" in part) return part
    return { acts: [{ act: "cut", bed: part.bed, species: part.species, then: frame.then, on: day.day }], ask: null, note: false }
  }
  const aimed = aim(frame, scene, targets, kind, plainWork !== null)
  remember(scene, aimed.aims, day.day, index)
  const acts = workActs(aimed.aims, plainWork, day.day, { then: frame.then, crops: targets.crops })
  return { acts, ask: aimed.ask, note: false }
}

/** "Yes done, cut it yesterday": the other clause says what was done. */
function saysMore(frames: readonly Frame[], index: number): boolean {
  const { sentence } = frames[index] as Frame
  return [frames[index - 1], frames[index + 1]].some((each) => each?.sentence === sentence && each.work !== null && !each.command && moodOf(each) === "did" && (each.work.work !== "done" || each.named.length > 0))
}

function remember(scene: Scene, aims: readonly Aim[], on: NonNullable<Scene["lastWork"]>["on"], index: number): void {
  scene.lastWork = { aims, on, index }
  for (const { n } of aims) if (n !== null) scene.spoken.add(n)
}

function kindWork(kind: ReminderKind | null): "cut" | "water-in" | "sow" | "plant" | null {
  return kind === "cut" || kind === "water-in" || kind === "sow" || kind === "plant" ? kind : null
}

/** Work on things that are not of this garden's beds: the lawn, dinner, a friend's hair. */
function isForeign(frame: Frame): boolean {
  const own = (item: Item): boolean =>
    Boolean(item.species) || (frame.work?.work === "plant" && Boolean(item.crops)) || (frame.work?.work === "sow" && item.words[0]?.word.startsWith("seed") === true)
  const head = frame.heads.find((each) => each.work)
  if (!head) return false
  if (frame.work?.work !== "plant" && hasForeignObject(frame, own)) return true
  if (frame.work?.work === "plant" && hasForeignObject(frame, own) && !frame.named.some(({ item }) => item.crops || item.bed)) return true
  if (!hasForeignSubject(frame, head.at, own)) return false
  // "Mateo cut it": people do work; things are worked on ("the lawn is mowed", "dinner is done").
  const passive = ["is", "'s", "are", "was", "were", "been", "got", "get"].includes(frame.items[head.at - 1]?.words.at(-1)?.word ?? "")
  if (passive || frame.work?.work === "done") return !frame.named.some(({ at }) => at > head.at)
  const object = frame.items.slice(head.at + 1).some((item) => item.bed || item.species || item.numbers || item.crops || ["it", "them", "everything", "all", "that"].includes(item.words[0]?.word ?? ""))
  return !object && head.item.to - head.item.from === 1
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
  const only = frame.items.some((item, at) => item.senses.has("ways:only") && (at > frame.headAt || isRightBefore(frame, at) && item.words[0]?.word === "only"))
  const kept = frame.items.some((item) => item.senses.has("ways:kept")) || (next !== undefined && next.sentence === frame.sentence && next.has("kept") && next.named.some(({ item }) => item.species))
  const left = frame.left.some(({ item }) => item.species)
  if (!only && !kept && !left) return null
  const ids = targets.species.flat()
  const beds = targets.beds.length > 0 ? targets.beds : bedsWith(scene, ids)
  const cutting = openOfKind(scene, "cut").map((each) => each.bed)
  const bed = beds.length === 1 ? beds[0] : beds.filter((each) => cutting.includes(each)).length === 1 ? beds.find((each) => cutting.includes(each)) : undefined
  if (bed === undefined) return ask("bed", beds.length > 0 ? beds : scene.context.beds.map((each) => each.id))
  const grown = scene.context.beds.find((each) => each.id === bed)?.species ?? []
  if (grown.length === 1) return null
  const species: string[] = []
  for (const each of targets.species) {
    const here = each.filter((id) => grown.includes(id))
    if (here.length !== 1) return ask("species", here.length > 1 ? here : grown)
    if (!species.includes(here[0] as string)) species.push(here[0] as string)
  }
  return { bed, species }
}

function isRightBefore(frame: Frame, at: number): boolean {
  return at === frame.headAt - 1
}

/** What was sown is told by species; where, by the bed, or by the one reminder to sow. */
function sowing(frame: Frame, scene: Scene, targets: Targets, on: NonNullable<Scene["lastWork"]>["on"], index: number): Proposal {
  const named = targets.species
  const open = openOfKind(scene, "sow")
  const place: Targets = { ...targets, species: [], none: targets.beds.length === 0 && targets.numbers.length === 0 && !targets.unknownBed && targets.unclear === null && targets.amount === null && !targets.dayOrBed }
  if (place.none && open.length > 1 && named.length > 0) {
    const fits = open.filter((each) => named.every((ids) => scene.context.beds.find((bed) => bed.id === each.bed)?.species.some((id) => ids.includes(id))))
    if (fits.length === 1) [place.numbers, place.none] = [[fits[0]?.n as number], false]
  }
  if (place.none && open.length === 0 && scene.lastBeds?.sentence === frame.sentence && scene.lastBeds.beds.length === 1) [place.beds, place.none] = [[...scene.lastBeds.beds], false]
  const aimed = aim(frame, scene, place, "sow", true)
  remember(scene, aimed.aims, on, index)
  const grown = aimed.aims.length === 1 ? (scene.context.beds.find((bed) => bed.id === aimed.aims[0]?.bed)?.species ?? []) : []
  const species: string[] = []
  for (const ids of named) {
    const chosen = sownSpecies(ids, grown, scene)
    if (chosen === null) return ask("species", [...ids])
    if (!species.includes(chosen)) species.push(chosen)
  }
  return { acts: workActs(aimed.aims, "sow", on, { species }), ask: aimed.ask, note: false }
}

/** The one that is planned for the bed, else the usual one of that name; null where it must be asked. */
function sownSpecies(ids: readonly string[], grown: readonly string[], scene: Scene): string | null {
  if (ids.length === 1) return ids[0] as string
  const here = ids.filter((id) => grown.includes(id))
  if (here.length === 1) return here[0] as string
  const usual = scene.context.words.data.species.usual.filter((id) => ids.includes(id))
  return usual.length === 1 ? (usual[0] as string) : null
}

/** What became of the tops, told beside the cut or, turned in, by itself. */
export function tops(frames: readonly Frame[], index: number, scene: Scene): Proposal | null {
  const frame = frames[index] as Frame
  if (!frame.then || frame.work || frame.command) return null
  if (frame.before("not") || frame.before("future") || frame.before("must") || frame.held || frame.before("partly") || frame.has("maybe")) return A_NOTE
  const own = targetsOf(frame, scene, "work")
  const before = scene.lastWork
  if (before && own.beds.length === 0) return topsOf(before.aims, frame.then, before.on, scene)
  if (frame.then !== "turn-in" || hasForeignObject(frame, (item) => Boolean(item.species))) return A_NOTE
  const day = when(saidDays(frames, index, "both"), scene, "past", scene.context.now.day)
  if ("unclear" in day) return ask("day")
  if (scene.story && own.none) return A_NOTE
  const aimed = aim(frame, scene, own, "cut", true)
  remember(scene, aimed.aims, day.day, index)
  return { acts: workActs(aimed.aims, "cut", day.day, { then: frame.then }), ask: aimed.ask, note: false }
}

function topsOf(aims: readonly Aim[], then: Then, on: NonNullable<Scene["lastWork"]>["on"], scene: Scene): Proposal {
  const cut = aims.filter(({ n }) => n === null || scene.context.open.find((each) => each.n === n)?.kind === "cut")
  if (cut.length === 0) return A_NOTE
  return { acts: cut.map(({ bed }) => ({ act: "cut", bed, species: [], then, on })), ask: null, note: false }
}
