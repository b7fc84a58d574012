import type { Frame } from "./frames.ts"
import type { Item } from "./item.ts"
import { endsWith, hasWord, isOne, isPolite, isTagged, startsWith } from "./says.ts"

/** How a clause means its work: it happened, it is promised, or neither. */
export type Mood = "did" | "ahead" | "not"

/** Did the work of this clause happen? Anything that is not plainly so is not. */
export function moodOf(frame: Frame): Mood {
  const { work } = frame
  if (!work) return "not"
  if (frame.has("maybe") || frame.before("told") || frame.before("habit")) return "not"
  if (frame.before("not") || (frame.has("not") && (frame.has("yet") || frame.left.length === 0))) return "not"
  if (frame.before("nearly") || frame.before("partly") || isShareOnly(frame)) return "not"
  if (isUnreal(frame) || isAskedFor(frame)) return "not"
  const ahead = frame.before("wish") || frame.before("future") || frame.before("must") || frame.has("promise")
  if (ahead || frame.held) return ahead || frame.days.length > 0 ? "ahead" : "not"
  if (isWondered(frame) || isBareNoun(frame)) return "not"
  if (work.forms.has("did")) return isInfinitive(frame) ? "ahead" : isPartOnly(frame) ? "not" : "did"
  if (work.forms.has("noun") && isDoneBeside(frame)) return "did"
  if ((work.forms.has("do") || work.forms.has("doing")) && isAsserted(frame)) return "did"
  return "ahead"
}

/** "cut which bed", "how short should I cut": a question, with or without its mark. */
function isWondered(frame: Frame): boolean {
  const asks = (item: Item): boolean => isOne(item, "which-what") || item.senses.has("tell:how-much")
  return (
    frame.items.some(asks) ||
    frame.items.slice(0, frame.headAt).some((item) => item.senses.has("tell:next") && !item.senses.has("ways:when"))
  )
}

/** "the cut is due": a thing that is spoken of, not what was done; but "gave it a cut". */
function isBareNoun(frame: Frame): boolean {
  if (!frame.work?.forms.has("noun") || !startsWith(frame.items[frame.headAt - 1], "noun-lead")) return false
  return !frame.items.some((item) => hasWord(item, "noun-verb")) && !isDoneBeside(frame)
}

/** "somebody cut south please", "anyone cut south yet": asked of others. */
function isAskedFor(frame: Frame): boolean {
  if (frame.items.some((item) => hasWord(item, "anybody"))) return true
  const first = frame.items.findIndex((item) => !isPolite(item))
  const head = frame.heads.find((each) => each.work)
  // "get south cut", "glad you cut south"
  if (isOne(frame.items[first], "get-word") && head && head.at > first) return true
  if (head && isOne(frame.items[head.at - 1], "you")) return true
  return (
    frame.work?.forms.has("do") === true &&
    frame.items.some((item) => isOne(item, "please")) &&
    !frame.named.some(({ item }) => item.numbers)
  )
}

const WHOLE = 100

/** "90% cut", "2/3 cut", "cut almost all of it": not the whole of it. */
function isShareOnly(frame: Frame): boolean {
  if (frame.items.some((item) => startsWith(item, "almost") && !item.bed)) return true
  const at = frame.heads.find((head) => head.work)?.at ?? 0
  const before = frame.items[at - 1]
  if (before?.amount?.of === "share") return before.amount.percent < WHOLE
  const [above, slash, below, more] = before?.words ?? []
  const day = before?.day?.day.said === "month-day" && before.day.lead === null && at === 1
  return (
    day &&
    slash?.word === "/" &&
    more === undefined &&
    /^[1-3]$/.test(above?.word ?? "") &&
    /^[2-4]$/.test(below?.word ?? "")
  )
}

/** "should have cut it", "meant to have watered": it was not done, and no day to come is told. */
function isUnreal(frame: Frame): boolean {
  const before = frame.items.slice(0, frame.headAt)
  return (
    frame.before("must") && before.some((item) => endsWith(item, "own-have")) && frame.work?.forms.has("did") === true
  )
}

/** "to cut", "please cut": the form of what is still to be done. */
function isInfinitive(frame: Frame): boolean {
  const before = frame.items[frame.headAt - 1]
  if (!frame.work?.forms.has("do") || !endsWith(before, "infinitive")) return false
  return !hadTo(before) && !(endsWith(before, "to") && saysManaged(frame))
}

function isAsserted(frame: Frame): boolean {
  const before = frame.items[frame.headAt - 1]
  return hadTo(before) || endsWith(before, "asserts") || (endsWith(before, "to") && saysManaged(frame))
}

/** "had to cut it early" tells what was done. */
function hadTo(before: Item | undefined): boolean {
  return startsWith(before, "own-auxiliary") && endsWith(before, "to")
}

function saysManaged(frame: Frame): boolean {
  return frame.items.slice(0, frame.headAt).some((item) => hasWord(item, "managed"))
}

function isDoneBeside(frame: Frame): boolean {
  return frame.heads.some((head) => head.work?.work === "done" && head.work.forms.has("did"))
}

/** "cut half of south", "mowed some of it": the work is of a part only. */
function isPartOnly(frame: Frame): boolean {
  const raises = frame.work?.work === "plant" || frame.work?.work === "sow"
  if (!raises && startsWith(frame.items[frame.headAt + 1], "some")) return true
  return frame.has("partly") || (frame.has("except") && frame.left.length === 0)
}

/** Is it said of something else that does not belong to this garden? */
function isOther(item: Item): boolean {
  if (item.bed ?? item.day ?? item.time ?? item.numbers ?? item.amount) return false
  if (["content", "trap", "bed-not", "measure"].some((sense) => item.senses.has(sense))) return true
  if (item.crops ?? item.species) return true
  return [...item.senses].some((sense) => sense.startsWith("stages:") || sense.startsWith("commands:"))
}

/** Is what stands where the object of the work would stand, or its place, none of this garden's ("mowed the lawn")? */
export function hasForeignObject(frame: Frame, own: (item: Item) => boolean): boolean {
  const last = frame.heads.filter((head) => head.work || head.command || head.then).at(-1)
  // Behind "in" or "around" a place follows; if it is none of the beds, the work was done elsewhere.
  let placed = endsWith(last?.item, "place")
  let object = !placed
  const behind = frame.items.slice((last?.at ?? frame.headAt) + 1)
  for (const [at, item] of behind.entries()) {
    if (item.bed && isAdjective(behind, at)) return true
    if (item.bed || own(item) || item.mark !== undefined) return false
    if (item.day ?? item.time ?? item.numbers ?? item.amount) continue
    if (item.senses.has("courtesy") || item.senses.has("tail")) continue
    const next = behind[at + 1]
    if (object && isOne(item, "pronoun") && !(next && isOther(next))) object = false
    else if (startsWith(item, "person-object")) return object
    // "cut at flower": when it was done.
    else if (placed && !object && !item.senses.has("content") && isStageWord(item)) return false
    else if (isOther(item)) return object || placed
    else if (isOne(item, "doer-lead") && isSuffered(frame)) return false
    else if (isOne(item, "place")) [object, placed] = [false, true]
    else if (startsWith(item, "circumstance") && item.senses.has("light")) {
      // "done with this rain": of "done" alone, "with" leads to what was done.
      if (!startsWith(item, "done-with") || frame.work?.work !== "done") return false
      object = true
    }
  }
  return false
}

/** "cut the south fence": the name of a bed in front of something else. */
function isAdjective(items: readonly Item[], at: number): boolean {
  const [item, after] = [items[at], items[at + 1]]
  if (!item || item.to - item.from > 1 || !startsWith(items[at - 1], "article") || !after?.senses.has("content"))
    return false
  return after.words[0]?.word.endsWith("ly") !== true
}

function isStageWord(item: Item): boolean {
  return [...item.senses].some((sense) => sense.startsWith("stages:")) && !item.species && !item.crops
}

/** "had it watered by the lad next door": what stands behind "by" did it. */
function isSuffered(frame: Frame): boolean {
  return frame.items.slice(0, frame.headAt).some((item) => isOne(item, "stage-be") || isOne(item, "noun-verb"))
}

/** The nearest thing before the head, of which it is said, where it is none of this garden's ("the roses are blooming"). */
export function foreignSubject(frame: Frame, head: number, own: (item: Item) => boolean): Item | null {
  for (let i = head - 1; i >= 0; i -= 1) {
    const item = frame.items[i] as Item
    if (item.bed || item.numbers || own(item)) return null
    if (["courtesy", "person", "name"].some((sense) => item.senses.has(sense))) return null
    if (isOther(item) && !frame.heads.some((each) => each.item === item)) return item
    if (startsWith(item, "pronoun") || startsWith(item, "person-subject")) return null
  }
  return null
}

/** "my neighbor cut his rye": a plant of someone else, with no bed of ours named. */
export function isOfOthers(frame: Frame): boolean {
  if (frame.named.some(({ item }) => item.bed)) return false
  return frame.named.some(({ item, at }) => {
    if (!item.species) return false
    const before = frame.items[at - 1]
    const owner = frame.items[at - 2]
    const owned = before?.words.at(-1)?.word === "'s" && owner !== undefined
    return endsWith(before, "owner") || (owned && (owner.senses.has("person") || owner.senses.has("content")))
  })
}

/** Is the nearest subject a person ("I'm up", "we headed home")? */
export function isOfSpeaker(frame: Frame, head: number): boolean {
  for (let i = head - 1; i >= 0; i -= 1) {
    const item = frame.items[i] as Item
    if (item.senses.has("person") || hasWord(item, "speaker")) return true
    if (!item.words.every((word) => isTagged(word, "speaker-be"))) return false
  }
  return false
}
