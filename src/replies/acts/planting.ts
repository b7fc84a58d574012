import type { Day } from "../../values/day.ts"
import type { Frame } from "../frames.ts"
import { ask, openOfKind, type Proposal, type Scene } from "../scene.ts"
import type { Targets } from "../targets.ts"
import { chosen } from "./part-cut.ts"
import { aim, remember, workActs } from "./settle-work.ts"

/** What was sown or planted is told by plants; where, by the bed, or by the one reminder to do it. */
export function planting(
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
