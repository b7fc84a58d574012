import type { Frame } from "../frames.ts"
import type { Item } from "../item.ts"
import { hasWord, isPolite, onlyWords, startsWith } from "../says.ts"
import { A_NOTE, ask, type Proposal, type Scene } from "../scene.ts"
import { targetsOf } from "../targets.ts"
import { when } from "../when.ts"

/** Words that only count where nothing else is said: help, start, undo, resume, pause, join. */
export function control(frames: readonly Frame[], index: number, scene: Scene): Proposal | null {
  const frame = frames[index] as Frame
  const end = quietEnd(frames, index)
  if (end) return pause({ ...frame, days: end }, scene)
  if (frame.items.some((item) => item.senses.has("commands:pause"))) return pause(frame, scene)
  const head = frame.heads.find((each) => each.command && each.command !== "snooze" && each.command !== "skip")
  if (!head) return null
  const senses = head.item.senses
  if (senses.has("commands:join")) return join(frame, head.item, scene)
  if (frame.before("not") || frame.held) return A_NOTE
  const alone = isAlone(frame, head.item)
  if (senses.has("commands:undo") && (alone || isOfText(frame)))
    return { acts: [{ act: "undo" }], ask: null, note: false }
  if (!alone) return null
  if (senses.has("commands:help")) return { acts: [{ act: "help" }], ask: null, note: false }
  if (senses.has("commands:start")) return { acts: [{ act: "start" }], ask: null, note: false }
  if (senses.has("commands:resume")) return { acts: [{ act: "resume" }], ask: null, note: false }
  return null
}

/** Is there nothing beside the command but courtesy and words that go with it? */
function isAlone(frame: Frame, head: Item): boolean {
  if (frame.named.length > 0 || frame.days.length > 0) return false
  const plain = head.to - head.from === 1
  return frame.items.every((item) => {
    if (
      item === head ||
      item.mark !== undefined ||
      item.senses.has("courtesy") ||
      item.senses.has("name") ||
      item.senses.has("ways:mend")
    )
      return true
    if (item.senses.has("picture:courtesy") || item.senses.has("tail") || item.senses.has("commands:undo")) return true
    return onlyWords(item, "control-beside") && !(plain && hasWord(item, "control-not"))
  })
}

function isOfText(frame: Frame): boolean {
  return (
    frame.stray.length === 0 &&
    frame.work === null &&
    frame.stage === null &&
    frame.items.some((item) => hasWord(item, "undo-of"))
  )
}

/** "no texts till the 25th": a refusal with an end is a pause. */
export function quietEnd(frames: readonly Frame[], index: number): Frame["days"] | null {
  const frame = frames[index] as Frame
  const said = frame.items.filter((item) => !isPolite(item))
  // "stop until june"
  const only =
    said.some((item) => item.senses.has("stop:words")) &&
    said.every((item) => item.senses.has("stop:words") || item.day)
  if (!only && !frame.items.some((item) => item.senses.has("stop:refuse"))) return null
  const near = frames.filter((each) => each.sentence === frame.sentence)
  const days = (frame.days.length > 0 ? [frame] : near).flatMap((each) => each.days)
  const ends = days.filter(({ lead, day }) => lead === "end" || day.said === "span" || day.said === "months")
  return ends.length > 0 ? ends : null
}

function pause(frame: Frame, scene: Scene): Proposal | null {
  if (frame.before("not") || frame.asked || frame.held) return A_NOTE
  const targets = targetsOf(frame, scene, "command")
  if ((!targets.none && targets.amount === null) || frame.kind !== null) return ask("what")
  if (frame.stray.length > 0 && frame.days.length === 0) return A_NOTE
  const said = frame.days.at(-1)
  if (!said) return { acts: [{ act: "pause", until: null }], ask: null, note: false }
  const until = when([said.day], scene, "future", scene.context.now.day)
  if ("unclear" in until) return ask("day")
  return { acts: [{ act: "pause", until: until.day }], ask: null, note: false }
}

function join(frame: Frame, head: Item, scene: Scene): Proposal | null {
  const rest = frame.items.filter((item) => item !== head && item.mark === undefined && !item.senses.has("courtesy"))
  if (
    frame.items[0] !== head &&
    !frame.items
      .slice(0, frame.items.indexOf(head))
      .every((item) => item.senses.has("courtesy") || item.senses.has("light"))
  )
    return null
  if (rest.length === 0) return { acts: [{ act: "join", word: null }], ask: null, note: false }
  if (rest.length > 2 || rest.some((item) => item.senses.has("trap"))) return null
  const words = rest.flatMap((item) => item.words)
  const first = words[0]
  const last = words.at(-1)
  if (!first || !last || head.words.length > 1 || !startsWith(head, "join"))
    return head.words.length > 1 && rest.every((item) => item.senses.has("light"))
      ? { acts: [{ act: "join", word: null }], ask: null, note: false }
      : null
  return { acts: [{ act: "join", word: scene.text.slice(first.from, last.to) }], ask: null, note: false }
}
