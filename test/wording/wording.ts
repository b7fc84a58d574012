import type { TextKind } from "../../src/wording/check-text.ts"
import { plainLetters } from "../../src/wording/plain-letters.ts"

/** One thing that the bot can send, in its own words, at the longest realistic names. */
export type Wording = {
  /** Where it belongs and what it is: `reminder cut`, `answer why`. */
  name: string
  /** A text by the carrier, or a line of a mail, which has no segments. */
  by: "text" | "mail"
  text: string
  /** How its own rules differ from those of a text about one thing. */
  rules: TextKind
}

/** Names as long as beds, gardens and people have them: 24 characters of a bed still fit by the rules of wording. */
export const LONG = {
  bed: "The long bed by the wall",
  otherBed: "Lower terrace, east end",
  thirdBed: "Old greenhouse bed",
  garden: "Meadow Lane Community Garden",
  person: "Maximiliane",
  email: "maximiliane.hernandez@example.org",
  link: `https://garden.example.org/season/${"x".repeat(60)}.${"y".repeat(43)}`,
} as const

/** A text as the carrier gets it: in plain letters. */
export function asText(name: string, text: string, rules: TextKind = {}): Wording {
  return { name, by: "text", text: plainLetters(text), rules: { several: true, replies: "any", ...rules } }
}

export function asMail(name: string, text: string): Wording {
  return { name, by: "mail", text, rules: { several: true, replies: "any", carrierWords: true } }
}
