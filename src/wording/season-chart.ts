import { showDay } from "../reminders/dates.ts"
import type { SowingPlan } from "../season/bed-plan.ts"
import { addDays, type Day, partsOf } from "../values/day.ts"
import { SIZE, TYPE } from "./design-tokens.ts"
import { html, type Markup, oneLine, type Piece, raw } from "./html.ts"
import type { Band, BandKind } from "./season-chart-bands.ts"
import { chartColours, chartPatterns, PLACE, placeOf } from "./season-chart-paint.ts"
import type { BedRow } from "./season-chart-rows.ts"
import { type ChartYear, chartYear, lensMondays, monthStarts, type Scale, scaleOf } from "./season-chart-scale.ts"
import { WORDS, wordStart } from "./season-chart-words.ts"

/**
 * The picture of a garden's year, one row a bed, as an SVG string. Each row has a ground line: above it stands what lives,
 * below it lies the soil and the gardener's work. So the place says whose turn it is, the pattern what it is like (dots are
 * seed, upright strokes are stems, rings are flowers, slanting strokes are the blade, lying strokes are stems that rot,
 * forked strokes are seedlings), and a key gives the word. Bands are stretches in which a thing may happen on any day; the
 * tick marks the likely day. The eight weeks around today are drawn larger where that is where the work is. Right of the
 * line of today everything is expected, left of it known.
 */
export type ChartOptions = {
  on: Day
  /** Prefix of the ids in it. */
  id?: string
  title: string
  /** What the picture says in one sentence. */
  description: string
  /** `picture`: 432 wide with colours and key written in, to go alone; `page`: as wide as its place, coloured by the page. */
  for: "picture" | "page"
}

const HEAD = 50
const ROW = 66
const KEY_ROW = 20
/** Width of the stand-alone picture in its own pixels, and the margin around what is drawn. */
const PICTURE = { width: 432, margin: 12, keyColumns: 3 }
/** Width of a row on a screen that counts as wide: 740 px less what stands around it. */
const WIDE_ROOM = 670
/** Month names are repeated at the foot where a reader would otherwise scroll to see them. */
const REPEAT_HEAD_FROM = 8

/** The words of the key, in the order of a season. */
export const KEY: readonly { what: BandKind; words: string }[] = [
  { what: "sow", words: "sow" },
  { what: "seed", words: "sown" },
  { what: "growing", words: "growing" },
  { what: "flower", words: "first flower" },
  { what: "cut", words: "cut" },
  { what: "rest", words: "rest" },
  { what: "ready", words: "ready to plant" },
  { what: "planted", words: "food crop" },
]

/** How to read the picture of these rows on a day, in sentences for below it: no sentence for what is not in it. */
export function keyNotes(rows: readonly BedRow[], on: Day): string[] {
  const sowings = rows.flatMap((row) => row.sowings)
  const limit = sowings.some(({ bands }) => bands.some((band) => band.what === "cut"))
  const wish = sowings.some(({ plan }) => wantedDay(plan) !== null)
  const signs = [
    ...(limit ? ["Thick orange edge: limit of the cut."] : []),
    ...(wish ? ["Flag: day you want to plant."] : []),
  ]
  return [
    "May happen any day in its band; the tick is the likely day.",
    ...(signs.length > 0 ? [signs.join(" ")] : []),
    ...(yearOf(rows, on).lens ? ["The shaded weeks are drawn larger; numbers are Mondays."] : []),
  ]
}

/** Draws the rows. The same rows, day and options give the same picture to the letter. */
export function seasonChart(rows: readonly BedRow[], options: ChartOptions): string {
  const id = options.id ?? "chart"
  const alone = options.for === "picture"
  const year = yearOf(rows, options.on)
  const frame: Frame = {
    id,
    year,
    scale: scaleOf(year),
    room: alone ? PICTURE.width : SIZE.leastColumn,
    on: options.on,
  }
  const used = keysUsed(rows)
  const foot = HEAD + rows.length * ROW
  const again = rows.length >= REPEAT_HEAD_FROM ? 18 : 0
  const notes = keyNotes(rows, options.on).flatMap((note) => note.split(/(?<=\.) /))
  const keyHeight = alone ? Math.ceil(used.length / PICTURE.keyColumns) * KEY_ROW + notes.length * 17 + 16 : 0
  const height = foot + again + keyHeight
  const { width, margin } = PICTURE
  const size = alone
    ? html`width="${width + 2 * margin}" height="${height + 2 * margin}" viewBox="${-margin} ${-margin} ${width + 2 * margin} ${
        height + 2 * margin
      }" font-family="${TYPE.picture}"`
    : html`width="100%" height="${height}"`
  return html`<svg xmlns="http://www.w3.org/2000/svg" ${size} class="chart" role="img" aria-labelledby="${id}-t ${id}-d"><title id="${id}-t">${oneLine(
    options.title,
  )}</title><desc id="${id}-d">${oneLine(options.description)}</desc>${
    alone ? html`<style>${raw(chartColours("literal"))}</style>` : null
  }<defs>${raw(chartPatterns(id))}</defs>${
    alone
      ? html`<rect class="paper" x="${-margin}" y="${-margin}" width="${width + 2 * margin}" height="${height + 2 * margin}"/>`
      : null
  }${calendar(frame, foot, again > 0, alone ? width : null)}${rows.map((row, i) => bedRow(row, HEAD + i * ROW, frame, alone ? width : null))}${
    alone ? keyOf(used, notes, foot + again + 12, id) : null
  }</svg>`.text
}

/** The kinds of band that rows hold, with their words: what a key must name. */
export function keysUsed(rows: readonly BedRow[]): typeof KEY {
  const kinds = new Set(rows.flatMap((row) => row.sowings.flatMap((sowing) => sowing.bands.map((band) => band.what))))
  return KEY.filter((key) => kinds.has(key.what))
}

/** One swatch of the key as a picture of its own, for a key that is written in HTML beside a picture of the same id. */
export function keySwatch(what: BandKind, id: string): Markup {
  return html`<svg width="30" height="18" aria-hidden="true" focusable="false">${swatch(what, 1, 1, id)}</svg>`
}

/** The stretch a picture of these rows shows: every day on which a band begins or ends counts. */
function yearOf(rows: readonly BedRow[], on: Day): ChartYear {
  return chartYear(
    on,
    rows.flatMap((row) => row.sowings.flatMap(({ bands }) => bands.flatMap((band) => [band.from, band.to]))),
  )
}

/** The day on which the gardener wants to plant after a sowing: their own wish, so a flag and no band. */
function wantedDay({ next, state }: SowingPlan): Day | null {
  return next && state !== "planted" ? next.wanted : null
}

type Frame = { id: string; year: ChartYear; scale: Scale; room: number; on: Day }

/** A place along the row: per cent of its width on a page; in the picture, whose width is known, the same by viewBox. */
function at(x: number, width: number | null): string {
  return width === null ? `${x}%` : String(Math.round(x * width) / 100)
}

function calendar({ year, scale, on }: Frame, foot: number, again: boolean, width: number | null): Piece {
  const letters = "JFMAMJJASOND"
  const names = ["Jan", "Feb", "Mar", "Apr", "May", "June", "July", "Aug", "Sep", "Oct", "Nov", "Dec"]
  const { lens } = year
  const [from, to] = lens ? [scale(lens.first), scale(addDays(lens.last, 1))] : [0, 100]
  const heads = monthStarts(year).map((start) => {
    const month = partsOf(start).month - 1
    const wide = lens !== null && start >= lens.first && scale(start) < to - 8
    return {
      x: at(scale(start), width),
      words: wide ? names[month] : lens ? letters[month] : names[month]?.slice(0, 3),
      wide,
    }
  })
  const mondays = lensMondays(year).map((d) => ({ x: at(scale(d), width), words: partsOf(d).dayOfMonth }))
  const line = (y: number) =>
    heads.map(
      ({ x, words, wide }) =>
        html`<text class="${wide ? "month near" : "month"}" x="${x}" dx="2" y="${y}">${words}</text>`,
    )
  const shade = html`<rect class="lens" x="${at(from, width)}" y="18" width="${at(to - from, width)}" height="${foot - 18 + (again ? 16 : 0)}"/>`
  return html`${lens ? shade : null}${heads.map(
    ({ x }) => html`<line class="rule" x1="${x}" x2="${x}" y1="20" y2="${foot}"/>`,
  )}${line(30)}${mondays.map(({ x, words }) => html`<text class="monday" x="${x}" dx="1" y="44">${words}</text>`)}${
    again ? line(foot + 13) : null
  }<text class="today" x="${at(scale(on), width)}" y="12" text-anchor="middle">today, ${showDay(on, on)}</text>`
}

function bedRow(row: BedRow, top: number, frame: Frame, width: number | null): Markup {
  const bands = row.sowings.flatMap((sowing) => sowing.bands)
  const wanted = row.sowings.flatMap(({ plan }) => wantedDay(plan) ?? [])
  const bloom = bands.find((band) => band.what === "flower" && band.from !== band.to)?.from ?? null
  const now = at(frame.scale(frame.on), width)
  return html`<g transform="translate(0 ${top})"><text class="bed" x="0" y="${PLACE.words}">${shorten(row.name, 24)}<tspan class="next" dx="7">${shorten(
    row.caption,
    26,
  )}</tspan></text>${inOrder(bands).map((band) => bandMarks(band, { wanted, bloom }, frame, width))}<line class="soil" x1="0" x2="${at(100, width)}" y1="${PLACE.ground}" y2="${
    PLACE.ground
  }"/>${wanted.map((d) => flag(d, frame, width))}<line class="halo" x1="${now}" x2="${now}" y1="${PLACE.bloom - 1}" y2="${PLACE.foot + 1}"/><line class="now" x1="${now}" x2="${now}" y1="${
    PLACE.bloom - 1
  }" y2="${PLACE.foot + 1}"/></g>`
}

/** What lies under is drawn first: flowers over stems, limits over all. */
function inOrder(bands: readonly Band[]): Band[] {
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
  const place = (band: Band) => (band.from !== band.to ? rank[band.what] : band.what === "cut" ? 5 : 6)
  return bands.toSorted((a, b) => place(a) - place(b))
}

/** What crosses a row's bands: days wanted for planting, and the flowers that stand before the stems. */
type Crossing = { wanted: readonly Day[]; bloom: Day | null }

function bandMarks(band: Band, { wanted, bloom }: Crossing, frame: Frame, width: number | null): Piece {
  const span = clip(band, frame)
  if (!span) return null
  const x = at(span.x, width)
  if (band.from === band.to && band.what === "cut") return edge(x, true)
  if (band.from === band.to && band.what === "flower")
    return html`<circle class="flower" cx="${x}" cy="${PLACE.bloom + 5}" r="4"/>`
  const { y, h } = placeOf(band.what)
  const tick =
    band.likely && band.likely <= band.to && within(band.likely, frame.year) ? frame.scale(band.likely) : null
  const shape = html`x="${x}" y="${y}" width="${at(span.w, width)}" height="${h}"`
  // Ticks stick out of their band on the side away from the ground.
  const reach = y < PLACE.ground ? html`y1="${y - 3}" y2="${y + h}"` : html`y1="${y}" y2="${y + h + 3}"`
  return html`<rect class="${band.what}" ${shape}/><rect fill="url(#${frame.id}-${band.what})" ${shape}/>${
    band.what === "cut" && !span.runsOn ? edge(at(span.x + span.w, width), false) : null
  }${tick === null ? null : html`<line class="tick" x1="${at(tick, width)}" x2="${at(tick, width)}" ${reach}/>`}${wordIn(
    band.what,
    band.what === "growing" && bloom ? { x: span.x, w: Math.min(span.w, frame.scale(bloom) - span.x) } : span,
    [...(tick === null ? [] : [tick]), frame.scale(frame.on), ...wanted.map(frame.scale)],
    frame,
    width,
  )}`
}

/** The limit of a cut, or a cut that was made: a bar through both halves of the row, as the blade goes at the ground. */
function edge(x: string, made: boolean): Markup {
  const bar = html`x1="${x}" x2="${x}" y1="${PLACE.bloom}" y2="${PLACE.foot}"`
  return html`${made ? html`<line class="halo" ${bar}/>` : null}<line class="limit" ${bar}/>`
}

/**
 * The word itself, where the band has room for it on the narrowest screen, beside the lines that cross it (`crossed`,
 * per cent of the width). A page also holds the words that only a wide screen has room for, and shows them there.
 */
function wordIn(
  what: BandKind,
  span: { x: number; w: number },
  crossed: readonly number[],
  frame: Frame,
  width: number | null,
): Piece {
  const word = WORDS[what]
  if (!word) return null
  const { y, h } = placeOf(what)
  const narrow = wordStart(word, span, crossed, frame.room)
  const start = narrow ?? (width === null ? wordStart(word, span, crossed, WIDE_ROOM) : null)
  if (start === null) return null
  return html`<text class="${narrow === null ? "word wide" : "word"}" x="${at(start, width)}" y="${y + h / 2 + 4}">${word}</text>`
}

function flag(wanted: Day, frame: Frame, width: number | null): Piece {
  if (!within(wanted, frame.year)) return null
  const x = at(frame.scale(wanted), width)
  return html`<line class="flag" x1="${x}" x2="${x}" y1="${PLACE.bloom - 2}" y2="${PLACE.foot}"/><svg x="${x}" y="${
    PLACE.bloom - 2
  }" width="11" height="9"><path class="pennant" d="M0 0h10l-3 4 3 4H0z"/></svg>`
}

function clip(band: Band, { scale, year }: Frame): { x: number; w: number; runsOn: boolean } | null {
  if (band.to < year.first || band.from > year.last) return null
  const x = band.from < year.first ? 0 : scale(band.from)
  const runsOn = band.to > year.last
  const end = runsOn ? 100 : scale(addDays(band.to, 1))
  return { x, w: Math.max(0.3, Math.round((end - x) * 100) / 100), runsOn }
}

function within(d: Day, { first, last }: ChartYear): boolean {
  return d >= first && d <= last
}

function keyOf(used: typeof KEY, sentences: readonly string[], top: number, id: string): Piece {
  const column = PICTURE.width / PICTURE.keyColumns
  const notes = top + Math.ceil(used.length / PICTURE.keyColumns) * KEY_ROW + 14
  return html`${used.map((key, i) => {
    const x = (i % PICTURE.keyColumns) * column
    const y = top + Math.floor(i / PICTURE.keyColumns) * KEY_ROW
    return html`${swatch(key.what, x, y, id)}<text class="legend" x="${x + 34}" y="${y + 13}">${key.words}</text>`
  })}${sentences.map((note, i) => html`<text class="legend" x="0" y="${notes + i * 17}">${note}</text>`)}`
}

function swatch(what: BandKind, x: number, y: number, id: string): Markup {
  const { y: place, h } = placeOf(what)
  // The patterns hang in the rows' coordinates, so a swatch is drawn where the band would be and moved.
  const shape = html`x="0" y="${place}" width="28" height="${Math.min(h, 16)}"`
  return html`<g transform="translate(${x} ${y - place})"><rect class="${what}" ${shape}/><rect fill="url(#${id}-${what})" ${shape}/></g>`
}

function shorten(text: string, most: number): string {
  const line = oneLine(text)
  const letters = [...line]
  return letters.length <= most ? line : `${letters.slice(0, most - 1).join("")}…`
}
