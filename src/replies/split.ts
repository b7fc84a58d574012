import type { Clause } from "./clause.ts"
import { findHeads, type Head } from "./heads.ts"
import type { Item } from "./item.ts"
import { isSmall } from "./lists.ts"
import { hasWord, isTarget, isWay, startsWith } from "./says.ts"

/** Divides a piece in which several things are said without a mark between them. */
export function splitAtHeads(piece: Clause): Clause[] {
  const cuts: number[] = []
  for (let i = 1; i < piece.heads.length; i += 1) {
    const before = piece.heads[i - 1] as Head
    const head = piece.heads[i] as Head
    if (isDivided(piece, before, head)) cuts.push(cutPoint(piece, before, head, cuts.at(-1) ?? 0))
  }
  const bare = bareTail(piece)
  if (bare !== null && bare > (cuts.at(-1) ?? 0)) cuts.push(bare)
  if (cuts.length === 0) return [piece]
  const parts: Clause[] = []
  let from = 0
  for (const to of [...cuts, piece.items.length]) {
    const items = piece.items.slice(from, to)
    const first = from === 0
    if (items.length > 0)
      parts.push({
        ...piece,
        items,
        heads: findHeads(items),
        opener: first ? piece.opener : "comma",
        mends: first && piece.mends,
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
  const first = piece.items.findIndex(isTarget)
  // "skip 2 snooze 3": where names stand behind what is said of them, the last one is the last head's own.
  const takes = (piece.heads[0]?.at ?? 0) < first && (last.command !== undefined || last.work !== undefined)
  let day = before.some((item) => item.day)
  for (let i = last.at + 1; i < piece.items.length; i += 1) {
    const item = piece.items[i] as Item
    if (item.day) day = true
    if (!isTarget(item) || item.amount || item.day) continue
    const lead = piece.items[i - 1] as Item
    const isHead = piece.heads.some((head) => head.item === lead)
    if (isHead && takes) continue
    const led = !isHead && !lead.day && !lead.senses.has("courtesy")
    const kind = item.bed ? "bed" : item.species ? "species" : item.numbers ? "numbers" : null
    const again = kind !== null && before.some((each) => each[kind] !== undefined && !each.day)
    const dayAgain = day && piece.items.slice(i + 1).some((each) => each.day)
    if (!led && (again || dayAgain)) return i
  }
  return null
}

function isDivided(piece: Clause, before: Head, head: Head): boolean {
  const between = piece.items.slice(before.at + 1, head.at)
  const named = between.some((item) => isTarget(item) || hasWord(item, "subject-it"))
  if (before.stage && head.stage) return named && !isOnePhrase(piece, between, head)
  if (before.figure && head.figure) return named
  if (before.item.amount?.of === "share" && head.stage) return named
  if (before.command || head.command)
    return isFullWork(before) || isFullWork(head) || (Boolean(before.command && head.command) && named)
  if (before.work && head.work) return bothWork(before.work, head.work, named)
  if ((before.work && head.figure) || (before.figure && head.work)) return false
  return !(before.then && head.then)
}

/** "seed falling out of the vetch pods": the second word only goes on with what the first is of. */
function isOnePhrase(piece: Clause, between: readonly Item[], head: Head): boolean {
  const led = between.some((item) => startsWith(item, "of"))
  return Boolean(between.at(-1)?.species) && led && !piece.items.slice(head.at + 1).some(isTarget)
}

/** A past form, as against one that only names the kind of work ("skip watering"). */
function isFullWork(head: Head): boolean {
  const forms = head.work?.forms
  return forms?.has("did") === true && !forms.has("noun") && !forms.has("do")
}

type HeadWork = NonNullable<Head["work"]>

/** "done cutting", "watering done" are one; "cut south watered kitchen" are two. */
function bothWork(a: HeadWork, b: HeadWork, named: boolean): boolean {
  const names = (work: HeadWork): boolean => work.work !== "done" && (work.forms.has("noun") || work.forms.has("doing"))
  if (a.work === "done" && b.work === "done") return named
  if (a.work === "done") return !names(b) && !b.forms.has("do")
  if (b.work === "done") return !names(a) && named && !a.forms.has("do")
  return a.work !== b.work || named
}

/** Where the second thing starts: before its own bed if beds come first in this piece, else right at it. */
function cutPoint(piece: Clause, before: Head, head: Head, from: number): number {
  const bedsFirst = piece.items.slice(from, before.at).some(isTarget)
  const small = (item: Item): boolean => isSmall(item) && !isTarget(item) && !item.day
  const back = (start: number, test: (item: Item) => boolean): number => {
    let at = start
    while (at - 1 > before.at && test(piece.items[at - 1] as Item)) at -= 1
    return at
  }
  const behind = back(head.at, small)
  // "done 1 rest later": the rest is of what follows.
  const rest = piece.items.findIndex((item, at) => at > before.at + 1 && at < head.at && isWay(item, "rest"))
  if (!bedsFirst && rest > 0 && piece.items.slice(before.at + 1, rest).some(isTarget)) return rest
  if (!bedsFirst) return behind
  const at = back(behind, (item) => isTarget(item) || small(item))
  return piece.items.slice(at, behind).some(isTarget) ? at : behind
}
