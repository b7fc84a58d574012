import type { Amount } from "./amounts.ts"
import { amountAt } from "./amounts.ts"
import { type BedMention, type BedNames, bedAt, unknownBedAt } from "./beds.ts"
import type { ReplyContext } from "./context.ts"
import { type DayLead, type DayScene, dayAt } from "./day-words.ts"
import type { SaidDay } from "./days.ts"
import type { Found } from "./phrases.ts"
import { inBedPlace, inSoundPlace } from "./places.ts"
import { isTagged } from "./says.ts"
import type { Name } from "./vocabulary.ts"
import type { Word } from "./words.ts"

/** A run of words that belong together, with everything it may mean. */
export type Item = {
  from: number
  to: number
  words: readonly Word[]
  /** Senses of the vocabulary, such as `act:cut:did`, `stages:bloom`, `ways:not`. */
  senses: ReadonlySet<string>
  bed?: BedMention
  /** Ids of every species the words may name. */
  species?: readonly string[]
  crops?: readonly string[]
  day?: { day: SaidDay; lead: DayLead | null }
  amount?: Amount
  /** Whole numbers, such as those of reminders; more than one for "1-3". */
  numbers?: readonly number[]
  /** "#2", "number 2": surely the number of a reminder. */
  marked?: true
  /** A time of the clock. */
  time?: true
  mark?: string
}

/** What items are read with. */
export type ItemScene = { context: ReplyContext; beds: BedNames; grown: ReadonlySet<string> }

type Part = Omit<Item, "words" | "senses"> & { senses: readonly string[]; weight: number }

/** Weights of readings of equal length: names of the garden first, then what makes an act, then the small words. */
const BONUS = {
  bed: 7,
  trap: 4,
  act: 3,
  day: 3,
  amount: 3,
  plant: 3,
  way: 2,
  courtesy: 2,
  number: 1,
  light: 1,
  none: 0,
}

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
  const passable = (index: number): boolean => {
    const word = words[index] as Word
    return (word.kind === "word" || word.kind === "number") && !isTagged(word, "and-but")
  }
  const phrases = words.map((word, index) =>
    word.kind === "mark" ? [] : scene.context.words.book.at(said, index, passable),
  )
  const parts: Part[][] = words.map(() => [])
  const held = gapPhrases(phrases, parts, words.length)
  const reading: Reading = {
    ...scene,
    words,
    phrases,
    held,
    parts,
    quoted: quotesIn(words),
    days: dayScene(words, phrases, scene),
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
function gapPhrases(phrases: readonly Found[][], parts: Part[][], count: number): (true | undefined)[] {
  const held = new Array<true | undefined>(count)
  for (let i = 0; i < count; i += 1) {
    const gaps = phrases[i]?.filter((found) => found.gap) ?? []
    let best: Found | null = null
    for (const found of gaps) if (!best || found.to > best.to) best = found
    if (!best?.gap || held[i]) continue
    const { gap, from, to } = best
    const senses = gaps.filter((each) => each.gap?.to === gap.to && each.gap.from === gap.from && each.to === to)
    for (let j = from; j < gap.from; j += 1) held[j] = true
    for (let j = gap.to; j < to; j += 1) held[j] = true
    parts[from]?.push({ from, to: gap.from, senses: senses.map((each) => each.sense), weight: 1 })
    parts[gap.to]?.push({ from: gap.to, to, senses: ["tail"], weight: 1 })
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
  /** Is the word behind an opening quotation mark? */
  quoted: readonly boolean[]
  days: DayScene
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
  for (const { sense, to, gap } of phrases[at] ?? [])
    if (!gap && !sense.startsWith("day:")) push(to, bonusOf(sense), [sense])
  addBed(words, at, phrases, scene, push)
  addPlants(words, at, scene, push)
  const day = dayAt(scene.days, at)
  if (day) push(day.to, BONUS.day, [], { day: { day: day.day, lead: day.lead } })
  const amount = amountAt(words, at, scene.context.words, scene.context.units, scene.quoted[at] === true)
  if (amount) push(amount.to, BONUS.amount, [], { amount: amount.amount })
  addTime(words, at, push)
  addNumber(words, at, scene, push)
  if (word.kind === "picture") push(at + 1, BONUS.none, (phrases[at] ?? []).length > 0 ? [] : ["picture"])
  else if (scene.context.words.light.has(word.word)) push(at + 1, BONUS.light, ["light"])
  else push(at + 1, BONUS.none, [plainSense(words, at, scene)])
}

type Push = (to: number, bonus: number, senses: readonly string[], more?: Partial<Omit<Item, "senses">>) => void

function bonusOf(sense: string): number {
  if (sense === "trap" || sense === "bed-not") return BONUS.trap
  if (sense === "courtesy" || sense.startsWith("picture")) return BONUS.courtesy
  if (sense === "crop-in") return BONUS.none
  return sense.startsWith("ways:") ? BONUS.way : BONUS.act
}

function addBed(words: readonly Word[], at: number, phrases: readonly Found[][], scene: ItemScene, push: Push): void {
  const { words: vocabulary } = scene.context
  const found = bedAt(scene.beds, words, at, vocabulary)
  if (found && (!found.mention.doubtful || inBedPlace(words, at, found.to, phrases, vocabulary)))
    push(found.to, BONUS.bed, [], { bed: found.mention })
  const isPlain = (index: number): boolean =>
    !(phrases[index] ?? []).some((each) => each.to === index + 1 && /^(act|commands|ways:not)/.test(each.sense))
  const unknown = unknownBedAt(words, at, vocabulary, isPlain)
  if (!unknown || (found && found.to >= unknown.to)) return
  const species = grownThere(words, at, scene)
  push(unknown.to, BONUS.bed, [], { bed: { beds: species, doubtful: false } })
}

/** "the rye bed" is the bed where rye grows, if no bed has that name. */
function grownThere(words: readonly Word[], at: number, scene: ItemScene): string[] {
  const name = longestName(scene.context.words.species, words, at)
  if (!name) return []
  return scene.context.beds.filter((bed) => bed.species.some((id) => name.ids.includes(id))).map((bed) => bed.id)
}

function addPlants(words: readonly Word[], at: number, scene: ItemScene, push: Push): void {
  const { words: vocabulary } = scene.context
  const species = longestName(vocabulary.species, words, at)
  const crop = longestName(vocabulary.crops, words, at)
  if (species) push(at + species.words.length, BONUS.plant, [], { species: species.ids })
  if (crop) {
    let to = at + crop.words.length
    if (vocabulary.facts.get(words[to]?.word ?? "")?.tags.has("crop-noun")) to += 1
    push(to, BONUS.plant, [], { crops: crop.ids })
    if (to > at + crop.words.length) push(at + crop.words.length, BONUS.plant, [], { crops: crop.ids })
  }
  addShortNames(words, at, scene, push)
  const sound = vocabulary.facts.get((words[at] as Word).word)?.soundsSpecies
  const heard = sound === undefined ? undefined : vocabulary.species.get(sound)?.find((each) => each.words.length === 1)
  if (heard?.ids.some((id) => scene.grown.has(id)) && inSoundPlace(words, at, vocabulary))
    push(at + 1, BONUS.bed, [], { species: heard.ids })
}

/** "crimson", "hairy", "the white": the first word of a name that grows here beside another of its kind. */
function addShortNames(words: readonly Word[], at: number, scene: ItemScene, push: Push): void {
  const word = (words[at] as Word).word
  const ids = [...scene.grown].filter((id) => id.startsWith(`${word}-`))
  if (ids.length === 0 || word.length < 3) return
  const before = words[at - 1]
  const placed = !before || before.kind === "mark" || isTagged(before, "short-lead")
  const plain = scene.context.words.light.has(word)
  if (!plain || placed) push(at + 1, plain ? BONUS.light + 1 : BONUS.plant, [], { species: ids })
}

function longestName(names: ReadonlyMap<string, readonly Name[]>, words: readonly Word[], at: number): Name | null {
  let best: Name | null = null
  for (const name of names.get((words[at] as Word).word) ?? []) {
    const fits = name.words.every((part, i) => {
      const word = words[at + i]
      return word?.kind !== "mark" && (word?.word === part || (word?.kind === "number" && word.word === part))
    })
    if (fits && (!best || name.words.length > best.words.length)) best = name
  }
  return best
}

/** 7pm, 7:30, at 7, around 6 o'clock: says nothing about the day. */
function addTime(words: readonly Word[], at: number, push: Push): void {
  let i = at
  const led = isTagged(words[i], "clock-lead")
  if (led) i += 1
  if (isTagged(words[i], "about")) i += 1
  const hour = words[i]
  if (hour?.kind !== "number" || !Number.isInteger(hour.value) || (hour.value as number) > 24) return
  i += 1
  let sure = false
  if (words[i]?.word === ":" && words[i + 1]?.kind === "number" && words[i]?.glued && words[i + 1]?.glued) {
    sure = true
    i += 2
  }
  if (isTagged(words[i], "clock")) {
    sure = true
    i += 1
  }
  if (sure) push(i, BONUS.day, [], { time: true })
}

/** "#2" */
function numberedMark(words: readonly Word[], at: number, push: Push): void {
  const number = words[at + 1]
  if ((words[at] as Word).word === "#" && number?.kind === "number" && Number.isInteger(number.value))
    push(at + 2, BONUS.number, [], { numbers: [number.value as number], marked: true })
}

/** "-8 degrees": the sign belongs to the figure. */
function addMeasuredMark(words: readonly Word[], at: number, scene: ItemScene, push: Push): void {
  if ((words[at] as Word).word !== "-" || !words[at + 1]?.glued) return
  const amount = amountAt(words, at + 1, scene.context.words, scene.context.units, false)
  if (amount?.amount.of === "degrees") push(amount.to, BONUS.amount, [], { amount: { of: "other" } })
}

function addNumber(
  words: readonly Word[],
  at: number,
  scene: ItemScene & { words: readonly Word[] },
  push: Push,
): void {
  const { facts } = scene.context.words
  const word = words[at] as Word
  let i = at
  let marked = false
  if (isTagged(word, "number-lead")) {
    i += 1
    if (words[i]?.word === "." && words[i]?.glued) i += 1
    if (words[i]?.word === "#") i += 1
    marked = true
  }
  const number = words[i]
  if (!number) return
  const sign = words[at - 1]
  const isNegative = sign?.word === "-" && number.glued && !sign.glued
  if (isNegative && number.kind === "number") return
  const fact = facts.get(number.word)
  const heard = fact?.soundsNumber !== undefined && (marked || isHeard(at, scene, fact.soundsNumber))
  const value = wholeNumber(number) ?? fact?.number ?? (heard ? fact.soundsNumber : undefined)
  if (value === undefined || number.kind === "mark" || value > 999) return
  const last = rangeEnd(words, i)
  if (last !== null && last > value && last - value < 20) {
    const all = Array.from({ length: last - value + 1 }, (_, n) => value + n)
    push(i + 3, BONUS.number, [], { numbers: all, ...(marked ? { marked: true } : {}) })
  }
  push(i + 1, heard ? BONUS.bed : BONUS.number, [number.kind === "number" ? "digits" : "spelt"], {
    numbers: [value],
    ...(marked ? { marked: true } : {}),
  })
}

/** "done won", "snooze too": what sounds like an open number, right behind the word that a number answers. */
function isHeard(at: number, { words, context }: ItemScene & { words: readonly Word[] }, value: number): boolean {
  const word = words[at]
  const after = words[at + 1]
  if (!isTagged(words[at - 1], "answer") || !context.open.some((each) => each.n === value)) return false
  if (isTagged(word, "for")) return false
  if (!isTagged(word, "to-too")) return !after || after.kind === "mark" || isTagged(after, "heard-end")
  return at === 1 && (!after || (isTagged(word, "too") && isTagged(after, "heard-day")))
}

function wholeNumber(word: Word): number | undefined {
  return word.kind === "number" && Number.isInteger(word.value) && !word.ordinal && !word.dotted
    ? word.value
    : undefined
}

/** The end of "1-3", "1 to 3", "1 thru 3". */
function rangeEnd(words: readonly Word[], at: number): number | null {
  const [first, mark, last] = words.slice(at, at + 3)
  if (!first || !last || !mark || wholeNumber(first) === undefined) return null
  const ranged = (mark.kind === "mark" && mark.word === "-") || isTagged(mark, "through")
  return ranged ? (wholeNumber(last) ?? null) : null
}

function plainSense(words: readonly Word[], at: number, scene: ItemScene): string {
  const word = words[at] as Word
  if (word.kind === "number") return "figure"
  const tags = scene.context.words.facts.get(word.word)?.tags
  if (tags?.has("plain-bed-noun")) return "light"
  if (tags?.has("measure") || tags?.has("square") || scene.context.words.units.has(word.word)) return "measure"
  if (tags?.has("person")) return "person"
  return "content"
}

/** A longer quotation inside a text is someone else's words, most often ours: nothing in it is read. */
const QUOTED_WORDS = 3

function quotationsIn(words: readonly Word[]): boolean[] {
  const foreign = new Array<boolean>(words.length).fill(false)
  let open = -1
  words.forEach((word, at) => {
    if (word.kind !== "mark" || word.word !== '"' || (word.glued && words[at - 1]?.kind === "number" && open < 0))
      return
    if (open < 0) {
      open = at
      return
    }
    const said = words.slice(open + 1, at).filter((each) => each.kind !== "mark").length
    const others = words.some((each, i) => each.kind !== "mark" && (i < open || i > at))
    if (said >= QUOTED_WORDS && others) foreign.fill(true, open + 1, at)
    open = -1
  })
  return foreign
}

/** For every word: does it stand between an opening quotation mark and its closing one? An inch mark opens nothing. */
function quotesIn(words: readonly Word[]): boolean[] {
  let open = false
  return words.map((word, at) => {
    const inside = open
    if (word.kind === "mark" && word.word === '"')
      open = open ? false : !(word.glued && words[at - 1]?.kind === "number")
    return inside
  })
}

/** The tiling of the words with the greatest weight, from the end of the text to its start. */
function tile(words: readonly Word[], parts: readonly Part[][]): Item[] {
  const count = words.length
  const best = new Array<number>(count + 1).fill(0)
  const chosen = new Array<number>(count).fill(0)
  for (let i = count - 1; i >= 0; i -= 1) {
    let top = Number.NEGATIVE_INFINITY
    for (const part of parts[i] ?? []) {
      const weight = part.weight + (best[part.to] as number)
      if (weight > top) {
        top = weight
        chosen[i] = part.to
      }
    }
    if (top === Number.NEGATIVE_INFINITY) chosen[i] = i + 1
    best[i] = Math.max(top, best[i + 1] as number)
  }
  const items: Item[] = []
  for (let i = 0; i < count; i = chosen[i] as number) {
    const to = chosen[i] as number
    items.push(merged(words, i, to, parts[i]?.filter((part) => part.to === to) ?? []))
  }
  return items
}

const PLAIN = new Set(["content", "name", "figure", "person"])

function merged(words: readonly Word[], from: number, to: number, parts: readonly Part[]): Item {
  const told = parts.some(
    (part) => part.bed ?? part.species ?? part.crops ?? part.day ?? part.amount ?? part.numbers ?? part.time,
  )
  const all = parts.flatMap((part) => part.senses)
  const read = all.filter((sense) => !PLAIN.has(sense))
  // A word that has a meaning here is no unknown word.
  const senses = new Set(read.length > 0 || told ? read : all)
  const item: Item = { from, to, words: words.slice(from, to), senses }
  for (const part of parts) {
    for (const key of ["bed", "species", "crops", "day", "amount", "numbers", "marked", "time", "mark"] as const) {
      if (part[key] !== undefined) Object.assign(item, { [key]: part[key] })
    }
  }
  return item
}
