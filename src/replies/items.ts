import { amountAt } from "./amounts.ts"
import { bedLists, type Listed } from "./bed-lists.ts"
import { bedAt } from "./beds.ts"
import type { DayScene } from "./dates.ts"
import { dayAt } from "./day-words.ts"
import type { Item } from "./item.ts"
import { addBed, addPlants } from "./name-items.ts"
import { addNumber, addTime, numberedMark } from "./numbers.ts"
import { BONUS, type ItemScene, type Part, type Push } from "./parts.ts"
import type { Found } from "./phrases.ts"
import { quotationsIn, quotesIn } from "./quotations.ts"
import { isTagged } from "./says.ts"
import { tile } from "./tile.ts"
import type { Word } from "./words.ts"

/** Reads the words as items that cover the text without overlap: the reading with the longest parts. */
export function readItems(words: readonly Word[], scene: ItemScene): Item[] {
  const said = words.map((word) =>
    word.kind === "number"
      ? word.value === undefined
        ? ""
        : String(word.value)
      : word.kind === "mark"
        ? "\u0000"
        : word.word,
  )
  const { species, crops } = scene.context.words
  const isName = (word: Word | undefined): boolean =>
    word !== undefined && (species.has(word.word) || crops.has(word.word) || scene.beds.words.has(word.word))
  const passable = (index: number): boolean => {
    const word = words[index] as Word
    if (word.kind !== "word" && word.kind !== "number") return false
    // "got 9 tomatoes and 4 basil in": a list of plants is one thing.
    if (isTagged(word, "plain-and")) return isName(words[index - 1]) && [1, 2].some((n) => isName(words[index + n]))
    return !isTagged(word, "and-but")
  }
  const phrases = words.map((word, index) =>
    word.kind === "mark" ? [] : scene.context.words.book.at(said, index, passable),
  )
  const parts: Part[][] = words.map(() => [])
  const nameEnds = words.map((_, index) => bedAt(scene.beds, words, index, scene.context.words)?.to ?? index)
  const held = gapPhrases(phrases, parts, words, nameEnds)
  const reading: Reading = {
    ...scene,
    words,
    phrases,
    held,
    parts,
    nameEnds,
    quoted: quotesIn(words),
    days: dayScene(words, phrases, scene),
    lists: bedLists(scene.beds, words, scene.context.words, scene.context.open),
  }
  const foreign = quotationsIn(words)
  for (let i = 0; i < words.length; i += 1) {
    if (foreign[i])
      parts[i]?.splice(0, Number.POSITIVE_INFINITY, {
        from: i,
        to: i + 1,
        senses: [words[i]?.kind === "mark" ? "mark" : "content"],
        weight: 1,
      })
    else if (held[i] === undefined) addParts(i, reading)
  }
  return tile(words, parts)
}

/** Phrases with a gap hold their words for themselves; what stands in the gap is read on its own. */
function gapPhrases(
  phrases: readonly Found[][],
  parts: Part[][],
  words: readonly Word[],
  nameEnds: readonly number[],
): (true | undefined)[] {
  const held = new Array<true | undefined>(words.length)
  for (let i = 0; i < words.length; i += 1) {
    const gaps = phrases[i]?.filter((found) => found.gap) ?? []
    let best: Found | null = null
    for (const found of gaps) if (!best || found.to > best.to) best = found
    // "left of the path on monday" is a bed of that name.
    if (!best?.gap || held[i] || (nameEnds[i] as number) > i + 1) continue
    const { gap, from, to } = best
    const senses = gaps.filter((each) => each.gap?.to === gap.to && each.gap.from === gap.from && each.to === to)
    for (let j = from; j < gap.from; j += 1) held[j] = true
    for (let j = gap.to; j < to; j += 1) held[j] = true
    parts[from]?.push({ from, to: gap.from, senses: senses.map((each) => each.sense), weight: 1 })
    parts[gap.to]?.push({ from: gap.to, to, senses: ["tail"], weight: 1 })
    // An "and" inside divides nothing.
    for (let j = gap.from; j < gap.to; j += 1)
      if (isTagged(words[j], "plain-and")) {
        held[j] = true
        parts[j]?.push({ from: j, to: j + 1, senses: ["light", "inside"], weight: 1 })
      }
  }
  return held
}

/** One text while its items are read. */
type Reading = ItemScene & {
  words: readonly Word[]
  phrases: readonly Found[][]
  /** Words that a phrase with a gap holds. */
  held: readonly (true | undefined)[]
  parts: Part[][]
  /** Where the name of a bed that begins at a word ends; that word itself where none does. */
  nameEnds: readonly number[]
  /** Is the word behind an opening quotation mark? */
  quoted: readonly boolean[]
  days: DayScene
  /** Numbers that go on a list of beds. */
  lists: ReadonlyMap<number, Listed>
}

function dayScene(words: readonly Word[], phrases: readonly Found[][], { context }: ItemScene): DayScene {
  return {
    words,
    vocabulary: context.words,
    today: context.now.day,
    order: context.dates,
    numbers: new Set(context.open.map((each) => each.n)),
    phrasesAt: (index) => phrases[index] ?? [],
  }
}

function addParts(at: number, scene: Reading): void {
  const { words, phrases, held, parts } = scene
  const word = words[at] as Word
  const free = (to: number): boolean => {
    for (let i = at; i < to; i += 1) if (held[i]) return false
    return true
  }
  const push = (
    to: number,
    bonus: number,
    senses: readonly string[],
    more: Partial<Omit<Item, "senses">> = {},
  ): void => {
    if (!free(to)) return
    const length = to - at
    parts[at]?.push({ from: at, to, senses, weight: 16 * length - 6 + bonus, ...more })
  }
  if (word.kind === "mark") {
    numberedMark(words, at, push)
    push(at + 1, BONUS.none, [`mark:${word.word}`], { mark: word.word })
    addMeasuredMark(words, at, scene, push)
    const per = amountAt(words, at, scene.context.words, scene.context.units, false)
    if (per?.amount.of === "area") push(per.to, BONUS.amount, [], { amount: per.amount })
    return
  }
  const listed = scene.lists.get(at)
  if (listed) {
    push(listed.to, BONUS.bed, [], { bed: listed.bed })
    return
  }
  // "will do" is courtesy by itself, and a promise in front of what will be done.
  const promises = (to: number): boolean => {
    const next = words[to]
    if (!isTagged(words[to - 1], "did-what") || !next || next.kind === "mark") return false
    const named = (scene.nameEnds[to] as number) > to || scene.context.words.species.has(next.word)
    return named || next.kind === "number" || isTagged(next, "the") || isTagged(next, "object-it")
  }
  for (const { sense, to, gap } of phrases[at] ?? [])
    if (
      !(sense === "courtesy" && promises(to)) &&
      !gap &&
      !sense.startsWith("day:") &&
      !cutsName(at, to, scene.nameEnds)
    )
      push(to, bonusOf(sense), [sense])
  addBed(words, at, phrases, scene, push)
  addPlants(words, at, scene, push)
  const day = dayAt(scene.days, at)
  if (day) push(day.to, BONUS.day, [], { day: { day: day.day, lead: day.lead } })
  const amount = amountAt(words, at, scene.context.words, scene.context.units, scene.quoted[at] === true)
  if (amount) push(amount.to, BONUS.amount, [], { amount: amount.amount })
  const part = fractionTo(words, at)
  if (
    part !== null &&
    (isTagged(words[part], "part-of") || (phrases[part] ?? []).some(({ sense }) => /^act:/.test(sense)))
  )
    push(isTagged(words[part], "part-of") ? part + 1 : part, BONUS.bed, ["ways:partly"])
  addTime(words, at, push)
  addNumber(words, at, scene, push)
  if (word.kind === "picture") push(at + 1, BONUS.none, (phrases[at] ?? []).length > 0 ? [] : ["picture"])
  else if (scene.context.words.light.has(word.word)) push(at + 1, BONUS.light, ["light"])
  else push(at + 1, BONUS.none, [plainSense(words, at, scene)])
}

/** Where "1/2" or "½" ends, which is less than one; null where there is none. */
function fractionTo(words: readonly Word[], at: number): number | null {
  const [above, slash, below] = words.slice(at, at + 3)
  if (above?.kind !== "number") return null
  if ((above.value ?? 1) > 0 && (above.value ?? 1) < 1) return at + 1
  const glued = slash?.word === "/" && slash.glued && below?.kind === "number" && below.glued
  return glued && Number(above.word) < Number(below.word) && Number(below.word) <= 4 ? at + 3 : null
}

/** "in the shed bed": a phrase that ends inside the name of a bed is none. */
function cutsName(at: number, to: number, nameEnds: readonly number[]): boolean {
  for (let i = at + 1; i < to; i += 1) if ((nameEnds[i] as number) > to) return true
  return false
}

function bonusOf(sense: string): number {
  if (sense === "trap" || sense === "bed-not") return BONUS.trap
  if (sense === "courtesy" || sense.startsWith("picture")) return BONUS.courtesy
  if (sense === "crop-in") return BONUS.none
  return sense.startsWith("ways:") ? BONUS.way : BONUS.act
}

/** "-8 degrees": the sign belongs to the figure. */
function addMeasuredMark(words: readonly Word[], at: number, scene: ItemScene, push: Push): void {
  if ((words[at] as Word).word !== "-" || !words[at + 1]?.glued) return
  const amount = amountAt(words, at + 1, scene.context.words, scene.context.units, false)
  if (amount?.amount.of === "degrees") push(amount.to, BONUS.amount, [], { amount: { of: "other" } })
}

function plainSense(words: readonly Word[], at: number, scene: ItemScene): string {
  const word = words[at] as Word
  if (word.kind === "number") return "figure"
  const tags = scene.context.words.facts.get(word.word)?.tags
  if (tags?.has("plain-bed-noun")) return "light"
  if (tags?.has("measure") || tags?.has("square") || scene.context.words.units.has(word.word)) return "measure"
  if (tags?.has("person")) return "person"
  // "done by Maria", with no "the" between.
  if (isTagged(words[at - 1], "doer-lead")) return "person"
  return "content"
}
