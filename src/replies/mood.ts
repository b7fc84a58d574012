import type { Frame } from "./frames.ts"
import type { Item } from "./items.ts"

/** How a clause means its work: it happened, it is promised, or neither. */
export type Mood = "did" | "ahead" | "not"

const ASSERTS = new Set(["did", "managed", "finally"])

/** Did the work of this clause happen? Anything that is not plainly so is not. */
export function moodOf(frame: Frame): Mood {
  const { work } = frame
  if (!work) return "not"
  if (frame.has("maybe") || frame.before("told") || frame.before("habit")) return "not"
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
  if (before === "to" && saysManaged(frame)) return false
  return before === "to" || before === "do" || before === "please"
}

function isAsserted(frame: Frame): boolean {
  const before = lastWord(frame.items[frame.headAt - 1])
  return ASSERTS.has(before) || (before === "to" && saysManaged(frame))
}

function saysManaged(frame: Frame): boolean {
  return frame.items.slice(0, frame.headAt).some((item) => item.words.some((word) => word.word === "managed"))
}

function isDoneBeside(frame: Frame): boolean {
  return frame.heads.some((head) => head.work?.work === "done" && head.work.forms.has("did"))
}

/** "cut half of south", "mowed some of it": the work is of a part only. */
function isPartOnly(frame: Frame): boolean {
  const next = firstWord(frame.items[frame.headAt + 1])
  if (["some", "most"].includes(next) && frame.work?.work !== "plant" && frame.work?.work !== "sow") return true
  return frame.has("partly") || (frame.has("except") && frame.left.length === 0)
}

function firstWord(item: Item | undefined): string {
  return item?.words[0]?.word ?? ""
}

function lastWord(item: Item | undefined): string {
  return item?.words.at(-1)?.word ?? ""
}

/** Behind these a place follows; if it is none of the beds, the work was done elsewhere. */
const PLACES = new Set([
  "in",
  "on",
  "at",
  "along",
  "around",
  "near",
  "behind",
  "beside",
  "across",
  "over",
  "through",
  "under",
  "off",
  "out",
  "by",
  "to",
  "into",
  "onto",
  "outside",
  "inside",
  "next",
])
/** Behind these the circumstances follow. */
const CIRCUMSTANCES = new Set([
  "with",
  "before",
  "after",
  "for",
  "from",
  "while",
  "until",
  "because",
  "during",
  "since",
  "between",
  "so",
  "as",
  "using",
  "via",
  "and",
  "within",
  "despite",
  "without",
  "about",
  "of",
  "like",
  "when",
])
const PRONOUNS = new Set(["it", "its", "them", "that", "this", "everything", "all", "those", "these", "both"])
const PERSONS = new Set(["me", "us", "you", "him", "her", "myself", "yourself", "ourselves", "himself", "herself"])

/** Is it said of something else that does not belong to this garden? */
function isOther(item: Item): boolean {
  if (item.bed || item.day || item.time || item.numbers || item.amount) return false
  if (item.senses.has("content") || item.senses.has("trap") || item.senses.has("bed-not") || item.senses.has("measure"))
    return true
  return (
    Boolean(item.crops ?? item.species) ||
    [...item.senses].some((sense) => sense.startsWith("stages:") || sense.startsWith("commands:"))
  )
}

/** Is what stands where the object of the work would stand, or its place, none of this garden's ("mowed the lawn")? */
export function hasForeignObject(frame: Frame, own: (item: Item) => boolean): boolean {
  const heads = frame.heads.filter((head) => head.work || head.command || head.then)
  const last = heads.at(-1)
  let placed = PLACES.has(lastWord(last?.item))
  let object = !placed
  for (const item of frame.items.slice((last?.at ?? frame.headAt) + 1)) {
    const word = firstWord(item)
    if (item.bed || own(item)) return false
    if (item.mark !== undefined) return false
    if (item.day || item.time || item.numbers || item.amount || item.senses.has("courtesy") || item.senses.has("tail"))
      continue
    if (object && PRONOUNS.has(word) && item.to - item.from === 1) object = false
    else if (PERSONS.has(word)) return object
    else if (isOther(item)) return object || placed
    else if (item.to - item.from === 1 && PLACES.has(word)) [object, placed] = [false, true]
    else if (CIRCUMSTANCES.has(word) && item.senses.has("light")) {
      // "done with this rain": of "done" alone, "with" leads to what was done.
      if (word === "with" && frame.work?.work === "done") object = true
      else return false
    }
  }
  return false
}

/** Is the nearest thing before the head, of which it is said, none of this garden's ("the roses are blooming")? */
export function foreignSubject(frame: Frame, head: number, own: (item: Item) => boolean): Item | null {
  for (let i = head - 1; i >= 0; i -= 1) {
    const item = frame.items[i] as Item
    if (
      item.bed ||
      item.numbers ||
      own(item) ||
      item.senses.has("courtesy") ||
      item.senses.has("person") ||
      item.senses.has("name")
    )
      return null
    if (isOther(item) && !frame.heads.some((each) => each.item === item)) return item
    const word = firstWord(item)
    if (PRONOUNS.has(word) || ["they", "we", "i", "he", "she"].includes(word)) return null
  }
  return null
}

/** "my neighbor cut his rye": a plant of someone else, with no bed of ours named. */
export function isOfOthers(frame: Frame): boolean {
  if (frame.named.some(({ item }) => item.bed)) return false
  return frame.named.some(({ item, at }) => {
    if (!item.species) return false
    const before = lastWord(frame.items[at - 1])
    const owner = frame.items[at - 2]
    return (
      ["his", "her", "their", "your"].includes(before) ||
      (before === "'s" && owner !== undefined && (owner.senses.has("person") || owner.senses.has("content")))
    )
  })
}

/** Is the nearest subject a person ("I'm up", "we headed home")? */
export function isOfSpeaker(frame: Frame, head: number): boolean {
  for (let i = head - 1; i >= 0; i -= 1) {
    const item = frame.items[i] as Item
    const words = item.words.map((word) => word.word)
    if (item.senses.has("person") || words.some((word) => ["i", "we", "he", "she", "you"].includes(word))) return true
    if (
      !words.every((word) =>
        [
          "am",
          "are",
          "'s",
          "was",
          "were",
          "is",
          "just",
          "now",
          "all",
          "have",
          "been",
          "will",
          "be",
          "not",
          "finally",
          "still",
          "has",
          "both",
        ].includes(word),
      )
    )
      return false
  }
  return false
}
