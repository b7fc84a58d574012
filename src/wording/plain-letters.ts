import { gsm7Units, isGsm7 } from "./gsm7.ts"

/** What to write instead of a character that short messages do not know. Our own choice, no source. */
const INSTEAD: ReadonlyMap<string, string> = new Map(
  Object.entries({
    "'": "‘’‚‛′‵`´ʹʻʼˈ‹›",
    '"': "“”„‟″‶«»❝❞",
    "-": "‐‑‒–—―−﹘﹣－•‣∙●▪",
    ".": "·。",
    "...": "…",
    x: "×✕✖",
    "/": "÷⁄∕",
    "+/-": "±",
    "<=": "≤",
    ">=": "≥",
    "~": "≈∼",
    "->": "→",
    "<-": "←",
    u: "µμ",
    o: "º",
    a: "ª",
    c: "¢",
    TM: "™",
    "(C)": "©",
    "(R)": "®",
    "No.": "№",
    oe: "œ",
    OE: "Œ",
    d: "đð",
    D: "ĐÐ",
    l: "ł",
    L: "Ł",
    i: "ı",
    h: "ħ",
    H: "Ħ",
    t: "ŧ",
    T: "Ŧ",
    th: "þ",
    Th: "Þ",
    n: "ŋ",
    N: "Ŋ",
    s: "ſ",
    SS: "ẞ",
    "|": "¦",
  }).flatMap(([plain, letters]) => [...letters].map((letter): [string, string] => [letter, plain])),
)

/** Fractions want a space before them behind a digit: 1½ is 1 1/2, never 11/2. */
const FRACTIONS: ReadonlyMap<string, string> = new Map(
  Object.entries({
    "½": "1/2",
    "¼": "1/4",
    "¾": "3/4",
    "⅓": "1/3",
    "⅔": "2/3",
    "⅛": "1/8",
    "⅜": "3/8",
    "⅝": "5/8",
    "⅞": "7/8",
  }),
)

/** Greek capitals that look like Latin ones; the others that short messages need are in the alphabet itself. */
const GREEK_LOOKALIKES: ReadonlyMap<string, string> = new Map(
  [..."ΑΒΕΖΗΙΚΜΝΟΡΤΥΧ"].map((letter, index): [string, string] => [letter, [..."ABEZHIKMNOPTYX"][index] as string]),
)

/** Joiners, marks of direction, soft hyphens and the like: nothing to see. */
const INVISIBLE = /\u034F|[\u00AD\u061C\u180E\u200B-\u200F\u202A-\u202E\u2060-\u206F\uFEFF]/gu
const EMOJI =
  /(?![©®™])[\p{Extended_Pictographic}\u{1F1E6}-\u{1F1FF}\u{1F3FB}-\u{1F3FF}\u{FE00}-\u{FE0F}\u{20E3}\u{E0020}-\u{E007F}]/gu
// biome-ignore lint/suspicious/noControlCharactersInRegex: controls are what it is about
const CONTROLS = /[\u0000-\u0008\u000B\u000E-\u001F\u007F-\u009F]/g

/**
 * A text in letters that short messages know, as far as its words have a plain form: composed first (NFC), then look-alikes,
 * fractions, degrees, dashes and quotes, then letters without their accents. A word with a letter that has no plain form
 * (a name in Cyrillic) is left as it is. Emoji and invisible characters are left out.
 */
export function plainLetters(text: string): string {
  const cleaned = text
    .toWellFormed()
    .replaceAll("\uFFFD", "")
    .normalize("NFC")
    .replace(/\r\n?|[\u2028\u2029\u0085]/g, "\n")
    .replace(INVISIBLE, "")
    .replace(CONTROLS, "")
    .replace(/[\t\f\p{Zs}]/gu, " ")
    .replace(/(?<=\d) ?°(?=[CF]\b)/g, " ")
    .replace(/(?<=\d) ?°/g, " deg")
    .replaceAll("°", "deg")
    .replace(/(?<=\d)(?=[½¼¾⅓⅔⅛⅜⅝⅞])/g, " ")
  const spaced = cleaned.search(EMOJI) >= 0 ? withoutEmoji(cleaned) : cleaned
  return spaced.replace(/[^ \n]+/g, plainWord)
}

function withoutEmoji(text: string): string {
  return text
    .replace(EMOJI, " ")
    .replace(/ {2,}/g, " ")
    .replace(/ +(?=[,.;:!?)\n]|$)/g, "")
    .replace(/(?<=\n|^) +/g, "")
}

function plainWord(word: string): string {
  if (isGsm7(word)) return word
  let plain = ""
  for (const letter of word) {
    const instead = plainLetter(letter)
    if (instead === null) return word
    plain += instead
  }
  return plain
}

/** The plain form of one character, or null where it has none. */
function plainLetter(letter: string): string | null {
  if (gsm7Units(letter)) return letter
  const known = INSTEAD.get(letter) ?? FRACTIONS.get(letter) ?? GREEK_LOOKALIKES.get(letter)
  if (known !== undefined) return known
  const bare = letter.normalize("NFKD").replace(/\p{M}/gu, "")
  return bare !== letter && isGsm7(bare) ? bare : null
}
