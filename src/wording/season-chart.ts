import { showDay } from "../reminders/dates.ts"
import { addDays, type Day, dayFromNumber, dayNumber, dayOf, partsOf } from "../values/day.ts"
import { SIZE, TYPE } from "./design-tokens.ts"
import { html, type Markup, oneLine, type Piece, raw } from "./html.ts"
import { chartColours, chartPatterns } from "./season-chart-paint.ts"
import type { Band, BandKind, BedRow } from "./season-chart-rows.ts"

/**
 * The picture of a garden's year, one row a bed, as an SVG string. Each row has a ground line: above it stands what lives,
 * below it lies the soil and the gardener's work. So the place says whose turn it is, the pattern what it is like (dots are
 * seed, upright strokes are stems, rings are flowers, slanting strokes are the blade, lying strokes are stems that rot,
 * open hooks are seedlings), and a key gives the word. Bands are stretches in which a thing may happen on any day; the tick
 * marks the likely day. Right of the line of today everything is expected, left of it known.
 */
export type ChartOptions = {
  on: Day
  /** Prefix of the ids in it, where a page holds more than one. */
  id?: string
  title: string
  /** What the picture says in one sentence. */
  description: string
  /** A width in pixels with colours written in; or `fluid`: as wide as its place, coloured by the page's style sheet. */
  width: number | "fluid"
}

/** A stretch of the calendar that a row runs through: twelve months, today in the fifth of them. */
export type ChartYear = { first: Day; last: Day }

const HEAD = 40
const ROW = 68
/** Where things stand within a row, from its top. */
const PLACE = { words: 15, upper: 24, bloom: 20, ground: 44, lower: 46, foot: 60 }

/** Every kind of band with the words of the key, in the order of a season. */
export const KEY: readonly { what: BandKind; words: string }[] = [
  { what: "sow", words: "sow on any day here" },
  { what: "seed", words: "sown, not up yet" },
  { what: "growing", words: "growing" },
  { what: "flower", words: "first flower, any day in this band" },
  { what: "cut", words: "cut; tick is best, thick edge is the limit" },
  { what: "rest", words: "resting" },
  { what: "ready", words: "ready to plant, any day in this band" },
  { what: "planted", words: "food crop" },
]

/** The twelve months that a picture of a day shows: from the first of the month four before it. */
export function chartYear(on: Day): ChartYear {
  const { year, month } = partsOf(on)
  const index = year * 12 + (month - 1) - 4
  const first = dayOf(Math.floor(index / 12), (index % 12) + 1, 1) as Day
  const next = dayOf(Math.floor(index / 12) + 1, (index % 12) + 1, 1) as Day
  return { first, last: addDays(next, -1) }
}

/** Height in pixels of a picture with so many beds and its key. */
export function chartHeight(beds: number, keyRows: number): number {
  return HEAD + beds * ROW + keyRows * 22 + (keyRows > 0 ? 14 : 4)
}

/** Draws the rows. The same rows, day and options give the same picture to the letter. */
export function seasonChart(rows: readonly BedRow[], options: ChartOptions): string {
  const { on, width } = options
  const id = options.id ?? "chart"
  const year = chartYear(on)
  const scale = scaleOf(year)
  const fixed = width === "fluid" ? null : width
  const room = fixed ?? SIZE.leastColumn
  const used = KEY.filter((key) =>
    rows.some((row) => row.sowings.some((s) => s.bands.some((b) => b.what === key.what))),
  )
  const columns = fixed ? 2 : 1
  const keyRows = fixed ? Math.ceil(used.length / columns) : 0
  const height = chartHeight(rows.length, keyRows)
  const size = fixed
    ? html`width="${fixed}" height="${height}" viewBox="0 0 ${fixed} ${height}"`
    : html`width="100%" height="${height}"`
  return html`<svg xmlns="http://www.w3.org/2000/svg" ${size} class="chart" role="img" aria-labelledby="${id}-t ${id}-d" font-family="${
    fixed ? TYPE.picture : "inherit"
  }"><title id="${id}-t">${oneLine(options.title)}</title><desc id="${id}-d">${oneLine(options.description)}</desc>${
    fixed ? html`<style>${raw(chartColours("literal"))}</style>` : null
  }<defs>${raw(chartPatterns(id))}</defs>${fixed ? html`<rect class="paper" width="100%" height="100%"/>` : null}${months(
    year,
    scale,
    height - keyRows * 22 - (keyRows > 0 ? 12 : 0),
  )}${rows.map((row, i) => bedRow(row, HEAD + i * ROW, { id, scale, year, room }))}${today(
    on,
    scale,
    HEAD + rows.length * ROW,
  )}${fixed ? keyOf(used, HEAD + rows.length * ROW + 10, fixed / columns, id) : null}</svg>`.text
}

/** One swatch of the key as a picture of its own, for a key that is written in HTML. */
export function keySwatch(what: BandKind, id: string): Markup {
  return html`<svg class="swatch" width="40" height="24" aria-hidden="true" focusable="false">${swatch(what, 0, 2, id)}</svg>`
}

type Scale = (d: Day) => number
type Frame = { id: string; scale: Scale; year: ChartYear; room: number }

/** Share of the width at which a day begins, 0 to 100. */
function scaleOf({ first, last }: ChartYear): Scale {
  const start = dayNumber(first)
  const days = dayNumber(last) - start + 1
  return (d) => Math.round(((dayNumber(d) - start) / days) * 10_000) / 100
}

function months({ first }: ChartYear, scale: Scale, foot: number): Piece {
  const { year, month } = partsOf(first)
  const names = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"]
  return Array.from({ length: 12 }, (_, i) => {
    const index = year * 12 + month - 1 + i
    const start = dayOf(Math.floor(index / 12), (index % 12) + 1, 1) as Day
    const x = scale(start)
    return html`<line class="rule" x1="${x}%" x2="${x}%" y1="4" y2="${foot}"/><text class="month" x="${x}%" dx="3" y="13">${
      names[index % 12]
    }</text>`
  })
}

function today(on: Day, scale: Scale, foot: number): Markup {
  const x = scale(on)
  return html`<line class="halo" x1="${x}%" x2="${x}%" y1="34" y2="${foot}"/><line class="now" x1="${x}%" x2="${x}%" y1="34" y2="${foot}"/><text class="today" x="${x}%" y="30" text-anchor="middle">today, ${showDay(
    on,
    on,
  )}</text>`
}

function bedRow(row: BedRow, top: number, frame: Frame): Markup {
  const bands = row.sowings.flatMap((sowing) => sowing.bands)
  const ground = top + PLACE.ground
  // Wanted days are the gardener's own: a flag stands where one is.
  const flags = row.sowings.flatMap(({ plan }) => (plan.next && plan.state !== "planted" ? [plan.next.wanted] : []))
  return html`<g><text class="bed" x="0" y="${top + PLACE.words}">${shorten(row.name, 24)}<tspan class="next" dx="7">${shorten(
    row.caption,
    26,
  )}</tspan></text>${order(bands).map((band) => bandMarks(band, top, frame))}<line class="soil" x1="0" x2="100%" y1="${ground}" y2="${ground}"/>${flags.map(
    (wanted) => flag(wanted, top, frame),
  )}</g>`
}

/** What lies under is drawn first: flowers over stems, limits over all. */
function order(bands: readonly Band[]): Band[] {
  const rank: Record<BandKind, number> = {
    seed: 0,
    sow: 0,
    growing: 0,
    planted: 0,
    rest: 1,
    ready: 2,
    flower: 3,
    cut: 4,
  }
  return bands.toSorted((a, b) => rank[a.what] - rank[b.what])
}

function bandMarks(band: Band, top: number, frame: Frame): Piece {
  const span = clip(band, frame)
  if (!span) return null
  const { x, w, open } = span
  const done = band.what === "cut" && band.from === band.to
  if (done) return doneCut(x, top)
  const box = boxOf(band.what)
  const y = top + box.y
  const tick = band.likely && within(band.likely, frame.year) ? frame.scale(band.likely) : null
  return html`<rect class="${band.what}" x="${x}%" y="${y}" width="${w}%" height="${box.h}"/><rect fill="url(#${
    frame.id
  }-${band.what})" x="${x}%" y="${y}" width="${w}%" height="${box.h}"/>${
    band.what === "cut" && !open.right
      ? html`<line class="limit" x1="${x + w}%" x2="${x + w}%" y1="${top + PLACE.bloom}" y2="${top + PLACE.foot}"/>`
      : null
  }${
    tick === null
      ? null
      : html`<line class="tick ${band.what}-tick" x1="${tick}%" x2="${tick}%" y1="${y - 3}" y2="${y + box.h}"/>`
  }${wordIn(band.what, x, w, y, box.h, frame)}`
}

/** A cut that was made: one bar through both halves of the row, as the blade went through at the ground. */
function doneCut(x: number, top: number): Markup {
  return html`<line class="halo" x1="${x}%" x2="${x}%" y1="${top + PLACE.bloom}" y2="${top + PLACE.foot}"/><line class="limit" x1="${x}%" x2="${x}%" y1="${
    top + PLACE.bloom
  }" y2="${top + PLACE.foot}"/>`
}

/** The word itself where the band is wide enough for it on the narrowest screen. */
function wordIn(what: BandKind, x: number, w: number, y: number, h: number, frame: Frame): Piece {
  const words: Partial<Record<BandKind, string>> = {
    sow: "sow",
    seed: "sown",
    growing: "growing",
    rest: "rest",
    ready: "ready",
    planted: "food crop",
  }
  const word = words[what]
  if (!word || (w / 100) * frame.room < word.length * 7.4 + 10) return null
  return html`<text class="word" x="${x}%" dx="5" y="${y + h - (h > 16 ? 6 : 3.5)}">${word}</text>`
}

function flag(wanted: Day, top: number, frame: Frame): Piece {
  if (!within(wanted, frame.year)) return null
  const x = frame.scale(wanted)
  return html`<line class="flag" x1="${x}%" x2="${x}%" y1="${top + PLACE.bloom}" y2="${top + PLACE.foot}"/><svg x="${x}%" y="${
    top + PLACE.bloom
  }" width="10" height="9"><path class="pennant" d="M0 0h9l-3 4 3 4H0z"/></svg>`
}

function boxOf(what: BandKind): { y: number; h: number } {
  if (what === "flower") return { y: PLACE.bloom, h: PLACE.ground - PLACE.bloom }
  if (what === "growing" || what === "planted") return { y: PLACE.upper, h: PLACE.ground - PLACE.upper }
  return { y: PLACE.lower, h: PLACE.foot - PLACE.lower }
}

function clip(
  band: Band,
  { scale, year }: Frame,
): { x: number; w: number; open: { left: boolean; right: boolean } } | null {
  if (band.to < year.first || band.from > year.last) return null
  const x = Math.max(0, scale(band.from))
  const end = band.to >= year.last ? 100 : scale(dayFromNumber(dayNumber(band.to) + 1))
  return {
    x,
    w: Math.max(0.3, Math.round((end - x) * 100) / 100),
    open: { left: band.from < year.first, right: band.to > year.last },
  }
}

function within(d: Day, { first, last }: ChartYear): boolean {
  return d >= first && d <= last
}

function keyOf(used: typeof KEY, top: number, column: number, id: string): Piece {
  const rows = Math.ceil(used.length / 2)
  return used.map((key, i) => {
    const x = Math.floor(i / rows) * column
    const y = top + (i % rows) * 22
    return html`${swatch(key.what, x, y, id)}<text class="key" x="${x + 44}" y="${y + 14}">${key.words}</text>`
  })
}

function swatch(what: BandKind, x: number, y: number, id: string): Markup {
  return html`<rect class="${what}" x="${x}" y="${y + 2}" width="36" height="14"/><rect fill="url(#${id}-${what})" x="${x}" y="${
    y + 2
  }" width="36" height="14"/>${
    what === "cut" ? html`<line class="limit" x1="${x + 36}" x2="${x + 36}" y1="${y}" y2="${y + 18}"/>` : null
  }${
    what === "flower" || what === "cut" || what === "ready"
      ? html`<line class="tick ${what}-tick" x1="${x + 18}" x2="${x + 18}" y1="${y - 1}" y2="${y + 16}"/>`
      : null
  }`
}

function shorten(text: string, most: number): string {
  const line = oneLine(text)
  const letters = [...line]
  return letters.length <= most ? line : `${letters.slice(0, most - 1).join("")}…`
}
