import type { Frame } from "./frames.ts"
import type { Item } from "./items.ts"

/** How a clause means its work: it happened, it is promised, or neither. */
export type Mood = "did" | "ahead" | "not"

const ASSERTS = new Set(["did", "managed", "finally"])

/** Did the work of this clause happen? Anything that is not plainly so is not. */
export function moodOf(frame: Frame): Mood {
  const { work } = frame
  if (!work) return "not"
  if (frame.has("maybe")) return "not"
  if (frame.before("not") || (frame.has("not") && (frame.has("yet") || frame.left.length === 0))) return "not"
  if (frame.before("nearly") || frame.before("partly")) return "not"
  const ahead = frame.before("future") || frame.before("must") || frame.has("promise")
  if (ahead || frame.held) return ahead || frame.days.length > 0 ? "ahead" : "not"
  if (work.forms.has("did")) return isInfinitive(frame) ? "ahead" : isPartOnly(frame) ? "not" : "did"
  if (work.forms.has("noun") && isDoneBeside(frame)) return "did"
  if (work.forms.has("do") && isAsserted(frame)) return "did"
  return "ahead"
}

/** "to cut", "please cut": the form of what is still to be done. */
function isInfinitive(frame: Frame): boolean {
  const before = lastWord(frame.items[frame.headAt - 1])
  if (!frame.work?.forms.has("do")) return false
  return before === "to" || before === "do" || before === "please"
}

function isAsserted(frame: Frame): boolean {
  const before = lastWord(frame.items[frame.headAt - 1])
  if (ASSERTS.has(before)) return true
  return before === "to" && frame.items.slice(0, frame.headAt).some((item) => item.words.some((word) => word.word === "managed"))
}

function isDoneBeside(frame: Frame): boolean {
  return frame.heads.some((head) => head.work?.work === "done" && head.work.forms.has("did"))
}

/** "cut half of south", "mowed some of it": the work is of a part only. */
function isPartOnly(frame: Frame): boolean {
  if (["some", "most"].includes(frame.items[frame.headAt + 1]?.words[0]?.word ?? "") && frame.work?.work !== "plant" && frame.work?.work !== "sow") return true
  return frame.has("partly") || (frame.has("except") && frame.left.length === 0)
}

function lastWord(item: Item | undefined): string {
  return item?.words.at(-1)?.word ?? ""
}

const PREPOSITIONS = new Set(["with", "before", "after", "by", "for", "in", "on", "at", "to", "from", "under", "near", "while", "until", "because", "during", "since", "between", "around", "so", "as", "of", "into", "onto", "over", "through", "using", "via", "and", "past", "off", "within", "along", "behind", "beside", "despite", "without", "about"])

/** Is a word of the clause, right where its object would stand, something that is not of this garden ("mowed the lawn")? */
export function hasForeignObject(frame: Frame, own: (item: Item) => boolean): boolean {
  const last = frame.heads.filter((head) => head.work || head.command || head.then).at(-1)
  const from = (last?.at ?? frame.headAt) + 1
  for (const item of frame.items.slice(from)) {
    if (item.bed || item.day || item.time || item.numbers || item.amount || own(item)) return false
    if (item.mark !== undefined || isPronoun(item)) return false
    if (item.senses.has("content") || item.senses.has("trap") || item.senses.has("bed-not") || item.crops || item.species) return true
    if (PREPOSITIONS.has(item.words[0]?.word ?? "") && item.senses.has("light")) {
      if (item.words[0]?.word !== "with" || frame.work?.work !== "done") return false
    }
  }
  return false
}

function isPronoun(item: Item): boolean {
  return item.to - item.from === 1 && ["it", "its", "them", "that", "this", "everything", "all", "those", "these", "both"].includes(item.words[0]?.word ?? "")
}

/** Is the thing it is said of something that is not of this garden ("the lawn is mowed", "the roses are blooming")? */
export function hasForeignSubject(frame: Frame, head: number, own: (item: Item) => boolean): boolean {
  for (let i = head - 1; i >= 0; i -= 1) {
    const item = frame.items[i] as Item
    if (item.bed || item.numbers || own(item) || item.senses.has("courtesy")) return false
    if (item.senses.has("content") || item.senses.has("trap") || item.crops || item.species || item.senses.has("bed-not")) return true
    if (isPronoun(item) || isThey(item)) return false
  }
  return false
}

function isThey(item: Item): boolean {
  return ["they", "we", "i", "he", "she"].includes(item.words[0]?.word ?? "")
}

/** Is the nearest subject the speaker ("I'm up", "we headed home")? */
export function isOfSpeaker(frame: Frame, head: number): boolean {
  for (let i = head - 1; i >= 0; i -= 1) {
    const words = (frame.items[i] as Item).words.map((word) => word.word)
    if (words.includes("i") || words.includes("we") || words.includes("he") || words.includes("she") || words.includes("you")) return true
    if (!words.every((word) => ["am", "are", "'s", "was", "were", "is", "just", "now", "all", "have", "been", "will", "be", "not", "finally"].includes(word))) return false
  }
  return false
}
