import type { Frame } from "./frames.ts"
import type { Item } from "./items.ts"

const AUXILIARIES = new Set([
  "did",
  "do",
  "does",
  "is",
  "are",
  "was",
  "were",
  "can",
  "could",
  "should",
  "shall",
  "will",
  "would",
  "has",
  "have",
  "had",
  "am",
  "may",
  "might",
])
const SUBJECTS = new Set([
  "i",
  "we",
  "you",
  "it",
  "they",
  "he",
  "she",
  "the",
  "this",
  "that",
  "my",
  "our",
  "there",
  "any",
  "anyone",
  "anybody",
  "someone",
  "somebody",
  "your",
  "these",
  "those",
])
/** "did it", "have the bed mowed" report; "did i" asks. */
const ASKS_ONLY_OF = new Map([
  ["did", new Set(["i", "we", "you", "he", "she", "they", "anyone", "anybody", "someone", "somebody"])],
  ["do", new Set(["i", "we", "you", "they"])],
  ["have", new Set(["i", "we", "you", "they", "any"])],
  ["had", new Set(["i", "we", "you", "they"])],
])

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
      for (let j = i; j < to; j += 1) asking.add(j)
      return
    }
  }
  if (asked) for (let j = from; j < to; j += 1) asking.add(j)
}

function startsQuestion(frame: Frame, asked: boolean): boolean {
  const first = frame.items.findIndex((item) => !isOpening(item))
  const item = frame.items[first]
  if (!item) return false
  const words = frame.items.slice(first).flatMap((each) => each.words.map((word) => word.word))
  if (isAuxiliary(words, frame.items[first + 1])) return true
  const tells = [...item.senses].filter((sense) => sense.startsWith("tell:"))
  if (tells.length === 0) return false
  if (asked) return true
  const single = item.to - item.from === 1
  if (
    single &&
    [
      "when",
      "reason",
      "explain",
      "list",
      "plan",
      "report",
      "update",
      "history",
      "log",
      "next",
      "status",
      "summary",
      "overview",
    ].includes(words[0] ?? "")
  )
    return words[0] === "when"
      ? AUXILIARIES.has(words[1] ?? "")
      : frame.stray.length === 0 && frame.stage === null && frame.work === null
  return true
}

export function isOpening(item: Item): boolean {
  return (
    (item.senses.has("courtesy") && ![...item.senses].some((sense) => sense.startsWith("tell:"))) ||
    item.senses.has("picture:courtesy") ||
    item.senses.has("name") ||
    (item.senses.size === 1 &&
      item.senses.has("light") &&
      ["so", "and", "also", "but", "then", "now", "or"].includes(item.words[0]?.word ?? ""))
  )
}

function isAuxiliary(words: readonly string[], second: Item | undefined): boolean {
  const [aux, subject] = words
  if (!aux || !AUXILIARIES.has(aux)) return false
  const only = ASKS_ONLY_OF.get(aux)
  if (only) return only.has(subject ?? "")
  return SUBJECTS.has(subject ?? "") || Boolean(second?.bed ?? second?.species)
}

/** "can you snooze 2": a request in the form of a question. */
export function isRequest(frame: Frame): boolean {
  const words = frame.items.flatMap((item) => item.words.map((word) => word.word)).filter((word) => word !== "please")
  const at = words.findIndex(
    (word, index) => ["can", "could", "would", "will"].includes(word) && words[index + 1] === "you",
  )
  return at >= 0 && at <= 2
}
