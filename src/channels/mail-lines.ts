/** A line of a mail's words, as it is judged: quoted or new, part of a signature, with the pictures that stand in it. */
export type MailLine = {
  text: string
  /** Marked as somebody's earlier words. */
  quoted: boolean
  /**
   * What the mail's own markup says of the line: it belongs to a signature, it introduces a quote, or everything from it on
   * is an earlier mail.
   */
  hint?: "signature" | "introduces" | "earlier"
  pictures?: PictureInLine[]
}

export type PictureInLine = {
  /** Content-ID of the part that holds it, or null where it is written into the markup itself. */
  cid: string | null
  /** As the markup asks for it, in pixels; null where it does not say. */
  width: number | null
  height: number | null
  name: string
}

/** A quoted line: an angle near the margin, or initials and an angle as older programs write them. */
const QUOTED = /^(?: {0,3}>|[A-Z]{2,3}> )/
/** Blanks of all kinds count as one kind. */
const BLANKS = /[\u00a0\u1680\u2000-\u200a\u202f\u205f\u3000\t]/g

export function plainBlanks(text: string): string {
  return text.replace(BLANKS, " ")
}

/** Is a line marked as quoted by what it begins with? */
export function isMarkedQuoted(line: string): boolean {
  return QUOTED.test(line)
}

/** Lines of a plain text part. `flowed`: RFC 3676, with or without its deleted blanks. */
export function plainLines(text: string, flowed: { deleteBlank: boolean } | null): MailLine[] {
  const raw = plainBlanks(text).split("\n")
  return flowed ? unflowed(raw, flowed.deleteBlank) : marked(raw)
}

function marked(raw: readonly string[]): MailLine[] {
  return raw.map((line, i) => {
    const quoted = QUOTED.test(line)
    // Mailbox files put an angle before a line that begins with From; such a line stands alone.
    if (quoted && line.startsWith(">From ") && !QUOTED.test(raw[i - 1] ?? "") && !QUOTED.test(raw[i + 1] ?? ""))
      return { text: line.slice(1).trimEnd(), quoted: false }
    return { text: line.trimEnd(), quoted }
  })
}

/**
 * A line that ends in a blank goes on in the next one of the same depth; a blank at its beginning was put there to guard
 * it; a signature's mark never goes on (RFC 3676, 4.1 to 4.5).
 */
function unflowed(raw: readonly string[], deleteBlank: boolean): MailLine[] {
  const lines: MailLine[] = []
  let parts: string[] = []
  let openDepth = -1
  const close = () => {
    if (openDepth >= 0) lines.push({ text: parts.join("").trimEnd(), quoted: openDepth > 0 })
    parts = []
    openDepth = -1
  }
  for (const line of raw) {
    let depth = 0
    while (line[depth] === ">") depth += 1
    const content = line[depth] === " " ? line.slice(depth + 1) : line.slice(depth)
    if (openDepth >= 0 && openDepth !== depth) close()
    const isMark = content === "-- "
    if (isMark) close()
    const goesOn = content.endsWith(" ") && !isMark
    parts.push(goesOn && deleteBlank ? content.slice(0, -1) : content)
    openDepth = depth
    if (!goesOn) close()
  }
  close()
  return lines
}
