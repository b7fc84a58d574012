import { showWeekday } from "../reminders/dates.ts"
import { bedName, capital } from "../reminders/names.ts"
import type { Reminder } from "../reminders/reminder.ts"
import { addDays, type Day, weekday } from "../values/day.ts"
import { seedWords, sentence, titleOf, whyOf } from "./digest-acts.ts"
import { html, type Markup, oneLine } from "./html.ts"
import type { SeasonPaths, SeasonView } from "./season-page.ts"
import { hidden } from "./season-page-frame.ts"
import { type Press, pressesFor, takesDay } from "./season-page-press.ts"

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
  }</p></details><p class="soft">${
    n === null ? null : `By text it is number ${n}. `
  }<a href="${paths.base}/do/${encodeURIComponent(reminder.id)}">${name}: choose another day</a></p></article>`
}

/** The buttons: those of the reply words, with Snooze and its day in the same form. */
function pressForm(reminder: Reminder, view: SeasonView, paths: SeasonPaths, name: string): Markup {
  const title = titleOf(reminder)
  const button = (press: Press) =>
    html`<button type="submit"${press.main ? html` class="main"` : press.word === "SKIP" ? html` class="quiet"` : null} name="word" value="${press.word}" aria-label="${press.label}: ${title}">${press.label}</button>`
  const presses = pressesFor(reminder)
  const late = new Set(["SNOOZE", "SKIP"])
  return html`<form method="post" action="${paths.base}/press">${hidden(formFields(reminder, view, paths))}<div class="row">${presses
    .filter((press) => !late.has(press.word))
    .map(button)}</div><div class="row"><select name="until" aria-label="Snooze ${name} until">${snoozeDays(
    view.on,
  ).map(
    (each) => html`<option value="${each.day}">until ${each.words}</option>`,
  )}</select>${presses.filter((press) => late.has(press.word)).map(button)}</div></form>`
}

/** The page of one thing: the same buttons, with any day to choose. The links of the mail lead here. */
export function onePageBody(reminder: Reminder, view: SeasonView, paths: SeasonPaths): Markup {
  const { on } = view
  const dated = pressesFor(reminder).filter((press) => takesDay(press.word))
  const open = isOpen(reminder)
  const fields = hidden(formFields(reminder, view, paths))
  return html`<header><p class="soft">${oneLine(view.garden.name)}</p><h1>${capital(titleOf(reminder))}</h1></header><main>${
    open
      ? html`<div class="card do"><p>${sentence(startOf(reminder) <= on ? reminder.text : (whyOf(reminder, view.plan) ?? reminder.short))}</p>${
          reminder.caution ? html`<p class="soft">${sentence(reminder.caution)}</p>` : null
        }${
          dated.length > 0
            ? html`<form method="post" action="${paths.base}/press">${fields}<label for="day">Which day was it?</label><div class="row"><input type="date" id="day" name="day" value="${on}" max="${on}" required></div><div class="row">${dated.map(
                (press) =>
                  html`<button type="submit"${press.main ? html` class="main"` : null} name="word" value="${press.word}">${press.label}</button>`,
              )}</div></form>`
            : null
        }</div><div class="card" id="snooze"><form method="post" action="${paths.base}/press">${fields}<label for="until">Snooze until</label><div class="row"><input type="date" id="until" name="until" value="${addDays(
          on,
          1,
        )}" min="${addDays(on, 1)}" required><button type="submit" name="word" value="SNOOZE">Snooze</button></div></form></div><div class="card"><form method="post" action="${
          paths.base
        }/press">${fields}<div class="row">${pressesFor(reminder)
          .filter((press) => !takesDay(press.word) && press.word !== "SNOOZE")
          .map(
            (press) =>
              html`<button type="submit" class="quiet" name="word" value="${press.word}">${press.label}</button>`,
          )}</div></form></div>`
      : html`<p>This is settled: ${stateWords(reminder)}. There is nothing left to press.</p>`
  }<p class="links"><a href="${paths.base}">Back to your season page</a></p></main>`
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
