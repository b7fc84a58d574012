import { LIGHT, type Palette } from "./design-tokens.ts"
import { BAND_KINDS, type BandKind } from "./season-chart-rows.ts"

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

/** Shapes of each pattern, drawn in a tile; the class `p` of a pattern's stroke is set by the kind. */
const TILES: Record<BandKind, { w: number; h: number; marks: string }> = {
  sow: { w: 7, h: 7, marks: '<circle cx="2" cy="2" r="1.3"/><circle cx="5.5" cy="5.5" r="1.3"/>' },
  seed: { w: 7, h: 7, marks: '<circle cx="2" cy="2" r="1.3"/><circle cx="5.5" cy="5.5" r="1.3"/>' },
  growing: { w: 6, h: 20, marks: '<path d="M2 20V5M5 20V9"/>' },
  flower: { w: 9, h: 9, marks: '<circle cx="4.5" cy="4.5" r="2.6"/>' },
  cut: { w: 7, h: 7, marks: '<path d="M-1 8 8 -1M-1 1 1 -1M6 8 8 6"/>' },
  rest: { w: 12, h: 5, marks: '<path d="M0 1.5h8M6 4h6M0 4h2"/>' },
  ready: { w: 10, h: 14, marks: '<path d="M5 13V8M5 8Q2 8 1.5 4M5 8Q8 8 8.5 4"/>' },
  planted: { w: 16, h: 20, marks: '<path d="M8 20V10M8 12Q4 12 3 7M8 12Q12 12 13 7"/>' },
}

/** Kinds whose pattern is dots that are filled; the others are strokes. */
const DOTTED = new Set<BandKind>(["sow", "seed"])

/** The patterns as SVG definitions; they take their colours from the classes of the style sheet. */
export function chartPatterns(id: string): string {
  return BAND_KINDS.map((kind) => {
    const { w, h, marks } = TILES[kind]
    return `<pattern id="${id}-${kind}" width="${w}" height="${h}" patternUnits="userSpaceOnUse"><g class="${
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
  const bands = BAND_KINDS.map((kind) => {
    const { fill, stroke, dashed } = PAINT[kind]
    const mark = DOTTED.has(kind) ? `fill:${colour(stroke)}` : `stroke:${colour(stroke)}`
    return `.${kind}{fill:${colour(fill)};stroke:${colour(stroke)};stroke-width:1${dashed ? ";stroke-dasharray:3 2" : ""}}.p-${kind}{${mark}}`
  })
  return [
    `.paper{fill:${colour("paper")}}`,
    ".ps{fill:none;stroke-width:1.2}",
    ...bands,
    `.rule{stroke:${colour("rule")};stroke-width:1}`,
    `.soil{stroke:${colour("ink")};stroke-width:1.5}`,
    `.halo{stroke:${colour("paper")};stroke-width:6}`,
    `.now{stroke:${colour("ink")};stroke-width:2}`,
    `.limit{stroke:${colour("act")};stroke-width:3.5}`,
    `.tick{stroke:${colour("ink")};stroke-width:2.5}`,
    `.flag{stroke:${colour("ink")};stroke-width:1.5}`,
    `.pennant{fill:${colour("ink")}}`,
    `text{fill:${colour("ink")}}`,
    `.month{font-size:11px;fill:${colour("soft")}}`,
    ".today{font-size:12px;font-weight:bold}",
    ".bed{font-size:14px;font-weight:bold}",
    ".next{font-weight:normal}",
    ".key{font-size:11px}",
    `.word{font-size:11px;font-weight:bold;stroke:${colour("paper")};stroke-width:4;paint-order:stroke;stroke-linejoin:round}`,
  ].join("")
}
