import type { Frame } from "../frames.ts"
import type { Scene } from "../scene.ts"
import { type Purpose, type Targets, targetsOf } from "../targets.ts"

/** What a clause without names of its own is of: what the clause before it named ("haven't cut south, doing it sunday"). */
export function ownTargets(frames: readonly Frame[], index: number, scene: Scene, purpose: Purpose): Targets {
  const own = targetsOf(frames[index] as Frame, scene, purpose)
  const before = frames[index - 1]
  if (!own.none || !before) return own
  if (before.sentence !== frames[index]?.sentence && before.stage !== null) return own
  const earlier = targetsOf(before, scene, purpose)
  if (!earlier.none) return earlier
  if (before.kind === null) return own
  const open = scene.context.open.filter((each) => each.kind === before.kind)
  return open.length === 1 ? { ...own, numbers: [open[0]?.n as number], none: false } : own
}
