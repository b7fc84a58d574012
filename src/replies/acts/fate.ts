import type { Stage } from "../../garden/acts.ts"
import type { Frame } from "../frames.ts"
import { hasWord } from "../says.ts"
import { A_NOTE, openOfKind, type Proposal, type Scene } from "../scene.ts"
import { targetsOf } from "../targets.ts"
import { place } from "./observe.ts"
import { bedsWith } from "./settle-work.ts"

/** Stages that plain words of death are read as where nobody asked about frost. */
const PLAIN: readonly Stage[] = ["no-regrowth", "broken-down"]

/** "oats dead, peas alive": plain words that answer whether the frost killed it, where that is open for the bed. */
export function fate(frames: readonly Frame[], index: number, scene: Scene): Proposal | null {
  const frame = frames[index] as Frame
  if (frame.work || frame.command || frame.then || (frame.stage !== null && !PLAIN.includes(frame.stage))) return null
  const dead = frame.items.some((item) => hasWord(item, "dead"))
  if (!dead && !frame.items.some((item) => hasWord(item, "alive"))) return null
  if (frame.stray.some((item) => !hasWord(item, "dead") && !hasWord(item, "alive")) || frame.asked) return null
  const targets = targetsOf(frame, scene, "state")
  const asked = openOfKind(scene, "frost").map((each) => each.bed)
  const numbered = scene.context.open.filter((each) => targets.numbers.includes(each.n)).map((each) => each.bed)
  const told = targets.beds.length > 0 ? targets.beds : numbered
  const named = told.length > 0 ? told : targets.species.flatMap((ids) => bedsWith(scene, ids))
  const beds = new Set(named.length > 0 || !targets.none ? named : asked)
  const [bed] = beds
  if (bed === undefined || beds.size !== 1 || !asked.includes(bed)) return null
  if (openOfKind(scene, "check-regrowth").some((each) => each.bed === bed)) return null
  if (["nearly", "partly", "maybe", "future", "must", "told"].some((way) => frame.has(way)) || frame.held) return A_NOTE
  if (frame.has("not")) return dead ? place(frames, index, scene, "survived-frost") : A_NOTE
  return place(frames, index, scene, dead ? "frost-killed" : "survived-frost")
}
