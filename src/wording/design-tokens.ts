/**
 * The one place where colours, sizes and type are chosen, for mail, page and picture. What each colour stands for:
 * blue is what stands on the bed and lives, orange is what calls for the gardener, slate is what lies and rots, ink is the
 * calendar. Blue and orange stay apart for every common kind of colour blindness, and nothing is told by colour alone:
 * each state has a word, a pattern and a place as well. Contrasts are held by test/wording/design-tokens.test.ts
 * (WCAG 2.2: 4.5:1 for text, 3:1 for large type and for lines that carry meaning).
 */
export type Palette = {
  /** Behind everything. */
  ground: string
  /** Behind a card, a table, the picture. */
  paper: string
  ink: string
  /** Less weighty text, still readable in sun. */
  soft: string
  /** Rules and month lines: they only guide the eye. */
  rule: string
  /** Edges of fields and buttons: these must be seen. */
  edge: string
  living: string
  livingPale: string
  act: string
  actPale: string
  lying: string
  lyingPale: string
  /** Text on a filled button. */
  onAct: string
  link: string
}

export const LIGHT: Palette = {
  ground: "#f4f1ea",
  paper: "#ffffff",
  ink: "#17202b",
  soft: "#46515e",
  rule: "#d5d9de",
  edge: "#6b7683",
  living: "#0a4f8f",
  livingPale: "#d9e8f6",
  act: "#a84300",
  actPale: "#ffe2c6",
  lying: "#525c68",
  lyingPale: "#e4e7eb",
  onAct: "#ffffff",
  link: "#0a4f8f",
}

export const DARK: Palette = {
  ground: "#10151c",
  paper: "#19212b",
  ink: "#eef2f6",
  soft: "#bac4cf",
  rule: "#36414d",
  edge: "#8793a0",
  living: "#8cc4f7",
  livingPale: "#1c3b5a",
  act: "#ffb26b",
  actPale: "#54310f",
  lying: "#aeb8c3",
  lyingPale: "#2f3a46",
  onAct: "#19212b",
  link: "#8cc4f7",
}

/** Sizes in CSS pixels. */
export const SIZE = {
  text: 16,
  small: 14,
  /** Smallest height and width of anything to press. */
  target: 44,
  mailWidth: 600,
  pageWidth: 760,
  /** Nobody's column is narrower: what fits here fits everywhere. */
  leastColumn: 296,
} as const

export const TYPE = {
  page: 'system-ui, -apple-system, "Segoe UI", Roboto, "Helvetica Neue", Arial, sans-serif',
  mail: '"Segoe UI", Roboto, "Helvetica Neue", Helvetica, Arial, sans-serif',
  /** The picture brings its own letters. */
  picture: "DejaVu Sans",
} as const

/** The palette as CSS custom properties, light first, dark where the reader's system asks for it. */
export function paletteCss(): string {
  const lines = (palette: Palette) =>
    Object.entries(palette)
      .map(([name, value]) => `--${name}:${value}`)
      .join(";")
  return `:root{color-scheme:light dark;${lines(LIGHT)}}@media (prefers-color-scheme:dark){:root{${lines(DARK)}}}@media print{:root{${lines(LIGHT)}}}`
}
