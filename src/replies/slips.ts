/**
 * Finds the known words that an unknown one may be a slip of: a letter missing, added, changed or swapped with its
 * neighbour. Words are found by what is left of them after leaving out one or two letters, so a look-up costs a few
 * dozen steps whatever the size of the vocabulary (symmetric deletion, from memory).
 */
export class SlipIndex {
  readonly #left = new Map<string, string[]>()
  readonly #beside: ReadonlyMap<string, string>

  constructor(keyboard: readonly string[]) {
    this.#beside = neighbours(keyboard)
  }

  add(word: string): void {
    if (word.length < 3 || word.length > LONGEST) return
    for (const left of shortened(word, lettersOff(word.length))) {
      const list = this.#left.get(left)
      if (list) list.push(word)
      else this.#left.set(left, [word])
    }
  }

  /** Known words within reach of `word`, each with its cost: 0.6 for a likely slip of the thumb, 1 for another one. */
  near(word: string): { word: string; cost: number }[] {
    if (word.length < 2 || word.length > LONGEST) return []
    const seen = new Set<string>()
    const found: { word: string; cost: number }[] = []
    for (const left of shortened(word, lettersOff(word.length + 1))) {
      for (const known of this.#left.get(left) ?? []) {
        if (seen.has(known)) continue
        seen.add(known)
        const cost = this.cost(word, known)
        if (cost <= lettersOff(known.length)) found.push({ word: known, cost })
      }
    }
    return found.sort((a, b) => a.cost - b.cost || (a.word < b.word ? -1 : 1))
  }

  /** Weighted slips between what was typed and a known word; optimal string alignment, from memory. */
  cost(typed: string, known: string): number {
    const width = known.length + 1
    let beforeLast: number[] = []
    let last = Array.from({ length: width }, (_, j) => j)
    for (let i = 1; i <= typed.length; i += 1) {
      const row = [i]
      for (let j = 1; j < width; j += 1) {
        const a = typed[i - 1] as string
        const b = known[j - 1] as string
        const doubledHere = a === typed[i - 2] || b === known[j - 2]
        let best = (last[j - 1] as number) + (a === b ? 0 : this.#beside.get(a)?.includes(b) ? LIKELY : OTHER)
        best = Math.min(best, (last[j] as number) + (doubledHere && a === typed[i - 2] ? LIKELY : 1))
        best = Math.min(best, (row[j - 1] as number) + (doubledHere && b === known[j - 2] ? LIKELY : MISSED))
        if (i > 1 && j > 1 && a === known[j - 2] && typed[i - 2] === b) {
          best = Math.min(best, (beforeLast[j - 2] as number) + LIKELY)
        }
        row.push(best)
      }
      beforeLast = last
      last = row
    }
    return last[width - 1] as number
  }
}

const LONGEST = 16
const LIKELY = 0.6
const MISSED = 0.9
const OTHER = 1

/** One slip in four letters, at least one. */
export function lettersOff(length: number): number {
  return Math.max(1, Math.floor(length / 4))
}

/** The word and all that is left of it after leaving out up to `most` (1 or 2) letters. */
function shortened(word: string, most: number): Set<string> {
  const left = new Set([word])
  for (let i = 0; i < word.length; i += 1) {
    const once = word.slice(0, i) + word.slice(i + 1)
    left.add(once)
    if (most < 2) continue
    for (let j = i; j < once.length; j += 1) left.add(once.slice(0, j) + once.slice(j + 1))
  }
  return left
}

/** Keys beside each other on rows that are shifted by about half a key. */
function neighbours(rows: readonly string[]): Map<string, string> {
  const beside = new Map<string, string>()
  rows.forEach((row, y) => {
    for (let x = 0; x < row.length; x += 1) {
      const near = [
        row[x - 1],
        row[x + 1],
        rows[y - 1]?.[x],
        rows[y - 1]?.[x + 1],
        rows[y + 1]?.[x - 1],
        rows[y + 1]?.[x],
      ]
      beside.set(row[x] as string, near.filter((key) => key !== undefined).join(""))
    }
  })
  return beside
}
