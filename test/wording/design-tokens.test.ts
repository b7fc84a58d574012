import { describe, expect, it } from "vitest"
import { DARK, LIGHT, type Palette, paletteCss } from "../../src/wording/design-tokens.ts"

type Rgb = [number, number, number]

function rgb(hex: string): Rgb {
  return [1, 3, 5].map((i) => Number.parseInt(hex.slice(i, i + 2), 16) / 255) as Rgb
}

const linear = (c: number) => (c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4)

/** Relative luminance and contrast ratio: WCAG 2.2, definitions of those terms. */
function luminance(hex: string): number {
  const [r, g, b] = rgb(hex).map(linear) as Rgb
  return 0.2126 * r + 0.7152 * g + 0.0722 * b
}
function contrast(a: string, b: string): number {
  const [high, low] = [luminance(a), luminance(b)].toSorted((x, y) => y - x) as [number, number]
  return (high + 0.05) / (low + 0.05)
}

/**
 * Full dichromacy as matrices on linear RGB. Source: Machado, Oliveira and Fernandes, "A physiologically-based model for
 * simulation of color vision deficiency", IEEE TVCG 15 (2009) 1291, severity 1.0, from memory.
 */
const BLIND: Record<string, number[][]> = {
  protanopia: [
    [0.152286, 1.052583, -0.204868],
    [0.114503, 0.786281, 0.099216],
    [-0.003882, -0.048116, 1.051998],
  ],
  deuteranopia: [
    [0.367322, 0.860646, -0.227968],
    [0.280085, 0.672501, 0.047413],
    [-0.01182, 0.04294, 0.968881],
  ],
  tritanopia: [
    [1.255528, -0.076749, -0.178779],
    [-0.078411, 0.930809, 0.147602],
    [0.004733, 0.691367, 0.3039],
  ],
}

/** CIE L*a*b* of linear RGB (sRGB primaries, D65). */
function lab(linearRgb: Rgb): Rgb {
  const [r, g, b] = linearRgb.map((c) => Math.min(1, Math.max(0, c))) as Rgb
  const x = (0.4124 * r + 0.3576 * g + 0.1805 * b) / 0.9505
  const y = 0.2126 * r + 0.7152 * g + 0.0722 * b
  const z = (0.0193 * r + 0.1192 * g + 0.9505 * b) / 1.089
  const f = (t: number) => (t > 0.008856 ? Math.cbrt(t) : 7.787 * t + 16 / 116)
  return [116 * f(y) - 16, 500 * (f(x) - f(y)), 200 * (f(y) - f(z))]
}

function apart(a: string, b: string, matrix: number[][] | null): number {
  const see = (hex: string): Rgb => {
    const c = rgb(hex).map(linear) as Rgb
    if (!matrix) return lab(c)
    return lab(matrix.map((row) => row.reduce((sum, m, i) => sum + m * (c[i] as number), 0)) as Rgb)
  }
  const [p, q] = [see(a), see(b)]
  return Math.hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2])
}

const TEXT: [keyof Palette, keyof Palette][] = [
  ["ink", "ground"],
  ["ink", "paper"],
  ["soft", "ground"],
  ["soft", "paper"],
  ["link", "ground"],
  ["link", "paper"],
  ["onAct", "act"],
]
const LINES: [keyof Palette, keyof Palette][] = [
  ["living", "paper"],
  ["living", "livingPale"],
  ["act", "paper"],
  ["act", "actPale"],
  ["act", "ground"],
  ["lying", "paper"],
  ["lying", "lyingPale"],
  ["edge", "paper"],
  ["ink", "actPale"],
]

describe.each([
  ["light", LIGHT],
  ["dark", DARK],
])("the %s palette", (_, palette) => {
  it.each(TEXT)("shows %s on %s as text: 4.5:1 or more (WCAG 2.2, 1.4.3)", (front, back) => {
    expect(contrast(palette[front], palette[back])).toBeGreaterThanOrEqual(4.5)
  })

  it.each(LINES)("shows %s on %s as a line that means something: 3:1 or more (WCAG 2.2, 1.4.11)", (front, back) => {
    expect(contrast(palette[front], palette[back])).toBeGreaterThanOrEqual(3)
  })

  it.each(["normal", ...Object.keys(BLIND)])("keeps what lives and what calls apart in %s sight", (sight) => {
    // 20 is many times a just noticeable difference of CIE76 (about 2.3; from memory).
    expect(apart(palette.living, palette.act, BLIND[sight] ?? null)).toBeGreaterThan(20)
    expect(apart(palette.livingPale, palette.actPale, BLIND[sight] ?? null)).toBeGreaterThan(9)
  })
})

it("gives the page both palettes, and light on paper", () => {
  const css = paletteCss()
  expect(css).toContain(`--act:${LIGHT.act}`)
  expect(css).toMatch(/prefers-color-scheme:dark\)\{:root\{[^}]*--act:#ffb26b/)
  expect(css.slice(css.indexOf("@media print"))).toContain(LIGHT.ink)
})
