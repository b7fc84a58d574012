/** `SCALE=0.1` makes everything a tenth as large. */
export const SCALE = Number(process.env.SCALE ?? "1")

export type Say = (line: string) => void

export function median(values: readonly number[]): number {
  return values.toSorted((a, b) => a - b)[Math.floor(values.length / 2)] ?? Number.NaN
}
