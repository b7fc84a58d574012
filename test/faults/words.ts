import type { Chance } from "./chance.ts"

/** Words to the letter: line ends, controls, halves of a pair, marks that turn the direction, blanks at the ends. */
const ODD = [
  "  looks good \u{1F331}\n ",
  "\u202enot a word of it\u202c",
  "r\u00f8dkl\u00f8ver st\u00e5r fint\r\nog h\u00f8yt",
  "half \ud83c of a pair",
  "tab\there, nul \u0000 there",
  '=HYPERLINK("http://example.org") \u2028 +1',
  "\u6771\u306e\u756a\u306f\u82b1\u304c\u54b2\u3044\u3066\u3044\u308b",
  "a".repeat(1500),
  "<b>south</b> &amp; 'north' \\ % {}",
]

const PLAIN = ["status", "why", "next", "thanks!", "help", "how much", "log", "all well here, slugs again"]

export type Writer = { phone: string; bed: string; plant: string }

/** Something that a person may write; `tall` is a height not said before, `open` the numbers that they were told lately. */
export function someWords({ bed, plant }: Writer, tall: number, open: readonly number[], chance: Chance): string {
  const draw = chance.next()
  // Phones put a blank behind a word that they complete.
  if (draw < 0.5) return `${bed} ${plant} is ${tall} cm tall${tall % 7 === 0 ? " " : ""}`
  if (draw < 0.65 && open.length > 0) return `${chance.one(["done", "snooze", "skip", "done"])} ${chance.one(open)}`
  if (draw < 0.85) return chance.one(PLAIN)
  if (draw < 0.9) return "undo"
  return chance.one(ODD)
}
