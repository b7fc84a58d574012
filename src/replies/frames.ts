import type { Stage } from "../garden/acts.ts"
import type { ReminderKind } from "../garden/entry.ts"
import type { Then } from "../garden/garden.ts"
import type { Clause, Opener } from "./clause.ts"
import type { SaidDay } from "./days.ts"
import { type Form, fartherStage, type Head, type Work } from "./heads.ts"
import type { DayLead, Item } from "./item.ts"
import { startsWith } from "./says.ts"
import type { Words } from "./vocabulary.ts"

/** What a clause names, in the order in which it stands there. */
export type Named = { item: Item; at: number }

/** A clause read as one statement: what is said (heads), of what (named), when (days) and how (ways). */
export type Frame = {
  items: readonly Item[]
  opener: Opener
  sentence: number
  mends: boolean
  /** The words of correction it starts with can mean nothing else. */
  firm: boolean
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
  days: readonly { day: SaidDay; lead: DayLead | null; at: number }[]
  kind: ReminderKind | null
  asked: boolean
  /** Said under a condition, or of a time that has not come. */
  held: boolean
  /** What is named stands against each other ("1 or 2 is done"). */
  either: boolean
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
  const contrasts = contrastsIn(items, headAt, main)
  const ways = (from: number, to: number, way: string): boolean =>
    items.some(
      (item, at) => at >= from && at < to && item.senses.has(`ways:${way}`) && !(way === "not" && contrasts.has(at)),
    )
  const { named: all, left } = namedIn(items, contrasts)
  // "bus stop not up", where a bed goes by "up": a word that says something names nothing where another name is clear.
  const clear = all.some(({ item }) => item.bed && !item.bed.doubtful)
  const named = all.filter(({ item, at }) => !(clear && item.bed?.doubtful && main.some((head) => head.at === at)))
  return {
    items,
    opener: clause.opener,
    sentence: clause.sentence,
    mends: clause.mends,
    firm: clause.firm,
    heads: main,
    headAt,
    work,
    stage: stageOf(main),
    then: main.find((head) => head.then)?.then ?? null,
    command: main.find((head) => head.command)?.command ?? null,
    figures: main.filter((head) => head.figure).map((head) => head.item),
    named,
    left,
    days: daysIn(items, contrasts),
    kind,
    asked: clause.asked,
    held:
      clause.opener === "if" ||
      clause.opener === "when" ||
      isPlanned(clause, last) ||
      (last?.held === true && last.sentence === clause.sentence && last.opener === "if"),
    either: clause.either === true,
    short: main.length === 0,
    has: (way) => ways(0, items.length, way),
    before: (way) => ways(0, headAt, way),
    stray: items.filter((item) => isStray(item) && !main.some((head) => head.item === item)),
  }
}

/** "to do: cut south" */
function isPlanned(clause: Clause, last: Frame | undefined): boolean {
  if (clause.opener !== "colon" || last?.sentence !== clause.sentence || last.heads.length > 0) return false
  return last.has("must") || last.has("future") || last.has("wish")
}

export function isStray(item: Item): boolean {
  if (item.bed) return false
  return item.senses.has("content") || item.senses.has("trap") || item.senses.has("bed-not")
}

/** The work a clause reports; a kind noun beside "done" or a command only says which reminder is meant. */
function workOf(
  heads: readonly Head[],
  items: readonly Item[],
  vocabulary: Words,
): { work: Frame["work"]; kind: ReminderKind | null } {
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
    const kind =
      item.to - item.from === 1 && !item.bed ? vocabulary.facts.get(item.words[0]?.word ?? "")?.kind : undefined
    if (kind) return kind
  }
  return null
}

function stageOf(heads: readonly Head[]): Stage | null {
  let stage: Stage | null = null
  for (const head of heads) if (head.stage) stage = stage ? fartherStage(stage, head.stage) : head.stage
  return stage
}

/**
 * Places of every "not" that only sets one name against another ("north not south", "done 1 not 2", "not bed 2, bed 3"):
 * it stands right before a name, and something else is said or named.
 */
function contrastsIn(items: readonly Item[], headAt: number, heads: readonly Head[]): ReadonlySet<number> {
  const headed = heads.length > 0
  const contrasts = new Set<number>()
  items.forEach((item, at) => {
    if (!item.senses.has("ways:not") || isName(item) || startsWith(item, "neither")) return
    // "cut it friday, not saturday", "yesterday not today"
    const other = items[at - 1]?.day ?? items[at + 2]?.day
    if (items[at + 1]?.day && other && !items[at + 1]?.bed) contrasts.add(at)
    const first = nextName(items, at + 1)
    if (first === null || heads.some((head) => head.at === first)) return
    if (items.some((each) => each.senses.has("ways:yet"))) return
    const others = items.some(
      (each, other) =>
        other !== first && isName(each) && (headed ? other < headAt && (other > first || other === at - 1) : true),
    )
    if (headed ? at > headAt || others : others) contrasts.add(at)
  })
  return contrasts
}

/** Days that are said, but not those set against them ("friday not saturday"). */
function daysIn(
  items: readonly Item[],
  contrasts: ReadonlySet<number>,
): { day: SaidDay; lead: DayLead | null; at: number }[] {
  return items.flatMap((item, at) => (item.day && !contrasts.has(at - 1) ? [{ ...item.day, at }] : []))
}

function isName(item: Item): boolean {
  return Boolean(item.bed ?? item.species ?? item.crops ?? item.numbers) && !item.amount
}

/** The name right behind a place, with nothing but "the" between. */
function nextName(items: readonly Item[], from: number): number | null {
  const at = startsWith(items[from], "article") ? from + 1 : from
  const item = items[at]
  return item && isName(item) ? at : null
}

/** What is named, apart from what is left out ("except 2", "north not south", "leaving the white"). */
function namedIn(items: readonly Item[], contrasts: ReadonlySet<number>): { named: Named[]; left: Named[] } {
  const named: Named[] = []
  const left: Named[] = []
  let out = false
  let denied: number | null = null
  items.forEach((item, at) => {
    if (!item.bed && (item.senses.has("ways:except") || item.senses.has("ways:kept"))) out = true
    if (contrasts.has(at)) denied = nextName(items, at + 1)
    if (!isName(item) || item.day?.day.said === "month-day" || item.senses.has("ways:mend")) return
    if (out || denied === at) left.push({ item, at })
    else named.push({ item, at })
  })
  return { named, left }
}
