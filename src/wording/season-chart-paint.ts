import { LIGHT, type Palette } from "./design-tokens.ts"
import { BAND_KINDS, type BandKind } from "./season-chart-bands.ts"

/** Heights within a bed's row, from its top, in pixels: words, the standing lane, the ground line, the lane below it. */
export const PLACE = { words: 15, bloom: 21, upper: 25, ground: 45, lower: 46.5, foot: 60.5 }

/** Top and height of a kind's lane: what lives stands on the ground, flowers rise above it, soil and work lie below. */
export function placeOf(what: BandKind): { y: number; h: number } {
  if (what === "flower") return { y: PLACE.bloom, h: PLACE.ground - PLACE.bloom }
  if (what === "growing" || what === "planted") return { y: PLACE.upper, h: PLACE.ground - PLACE.upper }
  return { y: PLACE.lower, h: PLACE.foot - PLACE.lower }
}

/** Fill below the pattern, and the colour of pattern and edge, of each kind of band. */
const PAINT: Record<BandKind, { fill: keyof Palette; stroke: keyof Palette; dashed?: true }> = {
  sow: { fill: "actPale", stroke: "act", dashed: true },
  seed: { fill: "paper", stroke: "living", dashed: true },
  growing: { fill: "livingPale", stroke: "living" },
  flower: { fill: "paper", stroke: "living" },
  cut: { fill: "actPale", stroke: "act" },
  rest: { fill: "lyingPale", stroke: "lying" },
  ready: { fill: "paper", stroke: "living" },
  planted: { fill: "paper", stroke: "lying", dashed: true },
}

/** The marks of each pattern, drawn in a tile that starts at the top of the kind's lane. */
const TILES: Record<BandKind, { w: number; h: number; marks: string }> = {
  sow: { w: 7, h: 7, marks: '<circle cx="2" cy="2" r="1.3"/><circle cx="5.5" cy="5.5" r="1.3"/>' },
  seed: { w: 7, h: 7, marks: '<circle cx="2" cy="2" r="1.3"/><circle cx="5.5" cy="5.5" r="1.3"/>' },
  growing: { w: 9, h: 20, marks: '<path d="M2 20V5M5 20V9M8 20V7"/>' },
  flower: { w: 8, h: 8, marks: '<circle cx="4" cy="4" r="2.3"/>' },
  cut: { w: 7, h: 7, marks: '<path d="M-1 8 8 -1M-1 1 1 -1M6 8 8 6"/>' },
  rest: { w: 12, h: 5, marks: '<path d="M0 1.5h8M6 4h6M0 4h2"/>' },
  ready: { w: 10, h: 14, marks: '<path d="M5 14V8M5 8.5Q2 8.5 1.5 4M5 8.5Q8 8.5 8.5 4"/>' },
  planted: { w: 18, h: 20, marks: '<path d="M9 20V9M9 12Q5 12 4 6M9 12Q13 12 14 6"/>' },
}

/** Kinds whose pattern is dots that are filled; the others are strokes. */
const DOTTED = new Set<BandKind>(["sow", "seed"])

/** The patterns as SVG definitions; they take their colours from the classes of the style sheet. */
export function chartPatterns(id: string): string {
  return BAND_KINDS.map((kind) => {
    const { w, h, marks } = TILES[kind]
    return `<pattern id="${id}-${kind}" y="${placeOf(kind).y}" width="${w}" height="${h}" patternUnits="userSpaceOnUse"><g class="${
      DOTTED.has(kind) ? "pd" : "ps"
    } p-${kind}">${marks}</g></pattern>`
  }).join("")
}

/**
 * The style sheet of the picture: with colours written in (for a picture that goes alone), or with the page's custom
 * properties, which follow light and dark.
 */
export function chartColours(how: "literal" | "page"): string {
  const colour = (name: keyof Palette) => (how === "literal" ? LIGHT[name] : `var(--${name})`)
  // The picture of a mail is shrunk to the width of a phone, so its letters are a little larger.
  const letters = (px: number) => `font-size:${how === "literal" ? px + 1 : px}px`
  const bands = BAND_KINDS.map((kind) => {
    const { fill, stroke, dashed } = PAINT[kind]
    const mark = DOTTED.has(kind) ? `fill:${colour(stroke)}` : `stroke:${colour(stroke)}`
    return `.${kind}{fill:${colour(fill)};stroke:${colour(stroke)};stroke-width:1${dashed ? ";stroke-dasharray:3 2" : ""}}.p-${kind}{${mark}}`
  })
  return [
    `.paper{fill:${colour("paper")}}`,
    `.lens{fill:${colour("ground")}}`,
    ".ps{fill:none;stroke-width:1.1}",
    ...bands,
    `.rule{stroke:${colour("rule")};stroke-width:1}`,
    `.soil{stroke:${colour("ink")};stroke-width:1.5}`,
    `.halo{stroke:${colour("paper")};stroke-width:6}`,
    `.now{stroke:${colour("ink")};stroke-width:2.5}`,
    `.limit{stroke:${colour("act")};stroke-width:4}`,
    `.tick{stroke:${colour("ink")};stroke-width:2.5}`,
    `.flag{stroke:${colour("ink")};stroke-width:1.5}`,
    `.pennant{fill:${colour("ink")}}`,
    `text{fill:${colour("ink")}}`,
    `.month{${letters(11)};fill:${colour("soft")}}`,
    `.near{${letters(12)};font-weight:bold}`,
    `.monday{${letters(10)};fill:${colour("soft")}}`,
    `.today{${letters(12)};font-weight:bold}`,
    `.bed{${letters(14)};font-weight:bold}`,
    ".next{font-weight:normal}",
    `.legend{${letters(11)}}`,
    `.word{${letters(11)};font-weight:bold;stroke:${colour("paper")};stroke-width:4;paint-order:stroke;stroke-linejoin:round}`,
  ].join("")
}
