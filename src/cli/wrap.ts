/** The columns of a terminal; a pipe or file has none, and its lines stay whole. */
export function widthOf(output: { isTTY?: boolean; columns?: number }): number {
  return output.isTTY && output.columns ? output.columns : Number.POSITIVE_INFINITY
}

/**
 * Text broken between words so that no line is wider than `width` columns; what follows a break stands as far in as its
 * line began. A word wider than that (an address) stays whole.
 */
export function wrapped(text: string, width: number): string {
  return text
    .split("\n")
    .flatMap((line) => wrappedLine(line, width))
    .join("\n")
}

function wrappedLine(line: string, width: number): string[] {
  if (line.length <= width) return [line]
  const indent = /^ */.exec(line)?.[0] ?? ""
  const lines: string[] = []
  let current = ""
  for (const word of line.trim().split(" ")) {
    if (current !== "" && indent.length + current.length + 1 + word.length > width) {
      lines.push(indent + current)
      current = word
    } else current = current === "" ? word : `${current} ${word}`
  }
  return [...lines, indent + current]
}
