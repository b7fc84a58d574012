import { addDays } from "../../values/day.ts"
import type { Frame } from "../frames.ts"
import { kindOf } from "../frames.ts"
import type { Item } from "../item.ts"
import { hasForeignObject, moodOf } from "../mood.ts"
import { isPolite, isWay, onlyWords, startsWith } from "../says.ts"
import { A_NOTE, ask, openOfKind, type Proposal, type Scene } from "../scene.ts"
import { type Targets, targetsOf } from "../targets.ts"
import { saidDays, when } from "../when.ts"
import { ownTargets } from "./carry.ts"
import { aim } from "./settle-work.ts"

/** "snooze 2 to friday", "remind me tomorrow", "not now" */
export function snooze(frames: readonly Frame[], index: number, scene: Scene): Proposal | null {
  const frame = frames[index] as Frame
  if (frame.command !== "snooze") return null
  if (frame.held && frame.days.length === 0) return A_NOTE
  const head = frame.heads.find((each) => each.command === "snooze")
  if (frame.before("not")) return A_NOTE
  const strong = startsWith(head?.item, "strong-snooze")
  const days = saidDays(frames, index, "before")
  const targets = targetsOf(frame, scene, "command")
  if (
    !strong &&
    days === null &&
    !frame.items.every(
      (item) =>
        item === head?.item ||
        item.mark !== undefined ||
        item.senses.has("courtesy") ||
        item.senses.has("tail") ||
        onlyWords(item, "snooze-beside"),
    )
  )
    return A_NOTE
  if (!strong && frame.stray.length > 1) return A_NOTE
  if (frame.stray.length > 0 && hasForeignObject(frame, (item) => Boolean(item.species)) && days === null) return A_NOTE
  return putOff(frame, scene, targets, days === null && endsUnread(frames, index) ? [{ said: "vague" }] : days)
}

/** "until the ground dries", "when it rains": an end was said that is no day. */
function endsUnread(frames: readonly Frame[], index: number): boolean {
  const { sentence } = frames[index] as Frame
  const behind: Item[] = []
  for (let i = index + 1; frames[i]?.sentence === sentence && frames[i]?.opener === "when"; i += 1)
    behind.push(...(frames[i] as Frame).items)
  if (behind.some((item) => item.day ?? item.time)) return false
  return behind.some((item) => !isPolite(item) && !onlyWords(item, "soon") && !isWay(item, "when"))
}

/** "I'll do it saturday", "sowing tomorrow": a promise with a day is a snooze to it. */
export function promise(frames: readonly Frame[], index: number, scene: Scene): Proposal | null {
  const frame = frames[index] as Frame
  if (frame.command) return null
  if (isNotUntil(frame))
    return putOff(
      { ...frame, kind: (frame.work ? kindOf(frame.work.work) : null) ?? frame.kind },
      scene,
      ownTargets(frames, index, scene, "work"),
      saidDays(frames, index, "before"),
      true,
    )
  if (!frame.work || moodOf(frame) !== "ahead") return null
  if (frame.before("not") || frame.has("maybe")) return A_NOTE
  const days = saidDays(frames, index, "both")
  if (days === null)
    return frame.work.work === "done" && frame.stray.length === 0 && frame.before("future")
      ? { acts: [], ask: null, note: frame.items.length > 3 }
      : A_NOTE
  const { work } = frame.work
  const kind = kindOf(work) ?? frame.kind
  if (hasForeignObject(frame, (item) => Boolean(item.species) || Boolean(item.crops))) return A_NOTE
  const own = targetsOf(frame, scene, "work")
  const targets = own.none ? ownTargets(frames, index, scene, "work") : own
  const open = kind === null ? scene.context.open : openOfKind(scene, kind)
  if (open.length === 0) return null
  if (own.none && targets.none && open.length > 1 && kind !== null)
    return putOff({ ...frame, kind }, scene, targets, days)
  const until = when(days, scene, "future", scene.context.now.day)
  if ("unclear" in until) return ask("day")
  if (until.day <= scene.context.now.day) return A_NOTE
  return putOff({ ...frame, kind }, scene, targets, days, kind !== null)
}

/** "won't get to coop till sunday" */
function isNotUntil(frame: Frame): boolean {
  // "didn't cut it until sunday" tells of what is past.
  const past = frame.items.some(
    (item) => item.senses.has("ways:not") && (startsWith(item, "did") || startsWith(item, "perfect")),
  )
  const comes = frame.heads.length === 0 && frame.has("future") && frame.named.length > 0
  const ahead = !past && (comes || frame.work?.forms.has("do") || frame.work?.forms.has("doing"))
  const ends = frame.days.length === 1 && frame.days[0]?.lead === "end"
  return (
    ahead === true &&
    ends &&
    frame.before("not") &&
    !frame.asked &&
    !frame.held &&
    frame.stray.length === 0 &&
    !frame.has("maybe")
  )
}

/** "too windy for mowing, sunday instead": a day to come behind work that was not done is when it will be. */
export function instead(frames: readonly Frame[], index: number, scene: Scene): Proposal | null {
  const frame = frames[index] as Frame
  const before = frames[index - 1]
  if (!before?.work || before.command || before.asked || before.sentence !== frame.sentence) return null
  if (frame.heads.length > 0 || frame.named.length > 0 || frame.stray.length > 0 || frame.days.length !== 1) return null
  if (moodOf(before) === "did" || frame.asked || frame.held) return null
  if (hasForeignObject(before, (item) => Boolean(item.species) || Boolean(item.crops))) return null
  if (["not", "maybe", "nearly", "partly", "rest"].some((way) => frame.has(way))) return A_NOTE
  const days = saidDays(frames, index, "before")
  const until = when(days, scene, "future", scene.context.now.day)
  if ("unclear" in until || until.day <= scene.context.now.day) return null
  const kind = kindOf(before.work.work) ?? before.kind
  return putOff({ ...frame, kind }, scene, ownTargets(frames, index, scene, "work"), days, true)
}

function putOff(
  frame: Frame,
  scene: Scene,
  targets: Targets,
  days: ReturnType<typeof saidDays>,
  quiet = false,
): Proposal {
  const until = when(days, scene, "future", addDays(scene.context.now.day, 1))
  if ("unclear" in until) return ask("day")
  const aimed = aim(frame, scene, targets, frame.kind, false)
  const n = aimed.aims.flatMap((each) => (each.n === null ? [] : [each.n])).sort((a, b) => a - b)
  for (const each of n) scene.spoken.add(each)
  if (n.length === 0 && quiet && aimed.ask?.which === "what") return A_NOTE
  return { acts: n.length > 0 ? [{ act: "snooze", n, until: until.day }] : [], ask: aimed.ask, note: false }
}
