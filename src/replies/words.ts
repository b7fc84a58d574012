import type { Tag } from "./facts.ts"

/** What a text is cut into. `word` is folded: lower case, no accents, straight quotes. */
export type Word = {
  kind: "word" | "number" | "mark" | "picture"
  word: string
  /** Position in the text as it came, end exclusive. */
  from: number
  to: number
  /** Nothing stood between this and the piece before it. */
  glued: boolean
  /** Put right by the spelling: not what was typed. */
  repaired?: true
  /** The lists of the vocabulary that it is in. */
  tags?: ReadonlySet<Tag>
  value?: number
  ordinal?: true
  /** Day, month and year of a number written with dots, such as 5.6.2026. */
  dotted?: readonly number[]
}

/** More than this is not read: ten times the longest text message, and more than a mail reply needs. */
const MOST_CHARACTERS = 6000

/** Ticks and crosses of other shapes. */
const SAME_PICTURE: Record<string, string> = { "✓": "✔", "✗": "❌", "✘": "❌", "✕": "❌", "☒": "❌" }
const FRACTIONS: Record<string, number> = { "½": 1 / 2, "¼": 1 / 4, "¾": 3 / 4, "⅓": 1 / 3, "⅔": 2 / 3, "⅛": 1 / 8 }
const SAME_MARK: Record<string, string> = {
  "‘": "'",
  "’": "'",
  ʼ: "'",
  "`": "'",
  "´": "'",
  "′": "'",
  "“": '"',
  "”": '"',
  "„": '"',
  "«": '"',
  "»": '"',
  "″": '"',
  "–": "-",
  "—": "-",
  "‐": "-",
  "‑": "-",
  "−": "-",
  "×": "x",
  "…": ".",
  º: "°",
  "¿": " ",
  "¡": " ",
  "²": "2",
  "\u00a0": " ",
}
const UNSEEN =
  /[\u200b-\u200f\u202a-\u202e\u2060-\u2069\ufeff\ufe0e\ufe0f\u00ad\u{1f3fb}-\u{1f3ff}\u{e0000}-\u{e007f}]/u
const PICTURE = /\p{Extended_Pictographic}/u
const LETTER = /\p{L}/u
const COMBINING = /\p{M}/gu

type Letter = {
  text: string
  at: number
  end: number
  kind: "letter" | "digit" | "space" | "line" | "mark" | "picture"
}

/** Cuts a text into words, numbers, marks and pictures. Linear in its length; `expand` gives contractions their words. */
export function cutIntoWords(text: string, expand: (word: string) => readonly string[] | undefined): Word[] {
  const letters = fold(text.length > MOST_CHARACTERS ? text.slice(0, MOST_CHARACTERS) : text)
  const words: Word[] = []
  let i = 0
  let glued = false
  while (i < letters.length) {
    const letter = letters[i]!
    if (letter.kind === "space") {
      glued = false
      i += 1
      continue
    }
    const start = i
    const wasGlued = glued
    glued = true
    if (letter.kind === "line") {
      words.push(mark("\n", letter, wasGlued))
      glued = false
      i += 1
    } else if (letter.kind === "picture") {
      words.push({ ...mark(letter.text, letter, wasGlued), kind: "picture" })
      i += 1
    } else if (letter.kind === "digit" || startsDecimal(letters, i)) {
      i = readNumber(letters, i, wasGlued, words, expand)
    } else if (letter.kind === "letter" || startsElision(letters, i)) {
      i = readWord(letters, i, wasGlued, words, expand)
    } else {
      if (!joinsWords(letters, i)) words.push(mark(letter.text, letter, wasGlued))
      i += 1
    }
    if (i <= start) i = start + 1
  }
  return words
}

/** Every character folded to its plain form, with its place in the text. */
function fold(text: string): Letter[] {
  const letters: Letter[] = []
  let at = 0
  for (const character of text) {
    const end = at + character.length
    const code = character.charCodeAt(0)
    if (code < 128) letters.push({ text: character.toLowerCase(), at, end, kind: asciiKind(code) })
    else if (!UNSEEN.test(character)) foldOther(character, at, end, letters)
    at = end
  }
  return letters
}

function asciiKind(code: number): Letter["kind"] {
  if ((code >= 97 && code <= 122) || (code >= 65 && code <= 90)) return "letter"
  if (code >= 48 && code <= 57) return "digit"
  if (code === 10) return "line"
  if (code <= 32 || code === 127) return "space"
  return "mark"
}

function foldOther(character: string, at: number, end: number, letters: Letter[]): void {
  const same = SAME_MARK[character]
  if (same !== undefined) {
    letters.push({ text: same, at, end, kind: asciiKind(same.charCodeAt(0)) })
  } else if (FRACTIONS[character] !== undefined) {
    letters.push({ text: character, at, end, kind: "digit" })
  } else if (SAME_PICTURE[character] !== undefined || PICTURE.test(character)) {
    letters.push({ text: SAME_PICTURE[character] ?? character, at, end, kind: "picture" })
  } else {
    for (const plain of character.normalize("NFKD").replace(COMBINING, "").toLowerCase()) {
      const code = plain.charCodeAt(0)
      const kind = code < 128 ? asciiKind(code) : LETTER.test(plain) ? "letter" : /\s/u.test(plain) ? "space" : "mark"
      letters.push({ text: plain, at, end, kind })
    }
  }
}

function mark(text: string, letter: Letter, glued: boolean): Word {
  return { kind: "mark", word: text, from: letter.at, to: letter.end, glued }
}

/** ".5": a point right before a digit and not right behind one. */
function startsDecimal(letters: Letter[], i: number): boolean {
  const before = letters[i - 1]?.kind
  return letters[i]!.text === "." && letters[i + 1]?.kind === "digit" && before !== "digit" && before !== "letter"
}

/** "'em", "'til": an apostrophe at the start of a word. */
function startsElision(letters: Letter[], i: number): boolean {
  if (letters[i]!.text !== "'" || letters[i + 1]?.kind !== "letter") return false
  const before = letters[i - 1]?.kind
  if (before !== undefined && before !== "space" && before !== "line") return false
  // A quoted word ('done') is not an elision: it has its closing mark.
  let j = i + 1
  while (letters[j]?.kind === "letter") j += 1
  return letters[j]?.text !== "'"
}

/** A hyphen inside a word ("black-eyed", "mid-june") only divides it. */
function joinsWords(letters: Letter[], i: number): boolean {
  if (letters[i]!.text !== "-" && letters[i]!.text !== "_") return false
  const before = letters[i - 1]?.kind
  const after = letters[i + 1]?.kind
  return (
    (before === "letter" && (after === "letter" || after === "digit")) || (before === "digit" && after === "letter")
  )
}

function readNumber(
  letters: Letter[],
  start: number,
  glued: boolean,
  words: Word[],
  expand: (word: string) => readonly string[] | undefined,
): number {
  const mixed = readMixed(letters, start, glued, words, expand)
  if (mixed > start) return mixed
  let i = start
  let digits = ""
  let extra = 0
  while (i < letters.length) {
    const { text, kind } = letters[i]!
    if (kind === "digit" && FRACTIONS[text] !== undefined) extra = FRACTIONS[text]!
    else if (kind === "digit") digits += text
    else if (text === "." && letters[i + 1]?.kind === "digit") digits += "."
    else if (text === "," && groupFollows(letters, i)) {
      i += 1
      continue
    } else break
    i += 1
    if (extra > 0) break
  }
  const parts = digits.split(".")
  const word: Word = {
    kind: "number",
    word: digits,
    from: letters[start]!.at,
    to: letters[i - 1]!.end,
    glued,
    value: (parts.length > 2 ? Number(parts[0]) : Number(digits || "0")) + extra,
  }
  if (parts.length > 2) word.dotted = parts.map(Number)
  const ending = (letters[i]?.text ?? "") + (letters[i + 1]?.text ?? "")
  if (["st", "nd", "rd", "th"].includes(ending) && letters[i + 2]?.kind !== "letter" && parts.length === 1) {
    word.ordinal = true
    word.to = letters[i + 1]!.end
    i += 2
  }
  words.push(word)
  return i
}

/** A word that starts with a digit and that the vocabulary knows whole, such as "2moro". */
function readMixed(
  letters: Letter[],
  start: number,
  glued: boolean,
  words: Word[],
  expand: (word: string) => readonly string[] | undefined,
): number {
  let i = start
  let whole = ""
  while (i < letters.length && i - start < 12 && (letters[i]!.kind === "letter" || letters[i]!.kind === "digit")) {
    whole += letters[i]!.text
    i += 1
  }
  const expanded = whole.length > 1 && /\d/.test(whole) ? expand(whole) : undefined
  if (!expanded) return start
  pushAll(expanded, letters, start, i, glued, words)
  return i
}

/** "1,000": a comma with exactly three digits behind it. */
function groupFollows(letters: Letter[], i: number): boolean {
  const three = [1, 2, 3].every((n) => letters[i + n]?.kind === "digit")
  return three && letters[i + 4]?.kind !== "digit" && letters[i - 1]?.kind === "digit"
}

function readWord(
  letters: Letter[],
  start: number,
  glued: boolean,
  words: Word[],
  expand: (word: string) => readonly string[] | undefined,
): number {
  const mixed = readMixed(letters, start, glued, words, expand)
  if (mixed > start) return mixed
  let i = start
  let text = ""
  let apostrophe = -1
  while (i < letters.length) {
    const letter = letters[i]!
    const inner = letter.text === "'" && (i === start || letters[i + 1]?.kind === "letter")
    if (letter.kind !== "letter" && !inner) break
    if (inner && i > start) apostrophe = text.length
    text += letter.text
    i += 1
  }
  const plain = text.startsWith("'") ? text.slice(1) : text
  // "2w": a single letter right behind a figure is its unit.
  const unit = text.length === 1 && glued && words.at(-1)?.kind === "number"
  const expanded = unit ? undefined : (expand(text) ?? expand(text.replaceAll("'", "")))
  if (expanded) {
    pushAll(expanded, letters, start, i, glued, words)
  } else if (apostrophe > 0) {
    const tail = text.slice(apostrophe + 1)
    const split = start + apostrophe
    pushAll([text.slice(0, apostrophe).replaceAll("'", "")], letters, start, split, glued, words)
    pushAll(expand(`'${tail}`) ?? [tail], letters, split, i, true, words)
  } else {
    pushAll([plain], letters, start, i, glued, words)
    // The apostrophe of a plural owner ("the chickens' run") says nothing.
    if (plain.endsWith("s") && letters[i]?.text === "'" && letters[i + 1]?.kind === "space") i += 1
  }
  // So does that of a swallowed g ("bloomin'").
  if (plain.endsWith("in") && letters[i]?.text === "'" && letters[i + 1]?.kind !== "letter") i += 1
  return i
}

function pushAll(
  expanded: readonly string[],
  letters: Letter[],
  start: number,
  end: number,
  glued: boolean,
  words: Word[],
): void {
  const from = letters[start]!.at
  const to = letters[end - 1]!.end
  expanded.forEach((word, index) => {
    words.push({ kind: "word", word, from, to, glued: index > 0 || glued })
  })
}
