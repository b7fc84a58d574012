import type { Tag } from "./facts.ts"
import type { Frame } from "./frames.ts"
import type { Item } from "./item.ts"
import { isPolite, isTagged, startsWith } from "./says.ts"
import type { Word } from "./words.ts"

/**
 * The place of the first frame of each sentence that asks, with everything behind it. A question is never an act; what
 * comes before it in the same sentence still counts ("done 1, what's next?").
 */
export function questionFrames(frames: readonly Frame[]): ReadonlySet<number> {
  const asking = new Set<number>()
  for (let from = 0; from < frames.length; ) {
    const sentence = (frames[from] as Frame).sentence
    let to = from
    while (to < frames.length && (frames[to] as Frame).sentence === sentence) to += 1
    markSentence(frames, from, to, asking)
    from = to
  }
  return asking
}

function markSentence(frames: readonly Frame[], from: number, to: number, asking: Set<number>): void {
  const last = frames[to - 1] as Frame
  const { asked } = last
  for (let i = from; i < to; i += 1) {
    if (startsQuestion(frames[i] as Frame, asked)) {
      // "bloom when?": the word that asks stands behind.
      const behind = asked && (frames[i] as Frame).opener === "when" && (frames[i] as Frame).items.length <= 2
      for (let j = behind ? from : i; j < to; j += 1) asking.add(j)
      return
    }
  }
  // "Hi, how is north?"
  const begins = frames.findIndex((frame, j) => j >= from && j < to && !frame.items.every(isOpening))
  if (asked) for (let j = begins < 0 ? from : begins; j < to; j += 1) asking.add(j)
}

function startsQuestion(frame: Frame, asked: boolean): boolean {
  const first = frame.items.findIndex((item) => !isOpening(item))
  const item = frame.items[first]
  if (!item) return false
  const words = frame.items.slice(first).flatMap((each) => each.words)
  if (isAuxiliary(words, frame.items[first + 1]) || isDidSomebody(frame, first)) return true
  const tells = [...item.senses].filter((sense) => sense.startsWith("tell:"))
  if (tells.length === 0) return false
  if (asked) return true
  const single = item.to - item.from === 1
  // "when east"
  const said = frame.items.filter((each) => !isPolite(each))
  const bare = frame.heads.length === 0 && frame.stray.length === 0 && said.length === 2
  if (single && isTagged(words[0], "when"))
    return isTagged(words[1], "auxiliary") || (bare && frame.named.some(({ at: place }) => place > first))
  if (single && isTagged(words[0], "tell-word"))
    return frame.stray.length === 0 && frame.stage === null && frame.work === null
  return true
}

/** "did the crew cut south": somebody stands between "did" and what they may have done. */
function isDidSomebody(frame: Frame, first: number): boolean {
  if (!isTagged(frame.items[first]?.words[0], "did")) return false
  // "did south get cut"
  const get = frame.items.findIndex((item) => startsWith(item, "get-word"))
  const whole = (frame.items[get]?.words.length ?? 0) > 1
  if (get > first && (whole || frame.heads.some((each) => each.at > get))) return true
  const head = frame.heads.find((each) => each.work && each.work.work !== "done" && each.work.forms.has("do"))
  if (!head) return false
  return frame.items.slice(first + 1, head.at).some((item) => item.senses.has("person") || item.senses.has("content"))
}

export function isOpening(item: Item): boolean {
  return (
    (item.senses.has("courtesy") && ![...item.senses].some((sense) => sense.startsWith("tell:"))) ||
    item.senses.has("picture:courtesy") ||
    item.senses.has("name") ||
    (item.senses.size === 1 && item.senses.has("light") && startsWith(item, "opener"))
  )
}

/** "is south up"; but "did it", "have the bed mowed" report where "did i", "have i" ask. */
function isAuxiliary(words: readonly Word[], second: Item | undefined): boolean {
  const [auxiliary, subject] = words
  if (!isTagged(auxiliary, "auxiliary")) return false
  for (const [own, asked] of ASK_ONLY_OF) if (isTagged(auxiliary, own)) return isTagged(subject, asked)
  return isTagged(subject, "subject") || Boolean(second?.bed ?? second?.species ?? second?.numbers)
}

/** Which subjects make a question of a verb that reports with any other. */
const ASK_ONLY_OF: readonly (readonly [Tag, Tag])[] = [
  ["did", "asked-person"],
  ["own-have", "asked-many"],
  ["own-auxiliary", "asked-you"],
]

/** "can you snooze 2": a request in the form of a question. */
export function isRequest(frame: Frame): boolean {
  const words = frame.items.flatMap((item) => item.words).filter((word) => !isTagged(word, "please"))
  const at = words.findIndex((word, index) => isTagged(word, "request") && isTagged(words[index + 1], "you"))
  return at >= 0 && at <= 2
}
