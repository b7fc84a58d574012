import { showWeekday } from "../reminders/dates.ts"
import { capital } from "../reminders/names.ts"
import type { Reminder } from "../reminders/reminder.ts"
import { partsOf } from "../values/day.ts"
import { actsOfWeek, sentence, shortLine } from "./digest-acts.ts"
import { html, type Markup, oneLine, type Piece, raw, seen } from "./html.ts"
import { keyNotes, keySwatch, keysUsed, seasonChart } from "./season-chart.ts"
import { type BedRow, bedRows } from "./season-chart-rows.ts"
import type { Step } from "./season-chart-steps.ts"
import { dueCard, onePageBody } from "./season-page-due.ts"
import { hidden, pageOf } from "./season-page-frame.ts"
import { freshWords, logList } from "./season-page-log.ts"
import type { SeasonPaths, SeasonView } from "./season-page-view.ts"

/** More beds than this are shown in parts, so that the page stays small on a slow phone. */
const BEDS_A_PAGE = 10
/** More beds than this are printed as the picture alone, so that they fit on one sheet. */
const SHEET_BEDS = 6
/** More things to do than this are named with a link, not shown with all their buttons. */
const CARDS = 6
const NOTES = 8
const ALL_NOTES = 200

/** The season page: what to do, the picture and its twin in words, the log. `part` counts from 1. */
export function seasonPage(view: SeasonView, paths: SeasonPaths, part = 1): string {
  const { garden, person, on } = view
  const due = actsOfWeek(view)
  const all = bedRows(view.plan, view, person.minds)
  const parts = Math.max(1, Math.ceil(all.length / BEDS_A_PAGE))
  const current = Math.min(Math.max(1, part), parts)
  const rows = all.slice((current - 1) * BEDS_A_PAGE, current * BEDS_A_PAGE)
  const answer = freshWords(view)
  return pageOf(
    `${garden.name}: the season`,
    html`<a class="skip" href="#do">To what is due</a>
<header><p class="soft">${showWeekday(on, on)} ${partsOf(on).year}, for ${oneLine(person.name)}</p><h1>${oneLine(garden.name)}</h1></header>
<main${rows.length > SHEET_BEDS ? html` class="many"` : null}>${answer ? html`<div class="card said noprint" id="said" role="status"><p class="words">${seen(answer)}</p></div>` : null}
<section id="do" aria-labelledby="do-h" class="noprint"><h2 id="do-h">To do this week</h2>${
      due.length === 0 ? html`<p>Nothing to do this week.</p>` : null
    }${due.slice(0, CARDS).map((each) => dueCard(each, view, paths))}${moreDue(due.slice(CARDS), view, paths)}</section>
<section aria-labelledby="season-h"><h2 id="season-h">The season</h2>${picture(rows, view)}</section>
<section class="inwords" aria-labelledby="beds-h"><h2 id="beds-h">Every bed in words</h2><div class="beds">${rows.map((row) => bedTables(row, paths, false))}</div>${partsNav(
      parts,
      current,
      paths,
    )}</section>
<section aria-labelledby="tell-h" class="noprint"><h2 id="tell-h">Tell what you saw or did</h2>${noteForm(view, paths)}</section>
<section aria-labelledby="log-h" class="noprint"><h2 id="log-h">The log</h2>${logList(view, paths, NOTES)}<p class="links"><a href="${paths.base}/log">The whole log</a></p></section></main>
<footer><p class="links noprint">${paths.calendar ? html`<a href="${paths.calendar}">Calendar feed</a>` : null}</p>${linkCare(paths)}<p class="soft">Dates are estimates: early, likely, late. What you saw on the bed counts more.<span class="noprint"> To hang this up in the shed, print the page.</span></p>${credit(view)}</footer>`,
  )
}

/** Whose weather it is, with the links that its licence asks for. */
function credit({ attribution }: SeasonView): Piece {
  if (!attribution) return null
  const links = attribution.links.map((link) => html` <a href="${link.to}">${link.words}</a>`)
  return html`<p class="soft">${oneLine(attribution.words)}<span class="noprint">${links}</span></p>`
}

/** For a link that got into wrong hands: new ones, which go to the person's own address and are not shown here. */
function linkCare(paths: SeasonPaths): Markup {
  return html`<details class="noprint"><summary>Somebody else has this page's link?</summary><p>Whoever has it can read this page and press its buttons. New links end all older ones, your calendar's too, and come to your own mail or phone.</p><form method="post" action="${paths.base}/renew">${hidden({ form: paths.form })}<button type="submit">Send me new links</button></form></details>`
}

/** One bed: its whole timeline with the reason of each day, the ways out where two ends do not meet, its log. */
export function bedPage(view: SeasonView, paths: SeasonPaths, bed: string): string | null {
  const row = bedRows(view.plan, view, view.person.minds).find((each) => each.bed === bed)
  if (!row) return null
  return pageOf(
    `${row.name}: the season`,
    html`<header><p class="soft">${oneLine(view.garden.name)}, ${showWeekday(view.on, view.on)}</p><h1>${oneLine(row.name)}</h1></header>
<main><section aria-label="Picture">${picture([row], view)}</section><section aria-labelledby="line-h"><h2 id="line-h">Timeline</h2>${bedTables(
      row,
      paths,
      true,
    )}${waysOut(row, view)}${remarks(row)}</section>
<section aria-labelledby="log-h"><h2 id="log-h">Its log</h2>${logList(view, paths, ALL_NOTES, bed)}</section><p class="links noprint"><a href="${paths.base}">Back to your season page</a></p></main>`,
  )
}

/** One reminder with its buttons: where the mail's links lead. Null where there is none of that id for this person. */
export function onePage(view: SeasonView, paths: SeasonPaths, id: string): string | null {
  const reminder = view.reminders.find((each) => each.id === id && each.person === view.person.id)
  return reminder ? pageOf(`${view.garden.name}: one thing`, onePageBody(reminder, view, paths)) : null
}

/** The whole log. */
export function logPage(view: SeasonView, paths: SeasonPaths): string {
  return pageOf(
    `${view.garden.name}: the log`,
    html`<header><p class="soft">${oneLine(view.garden.name)}</p><h1>The log</h1></header><main>${logList(view, paths, ALL_NOTES)}<p class="links noprint"><a href="${paths.base}">Back to your season page</a></p></main>`,
  )
}

function moreDue(rest: readonly Reminder[], view: SeasonView, paths: SeasonPaths): Piece {
  if (rest.length === 0) return null
  return html`<div class="card do"><h3>Also this week</h3><ul>${rest.map(
    (each) =>
      html`<li><a href="${paths.base}/do/${encodeURIComponent(each.id)}">${shortLine(each, view.on).words}</a></li>`,
  )}</ul></div>`
}

function picture(rows: readonly BedRow[], view: SeasonView): Markup {
  const svg = seasonChart(rows, {
    on: view.on,
    title: `The season at ${oneLine(view.garden.name)}`,
    description: `A row a bed through twelve months. The same stands in words below: ${rows.map((row) => `${oneLine(row.name)}, ${oneLine(row.caption)}`).join("; ")}.`,
    for: "page",
  })
  return html`<div class="card">${raw(svg)}<ul class="key" aria-hidden="true">${keysUsed(rows).map(
    (key) => html`<li>${keySwatch(key.what, "chart")}${key.words}</li>`,
  )}</ul><ul class="notes">${keyNotes(rows, view.on).map((note) => html`<li>${note}</li>`)}</ul></div>`
}

/** The picture's twin: a table a sowing, in the order of the calendar. */
function bedTables(row: BedRow, paths: SeasonPaths, reasons: boolean): Markup {
  const name = oneLine(row.name)
  const link = reasons
    ? null
    : html`<p class="noprint"><a href="${paths.base}/bed/${encodeURIComponent(row.bed)}">${name}: reasons and log</a></p>`
  if (row.sowings.length === 0) return html`<div class="card"><h3>${name}</h3><p>No cover now.</p>${link}</div>`
  return html`<div class="card">${row.sowings.map(
    (sowing) =>
      html`<table><caption>${name}: ${sowing.cover}<br><span class="soft">${sowing.state}</span></caption><thead><tr><th scope="col">What</th><th scope="col">When</th></tr></thead><tbody>${sowing.steps
        .toSorted((a, b) => (a.from < b.from ? -1 : a.from > b.from ? 1 : 0))
        .map((step) => stepRow(step, reasons))}</tbody></table>`,
  )}${link}</div>`
}

function stepRow(step: Step, reasons: boolean): Markup {
  const marks = [...(step.seen ? ["seen"] : []), ...(step.whose === "gardener" ? ["yours"] : [])].join(" ")
  return html`<tr${marks ? html` class="${marks}"` : null}><th scope="row">${step.what}</th><td>${step.seen ? html`<strong>${unbroken(step.when)}</strong>` : unbroken(step.when)}${
    step.passed ? html`<br><span class="soft">${NOT_TOLD}</span>` : null
  }${reasons && step.why ? html`<br><span class="soft">${step.why}</span>` : null}</td></tr>`
}

/** Said of what was expected by now and was not seen. */
const NOT_TOLD = "not told; reckoned as passed"

/** Dates are not broken in the middle: each part of `any day 10-19 May, likely 14 May` stays on its line. */
function unbroken(when: string): Markup {
  return html`${when.split(/(?<=,) | (?=\()|(?<=^any day) /).map((part, i) => html`${i > 0 ? " " : ""}<span>${part}</span>`)}`
}

function waysOut(row: BedRow, view: SeasonView): Piece {
  return row.sowings.flatMap(({ plan }) => {
    if (!plan.next || plan.next.fits || plan.next.ways.length === 0) return []
    return [
      html`<h3>It will not be ready by ${showWeekday(plan.next.wanted, view.on)}</h3><p>Ways out:</p><ul>${plan.next.ways.map(
        (way) =>
          html`<li>${capital(oneLine(way.way))}: ready ${showWeekday(way.ready.likely, view.on)} or so. ${sentence(way.cost)}</li>`,
      )}</ul>`,
    ]
  })
}

function remarks(row: BedRow): Piece {
  return row.sowings.flatMap(({ plan }) => {
    const lines = [...plan.remarks, ...plan.hazards.map((each) => each.why), ...plan.cautions.map((each) => each.text)]
    return lines.length > 0
      ? [html`<h3>Good to know</h3><ul>${lines.map((line) => html`<li>${oneLine(line)}</li>`)}</ul>`]
      : []
  })
}

function partsNav(parts: number, current: number, paths: SeasonPaths): Piece {
  if (parts === 1) return null
  return html`<nav class="links noprint" aria-label="More beds">${Array.from({ length: parts }, (_, i) =>
    i + 1 === current
      ? html`<span aria-current="page">Beds, part ${i + 1} of ${parts}</span> `
      : html`<a href="${paths.base}?beds=${i + 1}">Beds, part ${i + 1}</a> `,
  )}</nav>`
}

function noteForm(view: SeasonView, paths: SeasonPaths): Markup {
  return html`<form class="card" method="post" action="${paths.base}/note">${hidden({ form: paths.form, seen: view.entries.at(-1)?.seq ?? 0 })}<label for="text">In your own words, as in a text</label><textarea id="text" name="text" maxlength="1600" required></textarea><p class="soft">For example: cut the south bed yesterday. Or: rye is in boot.</p><button type="submit" class="main">Send</button></form>`
}
