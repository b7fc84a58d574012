import type { Frame } from "../frames.ts"
import { hasWord } from "../says.ts"
import { A_NOTE, openOfKind, type Proposal, type Scene } from "../scene.ts"
import { targetsOf } from "../targets.ts"
import { place } from "./observe.ts"
import { bedsWith } from "./settle-work.ts"

/** "oats dead, peas alive": plain words that answer whether the frost killed it, where that is open for the bed. */
export function fate(frames: readonly Frame[], index: number, scene: Scene): Proposal | null {
  const frame = frames[index] as Frame
  if (frame.work || frame.command || frame.then || (frame.stage !== null && frame.stage !== "no-regrowth")) return null
  const dead = frame.items.some((item) => hasWord(item, "dead"))
  if (!dead && !frame.items.some((item) => hasWord(item, "alive"))) return null
  if (frame.stray.length > 0 || frame.asked) return null
  const targets = targetsOf(frame, scene, "state")
  const asked = openOfKind(scene, "frost").map((each) => each.bed)
  const named = targets.beds.length > 0 ? targets.beds : targets.species.flatMap((ids) => bedsWith(scene, ids))
  const beds = new Set(named.length > 0 || !targets.none ? named : asked)
  const [bed] = beds
  if (bed === undefined || beds.size !== 1 || !asked.includes(bed)) return null
  if (openOfKind(scene, "check-regrowth").some((each) => each.bed === bed)) return null
  if (["nearly", "partly", "maybe", "future", "must", "told"].some((way) => frame.has(way)) || frame.held) return A_NOTE
  if (frame.has("not")) return dead ? place(frames, index, scene, "survived-frost") : A_NOTE
  return place(frames, index, scene, dead ? "frost-killed" : "survived-frost")
}
