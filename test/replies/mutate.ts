import type { Act } from "../../src/garden/acts.ts"
import { understand } from "../../src/replies/understand.ts"
import { type CaseGarden, checkShape, contextFor, type Reading } from "./gardens.ts"

/** Repeatable randomness for tests: mulberry32, public domain, from memory. */
export class Dice {
  #state: number

  constructor(seed: number) {
    this.#state = seed >>> 0
  }

  next(): number {
    this.#state = (this.#state + 0x6d2b79f5) >>> 0
    let t = this.#state
    t = Math.imul(t ^ (t >>> 15), t | 1)
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61)
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296
  }

  below(n: number): number {
    return Math.floor(this.next() * n)
  }

  pick<Item>(list: readonly Item[]): Item {
    return list[this.below(list.length)] as Item
  }

  chance(p: number): boolean {
    return this.next() < p
  }
}

export const STOP_WORDS = ["STOP", "STOPALL", "UNSUBSCRIBE", "CANCEL", "END", "QUIT", "REVOKE", "OPTOUT", "opt out"]
const COURTESY = ["", "", "", " please", ". Thank you", "!", "...", " thanks", "!!", " pls"]

const VERBS = [
  "done",
  "cut",
  "mowed",
  "watered",
  "sowed",
  "planted tomatoes in",
  "snooze",
  "skip",
  "bloom on",
  "up",
  "not up",
  "no regrowth on",
  "why",
  "how much water for",
  "heading in",
  "patchy",
  "done with",
  "finished",
  "strimmed",
  "scythed",
  "turned under",
  "remind me about",
  "20 inches in",
  "soil 55 in",
  "haven't cut",
  "will cut",
  "should I cut",
  "stop telling me about",
]
const DAYS = [
  "",
  "",
  "",
  " yesterday",
  " on friday",
  " 5/7",
  " the 3rd",
  " last night",
  " tomorrow",
  " in 3 days",
  " 2 weeks ago",
  " next week",
  " till monday",
  " since tuesday",
  " on 31 feb",
]
const TAILS = [
  "",
  "",
  "",
  " thanks",
  ", rain all week",
  " - the mower broke",
  "!",
  " 👍",
  " and snooze 2",
  ", watered 2 too",
  " but not the rest",
  "?",
  ". no wait, 2",
  " finally",
]
const ALIEN = [
  "xqzt",
  "blorv",
  "ist gemaht",
  "ya regué",
  "très bien",
  "kvetl",
  "зарядка",
  "花が咲いた",
  "مرحبا",
  "Ω",
  "zzyx",
  "grmpf",
  "ça va",
  "heute nicht",
]
const NOISE = [
  "\u202e",
  "\u200b",
  "\u0000",
  "\n",
  "\t",
  "🌸",
  "✅",
  "💧",
  "'",
  '"',
  "(",
  "<b>",
  "&amp;",
  "----",
  "....",
  "%",
  "=",
  "\u00a0",
  "1/2",
  "99999999999999999999",
  "½",
]
const ROWS = ["qwertyuiop", "asdfghjkl", "zxcvbnm"]

/** A reply out of the grammar of verbs, numbers, beds, species and days. */
export function plainReply(dice: Dice, garden: CaseGarden): string {
  const bed = dice.pick(garden.beds)
  const target = dice.pick([
    bed.name,
    bed.name.toLowerCase(),
    bed.id,
    (bed.species[0] ?? "rye").replaceAll("-", " "),
    String(1 + dice.below(9)),
    "it",
    "",
    "the rest",
    "all",
    "both",
  ])
  const parts = dice.chance(0.8)
    ? [dice.pick(VERBS), target]
    : [target, dice.pick(["is cut", "done", "is up", "blooming", "not done", "is heading", "2 ft"])]
  return `${parts.join(" ")}${dice.pick(DAYS)}${dice.pick(TAILS)}`.replaceAll(/ +/g, " ").trim()
}

/** What thumbs, dictation, phones and mail programs make of it. */
export function slipped(dice: Dice, text: string): string {
  let letters = [...text]
  const slips = dice.below(1 + Math.ceil(letters.length / 12))
  for (let i = 0; i < slips && letters.length > 0; i += 1) {
    const at = dice.below(letters.length)
    const letter = letters[at] as string
    const kind = dice.below(7)
    if (kind === 0) letters.splice(at, 1)
    else if (kind === 1) letters.splice(at, 0, letter)
    else if (kind === 2 && at > 0) [letters[at - 1], letters[at]] = [letter, letters[at - 1] as string]
    else if (kind === 3) letters[at] = beside(dice, letter)
    else if (kind === 4) letters.splice(at, 0, dice.pick(NOISE))
    else if (kind === 5) letters[at] = letter === letter.toUpperCase() ? letter.toLowerCase() : letter.toUpperCase()
    else letters.splice(at, 0, ` ${dice.pick(ALIEN)} `)
  }
  if (dice.chance(0.03)) letters = [...`Liked "${letters.join("")}"`]
  if (dice.chance(0.03)) letters = [...`> you wrote:\n> ${letters.join("")}\n`]
  if (dice.chance(0.002)) letters = [...letters.join("").repeat(1 + dice.below(40))].slice(0, 5000)
  return letters.join("")
}

function beside(dice: Dice, letter: string): string {
  const row = ROWS.find((each) => each.includes(letter))
  if (!row) return letter
  const at = row.indexOf(letter) + (dice.chance(0.5) ? 1 : -1)
  return row[at] ?? letter
}

/** A stop word with courtesy, case and at most one slip of the thumb. */
export function stopReply(dice: Dice): string {
  const word = dice.pick(STOP_WORDS)
  const cased = dice.pick([word, word.toLowerCase(), word[0] + word.slice(1).toLowerCase()])
  return `${dice.pick(["", "", " ", "please ", '"'])}${cased}${dice.pick(COURTESY)}`
}

/** What is wrong with the reading of a text, by rules that need to know nothing of what it should mean. */
export function faultsOf(dice: Dice, garden: CaseGarden): string[] {
  const faults: string[] = []
  const context = contextFor(garden, "2026-05-13T09:30")
  const plain = plainReply(dice, garden)
  const text = dice.chance(0.25) ? plain : slipped(dice, plain)
  const fault = (rule: string, words: string, found: unknown): void => {
    faults.push(`${rule}: ${JSON.stringify(words)} in ${garden.about} gives ${JSON.stringify(found)}`)
  }
  const read = (words: string): Reading => {
    const { acts, ask, note } = understand(words, context)
    return { acts, ask, note }
  }
  const first = read(text)
  try {
    checkShape(first)
  } catch (error) {
    fault("shape", text, String(error))
  }
  if (dice.chance(0.05) && JSON.stringify(read(text)) !== JSON.stringify(first))
    fault("same text, same reading", text, first)
  for (const act of first.acts) if (!isInside(act, garden)) fault("target outside the garden", text, act)
  if (dice.chance(0.2)) {
    const turned = dice.pick([text.toUpperCase(), text.toLowerCase(), `  ${text}  `])
    if (!/[^\u0020-\u007e]/.test(text) && !/join/i.test(text) && JSON.stringify(read(turned)) !== JSON.stringify(first))
      fault("case and outer spaces change nothing", text, [turned, read(turned)])
  }
  if (dice.chance(0.3)) {
    // In front it denies the clause it stands in; behind, all that was said.
    const denied = dice.pick([
      `${plain} not yet`,
      `${plain}, not yet`,
      ...(plain.includes(",") ? [] : [`not yet ${plain}`]),
    ])
    if (!/[.!?]|wait|,.*,| and | but /.test(plain)) {
      const left = read(denied).acts.filter((act) => act.act === "done" || act.act === "cut")
      if (left.length > 0) fault("not yet leaves done or cut", denied, left)
    }
  }
  if (dice.chance(0.1)) {
    const stop = stopReply(dice)
    if (!read(stop).acts.some((act) => act.act === "stop")) fault("a stop was missed", stop, read(stop))
  }
  if (dice.chance(0.05)) {
    const reaction = `${dice.pick(["Liked", "Loved", "Disliked", "Laughed at", "Emphasized", "Questioned"])} ${dice.pick(['"', "“"])}${plain}${dice.pick(['"', "”"])}`
    if (read(reaction).acts.length > 0) fault("a reaction acts", reaction, read(reaction))
  }
  if (dice.chance(0.05)) {
    const alien = Array.from({ length: 1 + dice.below(6) }, () => dice.pick(ALIEN)).join(" ")
    if (read(alien).acts.length > 0) fault("unknown words act", alien, read(alien))
  }
  return faults
}

function isInside(act: Act, garden: CaseGarden): boolean {
  const beds = garden.beds.map((bed) => bed.id)
  const numbers = garden.open.map((each) => each.n)
  if ("bed" in act && act.bed !== null && !beds.includes(act.bed)) return false
  if (act.act === "done" || act.act === "snooze" || act.act === "skip")
    return act.n.length > 0 && act.n.every((n) => numbers.includes(n))
  return act.act !== "tell" || act.n === null || numbers.includes(act.n)
}
