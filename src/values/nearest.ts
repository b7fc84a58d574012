/**
 * Number of single-letter slips between two words: insertion, deletion, substitution, swap of neighbours.
 * Source: optimal string alignment distance (a restricted Damerau-Levenshtein distance), from memory.
 */
export function slips(a: string, b: string): number {
  const width = b.length + 1
  let beforeLast: number[] = []
  let last = Array.from({ length: width }, (_, j) => j)
  for (let i = 1; i <= a.length; i += 1) {
    const row = [i]
    for (let j = 1; j < width; j += 1) {
      const same = a[i - 1] === b[j - 1] ? 0 : 1
      let best = Math.min(last[j]! + 1, row[j - 1]! + 1, last[j - 1]! + same)
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1])
        best = Math.min(best, beforeLast[j - 2]! + 1)
      row.push(best)
    }
    beforeLast = last
    last = row
  }
  return last[width - 1]!
}

/** The known word nearest to one that was found, or undefined where none is near (more than a third of its letters off, at least 2). */
export function nearestWord(found: string, known: Iterable<string>): string | undefined {
  const word = found.toLowerCase()
  let best: string | undefined
  let fewest = Math.max(2, Math.floor(word.length / 3)) + 1
  for (const candidate of known) {
    const count = slips(word, candidate.toLowerCase())
    if (count < fewest) {
      best = candidate
      fewest = count
    }
  }
  return best
}
