import type { Day } from "../values/day.ts"
import type { SaidDay } from "./days.ts"
import { type Head, headOf } from "./heads.ts"
import type { Item } from "./items.ts"
import { isPlacedStage, isPlacedWork } from "./placed.ts"
import type { Words } from "./vocabulary.ts"

/** How a clause is joined to the one before it. */
export type Opener = "start" | "comma" | "and" | "but" | "or" | "because" | "if" | "when" | "colon"

/** A stretch of a text with at most one thing said about its beds. */
export type Clause = {
  items: Item[]
  heads: Head[]
  opener: Opener
  sentence: number
  /** The mark that ends its sentence is a question mark. */
  asked: boolean
  /** Said with a word that takes back what came before ("no wait", "I mean"). */
  mends: boolean
  /** The words of correction, as they were said. */
  correction: string | null
}

const AND = new Set(["and", "plus", "&", "+", "then"])
const BUT = new Set(["but", "though", "although", "however"])
const OR = new Set(["or", "nor"])
const BECAUSE = new Set(["because", "so", "since", "as", "while", "whilst", "due"])
const HARD = new Set([".", "!", "?", ";", "\n"])

/** Cuts the items into clauses: at marks and joining words, and between two things said without any. */
export function cutIntoClauses(items: readonly Item[], facts: Words["facts"], today: Day): Clause[] {
  const clauses: Clause[] = []
  let sentence = 0
  for (const { items: said, asked } of sentences(items)) {
    const pieces = cutPieces(said, sentence, asked, facts)
    clauses.push(...joinPieces(pieces, today).flatMap((piece) => splitAtHeads(piece, facts)))
    sentence += 1
  }
  return joinClauses(clauses)
}

/** Words of correction on their own speak for the clause behind them; a heading for the one that says "it". */
function joinClauses(clauses: readonly Clause[]): Clause[] {
  const joined: Clause[] = []
  for (let i = 0; i < clauses.length; i += 1) {
    const clause = clauses[i] as Clause
    const next = clauses[i + 1]
    if (next && isOnlyMend(clause))
      clauses = clauses.with(i + 1, { ...next, mends: true, correction: clause.correction ?? spelt(clause.items[0]) })
    else if (next && isHeading(clause, next))
      clauses = clauses.with(i + 1, { ...prepend(clause, next), opener: clause.opener })
    else joined.push(clause)
  }
  return joined
}

function isOnlyMend(clause: Clause): boolean {
  return (
    clause.items.every((item) => item.senses.has("ways:mend") || item.senses.has("courtesy")) &&
    clause.items.some((item) => item.senses.has("ways:mend"))
  )
}

function isHeading(clause: Clause, next: Clause): boolean {
  if (
    !isBare(clause) ||
    clause.sentence === next.sentence ||
    clause.mends ||
    next.heads.length === 0 ||
    next.items.some(isTarget)
  )
    return false
  const first = next.items[0]?.words[0]?.word ?? ""
  return clause.items.some((item) => item.bed || item.species) && ["it", "its", "they", "that"].includes(first)
}

function sentences(items: readonly Item[]): { items: Item[]; asked: boolean }[] {
  const found: { items: Item[]; asked: boolean }[] = []
  let current: Item[] = []
  items.forEach((item, index) => {
    if (item.mark !== undefined && HARD.has(item.mark) && !isAbbreviation(items, index)) {
      const tag = item.mark === "?" && current.length > 1 && isTag(current.at(-1) as Item)
      if (tag) current.pop()
      if (current.length > 0) found.push({ items: current, asked: item.mark === "?" && !tag })
      else if (item.mark === "?" && found.length > 0) (found.at(-1) as { asked: boolean }).asked = true
      current = []
    } else if (item.senses.has("picture:question")) {
      if (current.length > 0) found.push({ items: current, asked: true })
      current = []
    } else current.push(item)
  })
  if (current.length > 0) found.push({ items: current, asked: false })
  return found
}

const TAGS = new Set(["ok", "okay", "k", "thanks", "cheers", "ta", "lol", "please", "yeah", "yes"])

/** "done 1, ok?": the mark belongs to the last word alone. */
function isTag(item: Item): boolean {
  return item.senses.has("courtesy") && item.to - item.from === 1 && TAGS.has(item.words[0]?.word ?? "")
}

/** The point behind a unit or a weekday ("20 in. tall", "wed. morning") ends no sentence. */
function isAbbreviation(items: readonly Item[], index: number): boolean {
  const before = items[index - 1]
  const after = items[index + 1]
  if (items[index]?.mark !== "." || !before || !after || after.mark !== undefined) return false
  const last = before.words.at(-1)
  if (!last || last.kind !== "word" || !(items[index] as Item).words[0]?.glued) return false
  return Boolean(before.amount) && last.word.length <= 3
}

function openerOf(item: Item): Opener | null {
  if (item.mark !== undefined) {
    if (item.mark === "," || item.mark === "(" || item.mark === ")" || item.mark === "/") return "comma"
    if (item.mark === "-") return item.words[0]?.glued ? null : "comma"
    if (item.mark === ":") return "colon"
    if (item.mark === "&" || item.mark === "+") return "and"
    return null
  }
  if (item.senses.has("ways:or")) return "or"
  if (item.to - item.from > 1 || item.day) return null
  const word = item.words[0]?.word ?? ""
  if (AND.has(word)) return "and"
  if (BUT.has(word)) return "but"
  if (OR.has(word)) return "or"
  if (BECAUSE.has(word)) return "because"
  return null
}

function cutPieces(items: readonly Item[], sentence: number, asked: boolean, facts: Words["facts"]): Clause[] {
  const pieces: Clause[] = []
  let current: Clause = { items: [], heads: [], opener: "start", sentence, asked, mends: false, correction: null }
  const close = (next: Opener): void => {
    if (current.items.length > 0 || next === "colon") {
      if (current.items.length > 0) pieces.push(current)
    } else if (current.opener !== "start" && next === "comma") next = current.opener
    current = {
      items: [],
      heads: [],
      opener: pieces.length === 0 && current.items.length === 0 && next === "comma" ? "start" : next,
      sentence,
      asked,
      mends: false,
      correction: null,
    }
  }
  for (const item of items) {
    const sorry =
      item.words[0]?.word === "sorry" &&
      item.to - item.from === 1 &&
      current.items.some(isTarget) &&
      nextIsTarget(items, item)
    if ((item.senses.has("ways:mend") && current.items.length > 0 && !isPlainNo(item)) || sorry) close("comma")
    const opener = openerOf(item)
    if (opener === "colon" && current.items.length > 1 && isTarget(current.items.at(-1) as Item)) {
      // "1: done 2: snooze": what stands before a colon heads what follows.
      const heading = current.items.pop() as Item
      close("comma")
      current.items.push(heading)
    }
    if (opener) close(opener)
    else if (subordinate(item)) {
      close(item.senses.has("ways:if") ? "if" : "when")
      current.items.push(item)
    } else current.items.push(item)
  }
  if (current.items.length > 0) pieces.push(current)
  for (const piece of pieces) {
    piece.heads = findHeads(piece.items, facts)
    const first = piece.items.find((item) => !item.senses.has("courtesy"))
    piece.correction = isMend(piece.items[0]) ? spelt(piece.items[0]) : isMend(first) ? spelt(first) : null
    piece.mends =
      isMend(piece.items[0]) ||
      isMend(first) ||
      (pieces.indexOf(piece) > 0 && piece.items[0]?.words[0]?.word === "sorry" && isBare(piece))
  }
  return pieces
}

function spelt(item: Item | undefined): string {
  return item?.words.map((word) => word.word).join(" ") ?? ""
}

function isMend(item: Item | undefined): boolean {
  return item?.senses.has("ways:mend") === true && !(item.to - item.from === 1 && item.words[0]?.word === "no")
}

function nextIsTarget(items: readonly Item[], item: Item): boolean {
  const next = items[items.indexOf(item) + 1]
  return next !== undefined && isTarget(next)
}

/** "no" also negates: only longer words of correction start a clause of their own. */
function isPlainNo(item: Item): boolean {
  return (
    item.to - item.from === 1 &&
    ["no", "wait", "er", "rather", "actually"].includes(item.words[0]?.word ?? "") &&
    item.words[0]?.word !== "actually"
  )
}

function subordinate(item: Item): boolean {
  if (item.day) return false
  return item.senses.has("ways:if") || item.senses.has("ways:when")
}

function findHeads(items: readonly Item[], facts: Words["facts"]): Head[] {
  const heads: Head[] = []
  items.forEach((item, at) => {
    const head = headOf(item, at)
    if (!head) return
    if (head.stage && !isPlacedStage(items, at, facts)) delete head.stage
    if (head.work && !isPlacedWork(items, at)) delete head.work
    // "80% of the clover": how much of it, not what was read off.
    if (item.amount?.of === "share" && items[at + 1]?.words[0]?.word === "of") delete head.figure
    if (head.stage || head.work || head.then || head.command || head.figure) heads.push(head)
  })
  return heads
}

/** Something a clause can be about: a bed, a plant, a number, all of them. */
export function isTarget(item: Item): boolean {
  return (
    Boolean(item.bed ?? item.species ?? item.crops ?? (item.numbers && !item.amount)) ||
    ["all", "both", "rest"].some((way) => item.senses.has(`ways:${way}`))
  )
}

/** Only beds, plants, numbers and days with words of a list between them: part of a list, or a heading. */
export function isBare(piece: { items: readonly Item[]; heads: readonly Head[] }): boolean {
  if (piece.heads.length > 0) return false
  const told = piece.items.some((item) => isTarget(item) || item.day)
  const first = piece.items.findIndex((item) => isTarget(item) || item.day !== undefined)
  return (
    told &&
    piece.items.every(
      (item, at) =>
        isTarget(item) ||
        item.day !== undefined ||
        item.time === true ||
        isGlue(item) ||
        (at < first && item.senses.has("courtesy")),
    )
  )
}

const GLUE = new Set([
  "the",
  "a",
  "my",
  "our",
  "and",
  "or",
  "bed",
  "beds",
  "plot",
  "in",
  "on",
  "at",
  "of",
  "for",
  "with",
  "also",
  "too",
  "both",
  "all",
  "number",
  "is",
  "are",
  "'s",
  "it",
  "but",
  "then",
  "please",
  "one",
  "ones",
  "was",
  "did",
  "those",
  "these",
  "from",
  "as",
  "well",
  "only",
  "just",
  "by",
  "now",
  "same",
  "still",
  "so",
  "far",
  "has",
  "have",
  "does",
  "do",
])
/** Praise says how something is, so it makes no list ("oats patchy, peas fine"). */
const PRAISE = new Set([
  "fine",
  "good",
  "great",
  "nice",
  "ok",
  "okay",
  "lovely",
  "perfect",
  "excellent",
  "wonderful",
  "awesome",
  "beautiful",
  "super",
  "grand",
  "best",
  "cool",
  "sweet",
  "brilliant",
  "right",
  "true",
  "correct",
  "all good",
  "not bad",
])

function isGlue(item: Item): boolean {
  const words = item.words.map((word) => word.word)
  if (item.senses.has("courtesy")) return !words.some((word) => PRAISE.has(word))
  for (const sense of item.senses)
    if (
      sense === "name" ||
      sense === "tail" ||
      sense.startsWith("ways:") ||
      sense.startsWith("picture") ||
      sense.startsWith("mark:")
    )
      return true
  return words.every((word) => GLUE.has(word))
}

function isSmall(item: Item): boolean {
  for (const sense of item.senses)
    if (
      sense === "light" ||
      sense === "courtesy" ||
      sense === "name" ||
      sense === "tail" ||
      sense.startsWith("ways:") ||
      sense.startsWith("picture") ||
      sense.startsWith("mark:")
    )
      return true
  return false
}

function has(piece: Clause, way: string): boolean {
  return piece.items.some((item) => item.senses.has(`ways:${way}`))
}

/** Joins the parts of a list and headings to the clause they belong to. */
function joinPieces(pieces: readonly Clause[], today: Day): Clause[] {
  const joined: Clause[] = []
  let waiting: Clause | null = null
  for (let index = 0; index < pieces.length; index += 1) {
    const piece = pieces[index] as Clause
    const next = pieces[index + 1]
    if (isBare(piece) && !piece.mends) {
      const before = joined.at(-1)
      // "1 and 5 done, 2 and 4 not": the list is of the negation behind it.
      if (
        before &&
        !waiting &&
        next?.opener === "and" &&
        piece.opener !== "and" &&
        isBare(next) &&
        standsAlone(next, before, today)
      ) {
        joined.push(append(piece, next))
        index += 1
        continue
      }
      if (waiting) {
        waiting = append(waiting, piece)
        continue
      }
      const forward = next && belongsAhead(piece, next, before, today)
      if (before && !forward && before.heads.length > 0 && !standsAlone(piece, before, today)) {
        joined[joined.length - 1] = append(before, piece)
        continue
      }
      if (next && forward) {
        waiting = piece
        continue
      }
      joined.push(piece)
      continue
    }
    if (waiting) {
      joined.push(prepend(waiting, piece))
      waiting = null
    } else joined.push(piece)
  }
  if (waiting) joined.push(waiting)
  return joined
}

/** A bare piece with a second day, or a negation, is a short clause: "and 1 today", "but not north", "crimson past it". */
function standsAlone(piece: Clause, before: Clause, today: Day): boolean {
  const targets = piece.items.some(isTarget)
  const again = piece.items.some((item) => item.day) && before.items.some((item) => item.day)
  // "done 1, 2 tomorrow"; but all of "snooze 5, 9 and 10 for a week".
  const reported = before.heads.some((head) => head.work) && !before.heads.some((head) => head.command)
  const ahead = reported && piece.items.some((item) => item.day && isAhead(item.day.day, today))
  // "will do" is courtesy by itself, and a promise with a number beside it.
  const promised = piece.items.some((item) => item.senses.has("courtesy") && item.words[0]?.word === "will")
  return (
    targets && (again || ahead || promised || ["not", "yet", "past", "nearly", "partly"].some((way) => has(piece, way)))
  )
}

/** A day that can only lie ahead: tomorrow, next week, the weekend. */
function isAhead(said: SaidDay, today: Day): boolean {
  if (said.said === "day") return said.day > today
  return (
    ["span", "months", "after-weekend", "week-end"].includes(said.said) ||
    (said.said === "weekday" && said.which === "next")
  )
}

function belongsAhead(piece: Clause, next: Clause, before: Clause | undefined, today: Day): boolean {
  if (next.opener === "colon") return true
  if (!before || before.heads.length === 0) return next.heads.length > 0 || isBare(next)
  if (standsAlone(piece, before, today)) return false
  if (next.heads.length === 0) return false
  const firstHead = next.heads[0]?.at ?? 0
  const leads = next.items.slice(0, firstHead).some(isTarget)
  // "cut south, north and east are blooming"; but "cut south, north, and watered kitchen".
  if (leads && next.opener === "and" && piece.opener === "comma") return true
  const onlyDay = !piece.items.some(isTarget)
  if (onlyDay) return before.items.some((item) => item.day)
  return false
}

function append(before: Clause, piece: Clause): Clause {
  const shift = before.items.length
  return {
    ...before,
    items: [...before.items, ...piece.items],
    heads: [...before.heads, ...piece.heads.map((head) => ({ ...head, at: head.at + shift }))],
  }
}

function prepend(piece: Clause, next: Clause): Clause {
  const joined = append(piece, next)
  return { ...joined, opener: piece.opener, mends: piece.mends || next.mends }
}

/** Divides a piece in which several things are said without a mark between them. */
function splitAtHeads(piece: Clause, facts: Words["facts"]): Clause[] {
  const cuts: number[] = []
  const heads = piece.heads
  for (let i = 1; i < heads.length; i += 1) {
    const before = heads[i - 1] as Head
    const head = heads[i] as Head
    if (!isDivided(piece, before, head)) continue
    cuts.push(cutPoint(piece, before, head, cuts.at(-1) ?? 0))
  }
  const bare = bareTail(piece)
  if (bare !== null && bare > (cuts.at(-1) ?? 0)) cuts.push(bare)
  if (cuts.length === 0) return [piece]
  const parts: Clause[] = []
  let from = 0
  for (const to of [...cuts, piece.items.length]) {
    const items = piece.items.slice(from, to)
    if (items.length > 0)
      parts.push({
        ...piece,
        items,
        heads: findHeads(items, facts),
        opener: from === 0 ? piece.opener : "comma",
        mends: from === 0 && piece.mends,
      })
    from = to
  }
  return parts
}

/**
 * Where a new statement starts without a head of its own: "oats up peas not", "1 done yesterday 2 today". A plant, bed or
 * number behind the last head is one if another was named before it, and no small word leads to it.
 */
function bareTail(piece: Clause): number | null {
  const last = piece.heads.at(-1)
  if (!last) return null
  const before = piece.items.slice(0, last.at)
  let day = piece.items.slice(0, last.at).some((item) => item.day)
  for (let i = last.at + 1; i < piece.items.length; i += 1) {
    const item = piece.items[i] as Item
    if (item.day) day = true
    if (!isTarget(item) || item.amount || item.day) continue
    const lead = piece.items[i - 1] as Item
    const led = !isHeadItem(piece, lead) && !lead.day && !(lead.senses.has("ways:not") || lead.senses.has("courtesy"))
    const kind = item.bed ? "bed" : item.species ? "species" : item.numbers ? "numbers" : null
    const again = kind !== null && before.some((each) => each[kind] !== undefined && !each.day)
    const dayAgain = day && piece.items.slice(i + 1).some((each) => each.day) && !led
    if ((again && !led) || dayAgain) return i
  }
  return null
}

function isHeadItem(piece: Clause, item: Item): boolean {
  return piece.heads.some((head) => head.item === item)
}

function isDivided(piece: Clause, before: Head, head: Head): boolean {
  const between = piece.items.slice(before.at + 1, head.at)
  const named = between.some(
    (item) => isTarget(item) || item.words.some((word) => word.word === "it" || word.word === "they"),
  )
  if (before.stage && head.stage) return named && !isOnePhrase(piece, before, head)
  if (before.figure && head.figure) return named
  if (before.item.amount?.of === "share" && head.stage) return named
  const works = [before, head].filter((each) => each.work)
  if (before.command || head.command)
    return isFullWork(before) || isFullWork(head) || (Boolean(before.command) && Boolean(head.command) && named)
  if (works.length === 2) return bothWork(before, head, named)
  if (before.work && head.figure) return false
  if (before.figure && head.work) return false
  if (before.then && head.then) return false
  return true
}

/** "seed falling out of the vetch pods": the second word only goes on with what the first is of. */
function isOnePhrase(piece: Clause, before: Head, head: Head): boolean {
  const between = piece.items.slice(before.at + 1, head.at)
  const plant = between.at(-1)
  const led = between.some((item) => ["of", "from", "on", "off", "in"].includes(item.words[0]?.word ?? ""))
  return Boolean(plant?.species) && led && !piece.items.slice(head.at + 1).some(isTarget)
}

/** A past form, as against one that only names the kind of work ("skip watering"). */
function isFullWork(head: Head): boolean {
  const forms = head.work?.forms
  return forms?.has("did") === true && !forms.has("noun") && !forms.has("do")
}

/** "done cutting", "watering done" are one; "cut south watered kitchen" are two. */
function bothWork(before: Head, head: Head, named: boolean): boolean {
  const a = before.work as NonNullable<Head["work"]>
  const b = head.work as NonNullable<Head["work"]>
  const names = (work: typeof a): boolean => work.work !== "done" && (work.forms.has("noun") || work.forms.has("doing"))
  if (a.work === "done" && b.work === "done") return named
  if (a.work === "done") return !names(b) && !b.forms.has("do")
  if (b.work === "done") return !names(a) && named && !a.forms.has("do")
  return a.work !== b.work || named
}

/** Where the second thing starts: before its own bed if beds come first in this piece, else right at it. */
function cutPoint(piece: Clause, before: Head, head: Head, from: number): number {
  const bedsFirst = piece.items.slice(from, before.at).some(isTarget)
  let at = head.at
  const stepBack = (test: (item: Item) => boolean): void => {
    while (at - 1 > before.at && test(piece.items[at - 1] as Item)) at -= 1
  }
  const small = (item: Item): boolean => isSmall(item) && !isTarget(item) && !item.day
  stepBack(small)
  if (!bedsFirst) return at
  const beforeTargets = at
  stepBack((item) => isTarget(item) || small(item))
  return piece.items.slice(at, beforeTargets).some(isTarget) ? at : beforeTargets
}
