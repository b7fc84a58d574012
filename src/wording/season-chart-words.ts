import type { BandKind } from "./season-chart-bands.ts"

/** The words that stand in bands. */
export const WORDS: Partial<Record<BandKind, string>> = {
  sow: "sow",
  seed: "sown",
  growing: "growing",
  cut: "cut",
  rest: "rest",
  ready: "ready",
  planted: "food crop",
}

/** Width of a bold letter in a band, in pixels, with room for the larger ones of the picture. */
const LETTER = 7.6

/** Room around a word and a line, in pixels. */
const CLEAR = { line: 5, edge: 5 }

/** Where a word may begin, in per cent of a row that is `room` pixels wide; null where it does not fit. */
export function wordStart(
  word: string,
  span: { x: number; w: number },
  crossed: readonly number[],
  room: number,
): number | null {
  const px = (x: number) => (x * room) / 100
  const end = px(span.x + span.w)
  const lines = crossed.map(px).filter((x) => x > px(span.x) && x < end)
  const starts = [px(span.x) + CLEAR.edge, ...lines.map((x) => x + CLEAR.line)].toSorted((a, b) => a - b)
  const length = word.length * LETTER
  const start = starts.find((x) => x + length <= end - 2 && lines.every((l) => l <= x || l >= x + length + CLEAR.line))
  return start === undefined ? null : Math.round((start / room) * 10_000) / 100
}
