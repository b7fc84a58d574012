import type { Head } from "./heads.ts"
import type { Item } from "./item.ts"

/** How a clause is joined to the one before it. */
export type Opener = "start" | "comma" | "and" | "but" | "or" | "because" | "since" | "if" | "when" | "colon"

/** A stretch of a text with at most one thing said about its beds. */
export type Clause = {
  items: Item[]
  heads: Head[]
  opener: Opener
  sentence: number
  /** The mark that ends its sentence is a question mark. */
  asked: boolean
  /** Said with a word that takes back what came before ("no wait", "I mean"). */
  mends: boolean
  /** Those words can mean nothing else. */
  firm: boolean
  /** Its names stand against each other: "1 or 2 is done". */
  either?: true
}
