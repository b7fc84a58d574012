import type { Day } from "../values/day.ts"
import type { Clause, Opener } from "./clause.ts"
import { findHeads } from "./heads.ts"
import type { Item } from "./item.ts"
import { isBare, joinPieces, prepend } from "./lists.ts"
import { endsWith, isOne, isTarget, isWay, startsWith } from "./says.ts"
import { sentencesOf } from "./sentences.ts"
import { splitAtHeads } from "./split.ts"

/** Cuts the items into clauses: at marks and joining words, and between two things said without any. */
export function cutIntoClauses(items: readonly Item[], today: Day): Clause[] {
  const clauses: Clause[] = []
  sentencesOf(items).forEach(({ items: said, asked }, sentence) => {
    const pieces = cutPieces(said, sentence, asked)
    clauses.push(...joinPieces(pieces, today).flatMap(splitAtHeads))
  })
  return joinClauses(clauses)
}

/** Words of correction on their own speak for the clause behind them; a heading for the one that says "it". */
function joinClauses(clauses: readonly Clause[]): Clause[] {
  const joined: Clause[] = []
  let waiting: Clause | null = null
  let skipped = -1
  clauses.forEach((each, i) => {
    if (i === skipped) return
    const clause = waiting ? led(waiting, each) : each
    waiting = null
    const next = clauses[i + 1]
    const earlier = joined.some((each) => each.heads.length > 0)
    if (next && earlier && isSorry(clause) && isBare(next) && !next.items.some((item) => item.day)) {
      joined.push({ ...next, mends: true })
      skipped = i + 1
      return
    }
    if (next && (isOnlyMend(clause) || isHeading(clause, next))) waiting = clause
    else joined.push(clause)
  })
  return joined
}

function led(before: Clause, clause: Clause): Clause {
  if (isOnlyMend(before)) return { ...clause, mends: true, firm: before.firm || startsFirm(before.items[0]) }
  return { ...prepend(before, clause), opener: before.opener }
}

function isOnlyMend(clause: Clause): boolean {
  const mend = (item: Item): boolean => isWay(item, "mend")
  return clause.items.some(mend) && clause.items.every((item) => mend(item) || item.senses.has("courtesy"))
}

/** "cut south... sorry, north": what follows puts right what was said. */
function isSorry(clause: Clause): boolean {
  return clause.items.some((item) => isOne(item, "sorry")) && clause.items.every((item) => item.senses.has("courtesy"))
}

function startsFirm(item: Item | undefined): boolean {
  return item !== undefined && isWay(item, "firm")
}

/** "not bed 2, bed 3. it's cut" */
function isHeading(clause: Clause, next: Clause): boolean {
  if (!isBare(clause) || clause.sentence === next.sentence || clause.mends) return false
  if (next.heads.length === 0 || next.items.some(isTarget)) return false
  return clause.items.some((item) => item.bed || item.species) && startsWith(next.items[0], "it")
}

function openerOf(item: Item): Opener | null {
  const { mark } = item
  if (mark !== undefined) {
    if ([",", "(", ")", "/"].includes(mark)) return "comma"
    if (mark === "-") return item.words[0]?.glued ? null : "comma"
    if (mark === ":") return "colon"
    return mark === "&" || mark === "+" ? "and" : null
  }
  if (isWay(item, "or")) return "or"
  if (item.day) return null
  if (isOne(item, "and")) return item.senses.has("inside") ? null : "and"
  if (isOne(item, "but")) return "but"
  if (isOne(item, "or")) return "or"
  if (isOne(item, "since")) return "since"
  return isOne(item, "because") ? "because" : null
}

function cutPieces(items: readonly Item[], sentence: number, asked: boolean): Clause[] {
  const pieces: Clause[] = []
  const fresh = (opener: Opener): Clause => ({
    items: [],
    heads: [],
    opener,
    sentence,
    asked,
    mends: false,
    firm: false,
  })
  let current = fresh("start")
  const close = (next: Opener): void => {
    const empty = current.items.length === 0
    if (!empty) pieces.push(current)
    const kept = empty && next === "comma" ? current.opener : next
    current = fresh(pieces.length === 0 && kept === "comma" ? "start" : kept)
  }
  items.forEach((item, at) => {
    if (mendsHere(items, at, current)) {
      // "done 2 no hang on 7": both are words of the one correction.
      if (current.items.length > 1 && isOne(current.items.at(-1), "weak-mend")) current.items.pop()
      close("comma")
    }
    if (isOne(item, "speaker") && isStopOnly(current)) close("comma")
    // "16 not yet 14 done"
    if (isTarget(item) && endsWith(current.items.at(-1), "yet") && current.items.some(isTarget)) close("comma")
    // "is it due", but "early due to rain"
    const isDue = isOne(item, "ready") && !startsWith(items[at + 1], "to")
    const opener = isDue ? null : openerOf(item)
    if (opener === "colon" && current.items.length > 1 && isTarget(current.items.at(-1) as Item)) {
      // "1: done 2: snooze": what stands before a colon heads what follows.
      const heading = current.items.pop() as Item
      close("comma")
      current.items.push(heading)
    }
    if (opener) close(opener)
    else if (!item.day && (isWay(item, "if") || isWay(item, "when"))) close(isWay(item, "if") ? "if" : "when")
    if (!opener) current.items.push(item)
  })
  if (current.items.length > 0) pieces.push(current)
  pieces.forEach(markHeads)
  return pieces
}

function markHeads(piece: Clause, index: number): void {
  piece.heads = findHeads(piece.items)
  const first = piece.items.find((item) => !item.senses.has("courtesy"))
  const mend = [piece.items[0], first].find((item) => item && isMend(item))
  piece.firm = startsFirm(mend)
  piece.mends = mend !== undefined || (index > 0 && isOne(piece.items[0], "sorry") && isBare(piece))
}

/** "stop i am at work": what follows a bare stop word is another statement. */
function isStopOnly(current: Clause): boolean {
  return (
    current.items.some((item) => isOne(item, "plain-stop")) &&
    current.items.every((item) => item.senses.has("courtesy") || isOne(item, "plain-stop"))
  )
}

/** A correction starts a clause of its own; "sorry" does where another target follows ("done 2 sorry 3"). */
function mendsHere(items: readonly Item[], at: number, current: Clause): boolean {
  const item = items[at] as Item
  if (current.items.length === 0) return false
  if (isWay(item, "mend")) return !isOne(item, "weak-mend")
  const next = items[at + 1]
  return isOne(item, "sorry") && current.items.some(isTarget) && next !== undefined && isTarget(next)
}

/** "no" by itself also negates. */
function isMend(item: Item): boolean {
  return isWay(item, "mend") && !isOne(item, "no")
}
