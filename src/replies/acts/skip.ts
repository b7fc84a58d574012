import { type Frame, kindOf } from "../frames.ts"
import type { Item } from "../item.ts"
import { hasForeignObject } from "../mood.ts"
import { hasWord, startsWith } from "../says.ts"
import { A_NOTE, type Proposal, type Scene } from "../scene.ts"
import { targetsOf } from "../targets.ts"
import { aim } from "./settle-work.ts"

/** "skip 3", "forget 2", "not doing it", "not planting the side bed this fall" */
export function skip(frames: readonly Frame[], index: number, scene: Scene): Proposal | null {
  const frame = frames[index] as Frame
  const refused = isRefused(frame)
  if (frame.command !== "skip" && !refused) return null
  if (frame.asked || frame.held || (!refused && isDenied(frame)) || frame.before("maybe") || frame.before("must"))
    return A_NOTE
  const { facts } = scene.context.words
  // "skip the boot one"
  const isKind = (item: Item): boolean =>
    facts.get(item.words.length === 1 ? (item.words[0]?.word ?? "") : "")?.kind !== undefined
  if (hasForeignObject(frame, (item) => Boolean(item.species) || isKind(item))) return A_NOTE
  const targets = targetsOf(frame, scene, "command")
  const head = frame.heads.find((each) => each.command === "skip")
  const weak = startsWith(head?.item, "weak-skip")
  const it = frame.items.some((item) => hasWord(item, "skip-it"))
  if (frame.days.length > 0) return A_NOTE
  if (targets.none && frame.kind === null && weak && !it) return A_NOTE
  if (scene.story) return A_NOTE
  const kind = frame.work && frame.work.work !== "done" ? kindOf(frame.work.work) : frame.kind
  return skipped(frame, scene, targets, kind)
}

export function skipped(
  frame: Frame,
  scene: Scene,
  targets: ReturnType<typeof targetsOf>,
  kind: Frame["kind"],
): Proposal {
  const aimed = aim(frame, scene, targets, kind, false)
  const n = aimed.aims.flatMap((each) => (each.n === null ? [] : [each.n])).sort((a, b) => a - b)
  for (const each of n) scene.spoken.add(each)
  return { acts: n.length > 0 ? [{ act: "skip", n }] : [], ask: aimed.ask, note: false }
}

/** "do not skip"; but "nah skip" */
function isDenied(frame: Frame): boolean {
  return frame.before("not") && !startsWith(frame.items[0], "answer-no")
}

/** "not planting the side bed this fall": refused for the season, not put off. */
function isRefused(frame: Frame): boolean {
  if (!frame.work || frame.command || !frame.before("not") || frame.has("yet")) return false
  const ahead = frame.work.forms.has("doing") || (frame.work.forms.has("do") && frame.before("future"))
  return ahead && frame.items.some((item) => hasWord(item, "for-good"))
}
