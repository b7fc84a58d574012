import type { Garden } from "../garden/garden.ts"
import { capital } from "../reminders/names.ts"
import { html, type Markup, oneLine, type Piece } from "./html.ts"
import { pageOf } from "./season-page-frame.ts"
import { type Comparison, comparisonWords, headingOf, score } from "./year-summary.ts"

/** Fewer events than this are told one by one only: a share of two says nothing. */
const ENOUGH = 5

/**
 * A year on paper, bed by bed, with the year before beside it: what was predicted four weeks ahead, what was seen, how far
 * off. Prints on few pages.
 */
export function yearSummaryPage(garden: Garden, year: number, all: readonly Comparison[]): string {
  const beds = garden.beds.filter((bed) =>
    all.some((each) => each.bed === bed.id && (each.year === year || each.year === year - 1)),
  )
  const total = score(all.filter((each) => each.year === year))
  return pageOf(
    `${garden.name} in ${year}`,
    html`<header><p class="soft">Predicted four weeks ahead, and seen</p><h1>${oneLine(garden.name)} in ${year}</h1></header><main>${
      total === null
        ? html`<p>Nothing was both predicted and seen in ${year}. Reports such as BLOOM or CUT fill this page.</p>`
        : html`<p>${totalWords(total)}</p>`
    }${beds.map((bed) => bedSection(garden, bed.id, year, all))}</main><footer><p class="soft">A range is meant to hold four of five events. Later and earlier count from the likely day.</p></footer>`,
  )
}

function totalWords({ events, inside, meanOff }: NonNullable<ReturnType<typeof score>>): string {
  const share = events >= ENOUGH ? ` ${inside} of ${events} fell inside their range.` : ""
  return `${events} ${events === 1 ? "event was" : "events were"} both predicted and seen, ${Math.round(meanOff * 10) / 10} days off on average.${share}`
}

function bedSection(garden: Garden, bed: string, year: number, all: readonly Comparison[]): Markup {
  const of = (wanted: number) => all.filter((each) => each.bed === bed && each.year === wanted)
  return html`<section><h2>${oneLine(headingOf(garden, bed))}</h2><div class="beds">${yearCard(year, of(year))}${yearCard(year - 1, of(year - 1))}</div></section>`
}

function yearCard(year: number, list: readonly Comparison[]): Piece {
  if (list.length === 0) return html`<div class="card"><h3>${year}</h3><p>Nothing was reported.</p></div>`
  return html`<div class="card"><table class="year"><caption>${year}: ${[...new Set(list.map((each) => each.cover))].join("; ")}</caption><thead><tr><th scope="col">What</th><th scope="col">Predicted</th><th scope="col">Seen</th></tr></thead><tbody>${list.map(
    (each) => {
      const { predicted, seen, off } = comparisonWords(each)
      return html`<tr><th scope="row">${each.species ? `${capital(each.species)}: ${each.what}` : capital(each.what)}</th><td>${predicted}</td><td>${seen}${
        off ? html`<br><small class="soft">${off}</small>` : null
      }</td></tr>`
    },
  )}</tbody></table></div>`
}
