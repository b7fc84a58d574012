import { showWeekday } from "../reminders/dates.ts"
import { bedName, capital } from "../reminders/names.ts"
import type { Reminder } from "../reminders/reminder.ts"
import { addDays, type Day, weekday } from "../values/day.ts"
import { seedWords, sentence, titleOf, whyOf } from "./digest-acts.ts"
import { html, type Markup, oneLine } from "./html.ts"
import { hidden } from "./season-page-frame.ts"
import { type Press, pressesFor, takesDay, warnsOfLateBed } from "./season-page-press.ts"
import type { SeasonPaths, SeasonView } from "./season-page-view.ts"

/** A thing to do, with its buttons: one form, no script; each button stands for a reply word. */
export function dueCard(reminder: Reminder, view: SeasonView, paths: SeasonPaths): Markup {
  const { on } = view
  const name = oneLine(bedName(view.garden, reminder.bed))
  const start = startOf(reminder)
  const begun = start <= on
  const why = whyOf(reminder, view.plan)
  const id = idOf(reminder)
  const lead =
    reminder.state === "snoozed"
      ? `Snoozed to ${showWeekday(start, on)}`
      : begun
        ? null
        : `From ${showWeekday(start, on)}`
  const n = view.numberOf(reminder.id)
  return html`<article class="card do" id="${id}" aria-labelledby="${id}-h"><h3 id="${id}-h">${capital(titleOf(reminder))}</h3>${
    lead ? html`<p class="soft">${lead}</p>` : null
  }${begun ? html`<p>${sentence(reminder.text)}</p>` : null}${
    reminder.caution ? html`<p class="soft">${sentence(reminder.caution)}</p>` : null
  }${
    reminder.kind === "sow"
      ? seedWords(
          view.plan.beds.flatMap((bed) => bed.sowings).find((each) => each.sowing === reminder.sowing),
          view,
        ).map((words) => html`<p>${words}</p>`)
      : null
  }${pressForm(reminder, view, paths, name)}<details><summary>Why<span class="soft">: ${name}</span></summary><p>${
    why ? sentence(why) : "It follows from what you told and the days that passed."
  }</p></details><p class="soft">${n === null ? null : `In a reply it is number ${n}. `}${
    warnsOfLateBed(reminder)
      ? html`<a href="${paths.base}/bed/${encodeURIComponent(reminder.bed)}">${name}: all ways out</a>`
      : html`<a href="${paths.base}/do/${encodeURIComponent(reminder.id)}">${name}: choose another day</a>`
  }</p></article>`
}

/** The buttons: those of the reply words, with Snooze and its day in the same form. */
function pressForm(reminder: Reminder, view: SeasonView, paths: SeasonPaths, name: string): Markup {
  const title = titleOf(reminder)
  const button = (press: Press) =>
    html`<button type="submit"${press.main ? html` class="main"` : press.word === "SKIP" ? html` class="quiet"` : null} name="word" value="${press.word}" aria-label="${press.label}: ${title}">${press.label}</button>`
  const presses = pressesFor(reminder, view.numberOf(reminder.id))
  if (presses.length === 0) return html``
  const fields = hidden(formFields(reminder, view, paths))
  const [now, later] = parted(presses)
  const until = html`<select name="until" aria-label="Snooze ${name} until">${snoozeDays(view.on).map(
    (each) => html`<option value="${each.day}">until ${each.words}</option>`,
  )}</select>`
  return html`<form method="post" action="${paths.base}/press">${fields}<div class="row">${now.map(button)}</div>${
    later.length > 0 ? html`<div class="row">${until}${later.map(button)}</div>` : null
  }</form>`
}

/** What settles a thing, and what puts it off: the second stands apart and is quieter. */
function parted(presses: readonly Press[]): [Press[], Press[]] {
  const putsOff = (press: Press) => press.word === "SNOOZE" || press.word === "SKIP"
  return [presses.filter((press) => !putsOff(press)), presses.filter(putsOff)]
}

/** The page of one thing: the same buttons, with any day to choose. The links of the mail lead here. */
export function onePageBody(reminder: Reminder, view: SeasonView, paths: SeasonPaths): Markup {
  const back = html`<p class="links"><a href="${paths.base}">Back to your season page</a></p>`
  const head = html`<header><p class="soft">${oneLine(view.garden.name)}</p><h1>${capital(titleOf(reminder))}</h1></header>`
  if (!isOpen(reminder))
    return html`${head}<main><p>This is settled: ${stateWords(reminder)}. There is nothing left to press.</p>${back}</main>`
  const about = startOf(reminder) <= view.on ? reminder.text : (whyOf(reminder, view.plan) ?? reminder.short)
  const caution = reminder.caution ? html`<p class="soft">${sentence(reminder.caution)}</p>` : null
  return html`${head}<main><div class="card do"><p>${sentence(about)}</p>${caution}</div>${oneThingForms(
    reminder,
    view,
    paths,
  )}${back}</main>`
}

function oneThingForms(reminder: Reminder, view: SeasonView, paths: SeasonPaths): Markup {
  const { on } = view
  const presses = pressesFor(reminder, view.numberOf(reminder.id))
  const fields = hidden(formFields(reminder, view, paths))
  const form = (id: string, body: Markup) =>
    html`<div class="card" id="${id}"><form method="post" action="${paths.base}/press">${fields}${body}</form></div>`
  const button = (press: Press) =>
    html`<button type="submit"${press.main ? html` class="main"` : press.word === "SKIP" ? html` class="quiet"` : null} name="word" value="${press.word}">${
      press.label
    }</button>`
  const dated = presses.filter((press) => takesDay(press.word))
  const others = presses.filter((press) => !takesDay(press.word) && press.word !== "SNOOZE")
  const day = html`<label for="day">Which day was it?</label><div class="row"><input type="date" id="day" name="day" value="${on}" max="${on}" required></div>`
  const tomorrow = addDays(on, 1)
  const until = html`<label for="until">Snooze until</label><div class="row"><input type="date" id="until" name="until" value="${tomorrow}" min="${tomorrow}" required>${presses
    .filter((press) => press.word === "SNOOZE")
    .map(button)}</div>`
  return html`${dated.length > 0 ? form("done", html`${day}<div class="row">${dated.map(button)}</div>`) : null}${
    presses.some((press) => press.word === "SNOOZE") ? form("snooze", until) : null
  }${others.length > 0 ? form("other", html`<div class="row">${others.map(button)}</div>`) : null}`
}

function formFields(reminder: Reminder, view: SeasonView, paths: SeasonPaths): Record<string, string | number> {
  return { form: paths.form, reminder: reminder.id, seen: view.entries.at(-1)?.seq ?? 0 }
}

function snoozeDays(on: Day): { day: Day; words: string }[] {
  const saturday = addDays(on, (6 - weekday(on) + 7) % 7 || 7)
  const days = [addDays(on, 1), addDays(on, 3), saturday, addDays(on, 7), addDays(on, 14)]
  return [...new Set(days)]
    .toSorted()
    .map((day) => ({ day, words: day === addDays(on, 1) ? "tomorrow" : showWeekday(day, on) }))
}

function stateWords(reminder: Reminder): string {
  return (
    { done: "it is done", skipped: "it is skipped", lapsed: "its time has passed" }[reminder.state as "done"] ??
    "it is over"
  )
}

export function isOpen(reminder: Reminder): boolean {
  return ["planned", "due", "sent", "snoozed"].includes(reminder.state)
}

function startOf(reminder: Reminder): Day {
  return reminder.state === "snoozed" && reminder.speaks ? reminder.speaks : reminder.opens
}

/** An id for the page out of a reminder's id. */
function idOf(reminder: Reminder): string {
  return `r-${reminder.id.replace(/[^a-z0-9-]/g, "-")}`
}
