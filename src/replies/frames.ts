import type { Stage } from "../garden/acts.ts"
import type { ReminderKind } from "../garden/entry.ts"
import type { Then } from "../garden/garden.ts"
import type { Clause, Opener } from "./clauses.ts"
import type { SaidDay } from "./days.ts"
import { type Form, fartherStage, type Head, type Work } from "./heads.ts"
import type { Item } from "./items.ts"
import type { Words } from "./vocabulary.ts"

/** What a clause names, in the order in which it stands there. */
export type Named = { item: Item; at: number }

/** A clause read as one statement: what is said (heads), of what (named), when (days) and how (ways). */
export type Frame = {
  items: readonly Item[]
  opener: Opener
  sentence: number
  mends: boolean
  heads: readonly Head[]
  /** The first head's place; the end of the clause where there is none. */
  headAt: number
  work: { work: Work; forms: ReadonlySet<Form> } | null
  stage: Stage | null
  then: Then | null
  command: string | null
  figures: readonly Item[]
  named: readonly Named[]
  /** Named behind "except" or "not": the statement is not of these. */
  left: readonly Named[]
  days: readonly { day: SaidDay; lead: string | null; at: number }[]
  kind: ReminderKind | null
  asked: boolean
  /** Said under a condition, or of a time that has not come. */
  held: boolean
  /** A short clause that takes its head from the one before it ("common not yet"). */
  short: boolean
  has(way: string): boolean
  /** Is the way said before the first head? */
  before(way: string): boolean
  /** Words that nobody here knows: other people's plants, tools, weather. */
  stray: readonly Item[]
}

/** Reads clauses as frames. */
export function readFrames(clauses: readonly Clause[], vocabulary: Words): Frame[] {
  const frames: Frame[] = []
  for (const clause of clauses) frames.push(readFrame(clause, vocabulary, frames.at(-1)))
  return frames
}

function readFrame(clause: Clause, vocabulary: Words, last: Frame | undefined): Frame {
  const { items } = clause
  const main = clause.heads
  const headAt = main[0]?.at ?? items.length
  const { work, kind } = workOf(main, items, vocabulary)
  const ways = (from: number, to: number, way: string): boolean =>
    items.slice(from, to).some((item) => item.senses.has(`ways:${way}`))
  const { named, left } = namedIn(items, main)
  return {
    items,
    opener: clause.opener,
    sentence: clause.sentence,
    mends: clause.mends,
    heads: main,
    headAt,
    work,
    stage: stageOf(main),
    then: main.find((head) => head.then)?.then ?? null,
    command: main.find((head) => head.command)?.command ?? null,
    figures: main.filter((head) => head.figure).map((head) => head.item),
    named,
    left,
    days: items.flatMap((item, at) => (item.day ? [{ ...item.day, at }] : [])),
    kind,
    asked: clause.asked,
    held: clause.opener === "if" || clause.opener === "when" || (last?.held === true && last.sentence === clause.sentence && last.opener === "if"),
    short: main.length === 0,
    has: (way) => ways(0, items.length, way),
    before: (way) => ways(0, headAt, way),
    stray: items.filter((item) => isStray(item) && !main.some((head) => head.item === item)),
  }
}

export function isStray(item: Item): boolean {
  if (item.bed) return false
  return item.senses.has("content") || item.senses.has("trap") || item.senses.has("bed-not")
}

/** The work a clause reports; a kind noun beside "done" or a command only says which reminder is meant. */
function workOf(heads: readonly Head[], items: readonly Item[], vocabulary: Words): { work: Frame["work"]; kind: ReminderKind | null } {
  const works = heads.flatMap((head) => (head.work ? [head.work] : []))
  const command = heads.some((head) => head.command)
  const done = works.find((each) => each.work === "done")
  const named = works.find((each) => each.work !== "done")
  const spoken = kindWord(items, vocabulary)
  if (command || (done && named)) {
    const kind = named ? kindOf(named.work) : spoken
    return { work: done ?? (command ? (named ?? null) : null), kind }
  }
  return { work: named ?? done ?? null, kind: named ? kindOf(named.work) : spoken }
}

export function kindOf(work: Work): ReminderKind | null {
  return work === "done" ? null : work
}

/** A noun that says which kind of reminder is meant: "the watering", "bloom check". */
function kindWord(items: readonly Item[], vocabulary: Words): ReminderKind | null {
  for (const item of items) {
    if (item.to - item.from !== 1 || item.bed) continue
    for (const [kind, words] of Object.entries(vocabulary.data.kinds)) {
      if (words.includes(item.words[0]?.word ?? "")) return kind as ReminderKind
    }
  }
  return null
}

function stageOf(heads: readonly Head[]): Stage | null {
  let stage: Stage | null = null
  for (const head of heads) if (head.stage) stage = stage ? fartherStage(stage, head.stage) : head.stage
  return stage
}

/** What is named, apart from what is left out ("except 2", "north not south"). */
function namedIn(items: readonly Item[], heads: readonly Head[]): { named: Named[]; left: Named[] } {
  const named: Named[] = []
  const left: Named[] = []
  let out = false
  let denied = false
  const firstHead = heads[0]?.at ?? -1
  items.forEach((item, at) => {
    if (item.senses.has("ways:except") || item.senses.has("ways:kept")) out = true
    const isNamed = Boolean(item.bed ?? item.species ?? item.crops ?? item.numbers)
    if (item.senses.has("ways:not") && !isNamed) {
      // "not" counts against a name only where no head follows it: "done 1 not 2", "that was north not south".
      denied = heads.length === 0 || at > firstHead
      return
    }
    if (!isNamed || item.amount || item.day?.day.said === "month-day") {
      if (!isJoining(item)) denied = false
      return
    }
    const entry = { item, at }
    if (out || denied) left.push(entry)
    else named.push(entry)
    if (denied && !nextIsJoined(items, at)) denied = false
  })
  // A lone "not south" without anything else named is a negated statement, no contrast.
  if (heads.length === 0 && named.length === 0) return { named: left, left: [] }
  return { named, left }
}

function isJoining(item: Item): boolean {
  return item.senses.has("light")
}

function nextIsJoined(items: readonly Item[], at: number): boolean {
  const next = items[at + 1]?.words[0]?.word
  return next === "or" || next === "and" || next === "nor"
}
