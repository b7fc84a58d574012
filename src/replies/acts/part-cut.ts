import type { Frame } from "../frames.ts"
import { startsWith } from "../says.ts"
import { ask, openOfKind, type Proposal, type Scene } from "../scene.ts"
import type { Targets } from "../targets.ts"
import { bedsWith } from "./settle-work.ts"

/** "cut just the rye", "cut the crimson, leaving the white": a part of the bed, so nothing is settled. */
export function partCut(
  frame: Frame,
  next: Frame | undefined,
  scene: Scene,
  targets: Targets,
): { bed: string; species: string[] } | Proposal | null {
  if (targets.species.length === 0) return null
  const only =
    isOfOnly(frame) ||
    frame.items.some(
      (item, at) =>
        item.senses.has("ways:only") && (at > frame.headAt || (isRightBefore(frame, at) && startsWith(item, "only"))),
    )
  const other =
    next !== undefined &&
    next.sentence === frame.sentence &&
    next.work === null &&
    next.has("not") &&
    next.named.length > 0 &&
    next.named.every(({ item }) => item.species && !item.bed)
  const kept =
    other ||
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

/** "just the clover cut in east": of the plant alone. */
function isOfOnly(frame: Frame): boolean {
  return frame.named.some(({ item, at }) => {
    const before = startsWith(frame.items[at - 1], "article") ? at - 2 : at - 1
    return item.species !== undefined && at < frame.headAt && frame.items[before]?.senses.has("ways:only") === true
  })
}

/** Those of several species that were the answer to our question. */
export function chosen(ids: readonly string[], { assumed }: Scene): string[] {
  return assumed?.which === "species" ? ids.filter((id) => assumed.species?.includes(id)) : []
}

function isRightBefore(frame: Frame, at: number): boolean {
  return at === frame.headAt - 1
}
