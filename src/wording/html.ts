/** Text that is known to be markup; only `html`, `raw` and `join` make it. */
export class Markup {
  readonly text: string

  constructor(text: string) {
    this.text = text
  }

  toString(): string {
    return this.text
  }
}

export type Piece = Markup | string | number | null | undefined | false | readonly Piece[]

const NAMED: Record<string, string> = { "&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;", "'": "&#39;" }

/**
 * Characters that no page, mail or picture of ours shows: controls (XML forbids them), lone halves of a surrogate pair,
 * noncharacters, and marks that turn the direction of everything behind them (U+202A-202E, U+2066-2069).
 */
const UNSEEN =
  // biome-ignore lint/suspicious/noControlCharactersInRegex: these are what is taken out
  /[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f-\u009f\u202a-\u202e\u2066-\u2069\ufffe\uffff]|[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/g

/** Words as they can be shown: nothing unseen in them. Line breaks and tabs stay. */
export function seen(text: string): string {
  return text.replace(UNSEEN, "")
}

/** Words on one line: for subjects, names and table cells of a plain text. */
export function oneLine(text: string): string {
  return seen(text.replace(/[\u2028\u2029]/g, " "))
    .replace(/\s+/g, " ")
    .trim()
}

/** Escapes a text for HTML and for XML, in content and in quoted attributes alike. */
export function escaped(text: string): string {
  return seen(text).replace(/[&<>"']/g, (letter) => NAMED[letter] ?? letter)
}

/**
 * Markup by template: every value is escaped unless it is markup already. Lists are joined; null, undefined and false are
 * nothing. It serves HTML and SVG alike, which is why it is our own: the same rule for both, and no promise in between.
 */
export function html(parts: TemplateStringsArray, ...values: readonly Piece[]): Markup {
  let text = parts[0] ?? ""
  values.forEach((value, i) => {
    text += pieceText(value) + (parts[i + 1] ?? "")
  })
  return new Markup(text)
}

/** Markup that is written in our own source: style sheets, patterns. Never for words of people. */
export function raw(text: string): Markup {
  return new Markup(text)
}

function pieceText(value: Piece): string {
  if (value === null || value === undefined || value === false) return ""
  if (value instanceof Markup) return value.text
  if (typeof value === "string") return escaped(value)
  if (typeof value === "number") return String(value)
  return value.map(pieceText).join("")
}
