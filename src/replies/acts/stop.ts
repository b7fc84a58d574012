import { type Frame, kindOf } from "../frames.ts"
import type { Item } from "../item.ts"
import { endsWith, hasWord, onlyWords, startsWith } from "../says.ts"
import { ask, NOTHING, numbersOf, type Proposal, type Scene } from "../scene.ts"
import { targetsOf } from "../targets.ts"
import { quietEnd } from "./control.ts"
import { skipped } from "./skip.ts"

export const STOP: Proposal = { acts: [{ act: "stop" }], ask: null, note: false }

/** Is the whole text a stop word, with nothing but courtesy around it? Then it always stops. */
export function isStopAlone(items: readonly Item[]): boolean {
  const said = items.filter((item, at) => !isPolite(item) && !signs(items, at))
  if (said.length === 0 || !said.some((item) => item.senses.has("stop:words") || item.senses.has("picture:stop")))
    return false
  return said.every(
    (item) =>
      item.senses.has("stop:words") ||
      item.senses.has("picture:stop") ||
      item.senses.has("ways:all") ||
      item.senses.has("day") ||
      isNow(item),
  )
}

/** "stop thanks Ines": one word behind courtesy at the end is who says so. */
function signs(items: readonly Item[], at: number): boolean {
  if (isSignature(items, at)) return true
  const before = items[at - 1]
  const item = items[at] as Item
  if (item.senses.has("stop:words")) return false
  const name = item.senses.has("content") || item.senses.has("person") || item.words.every((word) => word.repaired)
  return at === items.length - 1 && name && before?.senses.has("courtesy") === true
}

/** Most words that a name has on a line of its own. */
const MOST_NAME_WORDS = 3

/** "cancel", and "Ines" on the last line. */
function isSignature(items: readonly Item[], at: number): boolean {
  const line = items.findLastIndex((item) => item.mark === "\n" || item.mark === "-")
  if (line < 0 || at <= line) return false
  const name = items.slice(line + 1)
  if (name.length > MOST_NAME_WORDS || !items.slice(0, line).some((item) => item.senses.has("stop:words"))) return false
  return name.every(
    (item) => item.senses.has("content") || item.senses.has("person") || item.words.every((word) => word.repaired),
  )
}

function isNow(item: Item): boolean {
  return onlyWords(item, "stop-now")
}

function isPolite(item: Item): boolean {
  return (
    item.mark !== undefined ||
    item.senses.has("courtesy") ||
    item.senses.has("picture:courtesy") ||
    item.senses.has("picture") ||
    item.senses.has("name") ||
    item.senses.has("picture:no")
  )
}

/** Sentences with a stop word: an end to all texts, to one reminder, or to something else. */
export function stop(frames: readonly Frame[], index: number, scene: Scene): Proposal | null {
  const frame = frames[index] as Frame
  const refusing = frame.items.findIndex((item) => item.senses.has("stop:refuse"))
  const soft = frame.items.findIndex((item) => item.senses.has("stop:soft"))
  const word = frame.items.findIndex((item) => item.senses.has("stop:words") && !item.senses.has("stop:not"))
  const at = refusing >= 0 ? refusing : soft >= 0 ? soft : word
  if (isPlainStop(frame, word)) return STOP
  if (at < 0 || isKept(frame, at) || quietEnd(frames, index)) return null
  const rest = frame.items.slice(at + 1)
  const targets = targetsOf(frame, scene, "command")
  const kind = frame.work && frame.work.work !== "done" ? kindOf(frame.work.work) : frame.kind
  const behind = rest.some((item) => item.senses.has("content") || item.senses.has("trap"))
  const one = rest.some((item) => hasWord(item, "stop-one")) && soft >= 0
  const named =
    targets.beds.length + targets.species.length + targets.numbers.length > 0 ||
    targets.unknownBed ||
    targets.unclear !== null
  const specific = named || kind !== null || one
  if (refusing >= 0 || soft >= 0) {
    if (named || kind !== null || (soft >= 0 && one)) return ofOne(frame, scene, { ...targets, amount: null }, kind)
    if (refusing >= 0 && isOfElse(frame.items[at] as Item, rest)) return null
    if (refusing >= 0) return isTimed(rest) ? ask("what") : STOP
    if (scene.spoken.size > 0 && targets.none) return NOTHING
    return behind ? null : ask("what")
  }
  // "stop 2", "can you just stop the kitchen ones", "cancel the watering"; a stop word before anything else is about that ("stop the slugs").
  if (!startsWith(frame.items[at], "stop-order")) return null
  const leads = frame.items.slice(0, at).every((item) => item.senses.has("courtesy") || onlyWords(item, "stop-lead"))
  if (!leads) return null
  if (
    !specific ||
    frame.heads.length > (kind ? 1 : 0) + 1 ||
    behind ||
    frame.items.slice(0, at).some((item) => item.senses.has("content"))
  )
    return null
  return ofOne(frame, scene, targets, kind)
}

/** A clause that is only a stop word ("Stop! I don't garden any more"), or ends in a plea ("wrong number, please stop"). */
function isPlainStop(frame: Frame, word: number): boolean {
  const item = frame.items[word]
  if (!item || !startsWith(item, "plain-stop")) return false
  if (isStopAlone(frame.items)) return true
  const behind = frame.items.slice(word + 1).every((each) => isPolite(each) || isNow(each))
  const before = frame.items[word - 1]
  const pleads = endsWith(before, "please") || startsWith(before, "please") || endsWith(before, "you")
  return behind && pleads && frame.named.length === 0 && !frame.before("not")
}

/** "I want out of this heat", "unsubscribed from a magazine": what is refused is something else. */
function isOfElse(item: Item, rest: readonly Item[]): boolean {
  if (hasWord(item, "texts") || hasWord(item, "number-word")) return false
  if (rest.some((each) => each.senses.has("tail") && hasWord(each, "texts"))) return false
  for (const each of rest) {
    if (each.mark !== undefined || each.senses.has("courtesy")) return false
    if (hasWord(each, "texts") || hasWord(each, "lists") || hasWord(each, "number-word")) return false
    if (each.senses.has("content") || each.senses.has("trap") || each.senses.has("measure") || each.crops) return true
  }
  return false
}

/** About one bed, species or kind: skipped where one open reminder fits, else asked. */
function ofOne(frame: Frame, scene: Scene, targets: ReturnType<typeof targetsOf>, kind: Frame["kind"]): Proposal {
  // "stop 2 until friday" is no end of it.
  if (frame.days.some(({ lead }) => lead === "end")) return ask("what")
  const found = skipped({ ...frame, kind }, scene, targets, kind)
  if (found.acts.length > 0 && !found.ask) return found
  return ask("what", found.ask?.which === "reminder" ? numbersOf(scene.context.open) : [])
}

/** "please don't stop texting", "they don't text": the refusal is taken back by a word before it, or is no order. */
function isKept(frame: Frame, at: number): boolean {
  if (startsWith(frame.items[at], "order") && endsWith(frame.items[at - 1], "order-subject")) return true
  return frame.items.slice(0, at).some((item) => item.senses.has("ways:not") && !item.senses.has("stop:refuse"))
}

/** "don't text me before 9", "so early": an hour is refused, not the texts. */
function isTimed(rest: readonly Item[]): boolean {
  return rest.some(
    (item) =>
      item.time || (item.day && item.day.lead !== null) || (hasWord(item, "timed") && !item.senses.has("courtesy")),
  )
}
