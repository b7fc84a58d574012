import type { Garden } from "../garden/garden.ts"
import type { Problem } from "../values/problem.ts"

/**
 * What a garden shares with others that are served beside it and may not: its id, under which the log keeps it. One phone or
 * mail address may be in several: it is one person then, and the bot tells the gardens apart.
 */
export function clashes(garden: Garden, file: string, others: readonly { file: string; garden: Garden }[]): Problem[] {
  return others
    .filter((other) => other.garden.id === garden.id)
    .map((other) => ({
      code: "same-garden",
      place: { file, line: 1, column: 1 },
      field: "",
      found: `a garden called ${garden.id}`,
      expected: `file names that differ before the dot: ${other.file} has it too`,
    }))
}
