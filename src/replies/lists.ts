import type { Day } from "../values/day.ts"
import type { Clause, Opener } from "./clause.ts"
import type { SaidDay } from "./days.ts"
import type { Head } from "./heads.ts"
import type { Item } from "./item.ts"
import { hasWord, isOne, isPolite, isTarget, isWay, onlyWords, startsWith } from "./says.ts"

/** Only beds, plants, numbers and days with words of a list between them: part of a list, or a heading. */
export function isBare(piece: { items: readonly Item[]; heads: readonly Head[] }): boolean {
  if (piece.heads.length > 0) return false
  const first = piece.items.findIndex((item) => isTarget(item) || item.day !== undefined)
  if (first < 0) return false
  return piece.items.every((item, at) => {
    if (isTarget(item) || item.day || item.time || isGlue(item)) return true
    return at < first && item.senses.has("courtesy")
  })
}

function isGlue(item: Item): boolean {
  // Praise says how something is, so it makes no list ("oats patchy, peas fine").
  if (item.senses.has("courtesy")) return !hasWord(item, "praise")
  // "before breakfast" says nothing that counts.
  if (item.to - item.from > 1 && item.senses.has("light") && !item.senses.has("measure")) return true
  return carriesLittle(item) || onlyWords(item, "glue")
}

function carriesLittle(item: Item): boolean {
  for (const sense of item.senses)
    if (sense === "name" || sense === "tail" || /^(ways|picture|mark:)/.test(sense)) return true
  return false
}

/** A small word, or one that says how: it goes with what stands beside it. */
export function isSmall(item: Item): boolean {
  return item.senses.has("light") || item.senses.has("courtesy") || carriesLittle(item)
}

/** Joins the parts of a list and headings to the clause they belong to. */
export function joinPieces(pieces: readonly Clause[], today: Day): Clause[] {
  const joined: Clause[] = []
  let waiting: Clause | null = null
  for (let index = 0; index < pieces.length; index += 1) {
    const next = pieces[index + 1]
    const piece = pieces[index] as Clause
    if (next && (isDenied(piece, next) || isHeadedKind(piece, next))) {
      // "kitchen - not yet", "watering: done"
      const whole = append(piece, next)
      joined.push(waiting ? prepend(waiting, whole) : whole)
      waiting = null
      index += 1
      continue
    }
    if (waiting && piece.mends && isBare(piece) && piece.items.some(isTarget)) {
      // "bed 2 - I mean bed 4 - is cut"
      const items = piece.items.filter((item) => !isWay(item, "mend"))
      waiting = { ...piece, items, mends: false, firm: false, opener: waiting.opener }
      continue
    }
    if (!isBare(piece) || piece.mends) {
      joined.push(waiting ? prepend(waiting, piece) : piece)
      waiting = null
      continue
    }
    const before = joined.at(-1)
    if (before && next && !waiting && isListOfDenial(piece, next, before, today)) {
      joined.push(append(piece, next))
      index += 1
    } else if (waiting) waiting = append(waiting, piece)
    else if (next && belongsAhead(piece, next, before, today)) waiting = piece
    else if (before && saysSomething(before) && !standsAlone(piece, before, today, next))
      joined[joined.length - 1] = append(before, piece)
    else joined.push(piece)
  }
  if (waiting) joined.push(waiting)
  return joined
}

/** A head, or a stop word that a list stands behind ("cancel 16 and 17"). */
function saysSomething(piece: Clause): boolean {
  return (
    piece.heads.length > 0 || piece.items.some((item) => isOne(item, "stop-order") && item.senses.has("stop:words"))
  )
}

/** A name, or a word or two that say something, with nothing but a denial behind a dash, a colon or a comma. */
function isDenied(piece: Clause, next: Clause): boolean {
  if (next.opener !== "comma" && next.opener !== "colon") return false
  const denies = next.items.some((item) => isWay(item, "not") && !isWay(item, "mend"))
  const only = next.items.every((item) => isWay(item, "not") || isWay(item, "yet") || isPolite(item))
  if (!denies || !only || next.heads.length > 0) return false
  const terse = piece.items.every(
    (item) => isTarget(item) || startsWith(item, "article") || piece.heads.some((head) => head.item === item),
  )
  return terse && piece.items.length > 0
}

/** "watering: done": the kind of work heads what is said of it. */
function isHeadedKind(piece: Clause, next: Clause): boolean {
  if (next.opener !== "colon" || next.heads.length === 0) return false
  const named = piece.heads.some((head) => head.work?.forms.has("noun"))
  return (
    named && piece.items.every((item) => startsWith(item, "article") || piece.heads.some((head) => head.item === item))
  )
}

/** "1 and 5 done, 2 and 4 not": the list is of the negation behind it. */
function isListOfDenial(piece: Clause, next: Clause, before: Clause, today: Day): boolean {
  return next.opener === "and" && piece.opener !== "and" && isBare(next) && standsAlone(next, before, today)
}

const ALONE = ["not", "yet", "past", "nearly", "partly"]

/** A bare piece with a second day, or a negation, is a short clause: "and 1 today", "but not north", "crimson past it". */
function standsAlone(piece: Clause, before: Clause, today: Day, next?: Clause): boolean {
  if (!piece.items.some(isTarget)) return false
  const again = piece.items.some((item) => item.day) && before.items.some((item) => item.day)
  // "done 1, 2 tomorrow"; but all of "snooze 5, 9 and 10 for a week".
  const reported = before.heads.some((head) => head.work) && !before.heads.some((head) => head.command)
  const ahead = reported && piece.items.some((item) => item.day && isAhead(item.day.day, today))
  // "will do" is courtesy by itself, and a promise with a number beside it.
  const promised = piece.items.some((item) => item.senses.has("courtesy") && startsWith(item, "will"))
  return (
    again ||
    ahead ||
    promised ||
    isNextJob(piece, before, next) ||
    isHeld(before, next) ||
    isMoreFigures(piece, before) ||
    piece.items.some((item) => ALONE.some((way) => isWay(item, way)))
  )
}

/** "oats 6 in tall, peas 4": another plant with a figure of its own. */
function isMoreFigures(piece: Clause, before: Clause): boolean {
  if (!before.heads.some((head) => head.figure)) return false
  return piece.items.some((item) => item.species ?? item.bed) && piece.items.some((item) => item.numbers && !item.bed)
}

/** "31 done and 32 when the garlic comes": the condition is of what stands right before it. */
function isHeld(before: Clause, next?: Clause): boolean {
  if (next?.opener !== "when" && next?.opener !== "if") return false
  const last = before.heads.at(-1)?.at ?? 0
  return !before.items.slice(last + 1).some(isTarget)
}

/**
 * "finished the patio, brook on saturday": one more name with a weekday of its own, behind a comma and without "and", is
 * no list, and the weekday may lie ahead.
 */
export function isNextJob(
  piece: { items: readonly Item[]; opener: Opener },
  before: { items: readonly Item[]; heads: readonly Head[] },
  next?: { opener: Opener; heads: readonly Head[]; items: readonly Item[] },
): boolean {
  if (piece.opener !== "comma" || before.items.some((item) => item.day)) return false
  if (next?.opener === "and" && isBare(next)) return false
  if (!before.heads.some((head) => head.work) || before.heads.some((head) => head.command)) return false
  return (
    piece.items.filter(isTarget).length === 1 &&
    piece.items.some(({ day }) => day?.day.said === "weekday" && (day.day.which === "bare" || day.day.which === "this"))
  )
}

/** A day that can only lie ahead: tomorrow, next week. */
function isAhead(said: SaidDay, today: Day): boolean {
  if (said.said === "day") return said.day > today
  if (said.said === "weekday") return said.which === "next"
  return ["span", "months", "after-weekend", "week-end"].includes(said.said)
}

function belongsAhead(piece: Clause, next: Clause, before: Clause | undefined, today: Day): boolean {
  if (next.opener === "colon") return true
  // "16 not yet 14 done"
  if (piece.items.some((item) => isWay(item, "yet")) && piece.items.some(isTarget)) return false
  if (!before || before.heads.length === 0) return next.heads.length > 0 || isBare(next)
  if (standsAlone(piece, before, today) || next.heads.length === 0) return false
  const leads = next.items.slice(0, next.heads[0]?.at ?? 0).some(isTarget)
  // "cut south, north and east are blooming"; but "cut south, north, and watered kitchen".
  if (leads && next.opener === "and" && piece.opener === "comma") return true
  return !piece.items.some(isTarget) && before.items.some((item) => item.day)
}

export function append(before: Clause, piece: Clause): Clause {
  const shift = before.items.length
  const either = before.either ?? piece.either ?? (piece.opener === "or" && piece.items.some(isTarget))
  return {
    ...before,
    ...(either ? { either } : {}),
    items: [...before.items, ...piece.items],
    heads: [...before.heads, ...piece.heads.map((head) => ({ ...head, at: head.at + shift }))],
  }
}

export function prepend(piece: Clause, next: Clause): Clause {
  return { ...append(piece, next), opener: piece.opener, mends: piece.mends || next.mends }
}
