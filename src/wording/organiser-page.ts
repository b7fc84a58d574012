import type { ChannelState } from "../garden/history.ts"
import { showDay } from "../reminders/dates.ts"
import { type Day, daysBetween } from "../values/day.ts"
import { html, type Markup, oneLine } from "./html.ts"
import { pageOf } from "./season-page-frame.ts"

/** How messages reach one person. Nothing here is what anybody said. */
export type Reach = {
  name: string
  text: ChannelState | "not asked" | "not confirmed" | "none"
  mail: ChannelState | "none"
  /** Day on which something last reached them by a nudge or weekly mail, and on which something last failed. */
  lastSent: Day | null
  lastFailed: { on: Day; code: string } | null
}

/** A cut that is over its limit and that nobody has told as done. */
export type OverdueCut = { bed: string; by: Day }

export type Plot = { garden: string; people: Reach[]; overdue: OverdueCut[]; unplanned?: boolean }

/** What an organiser sees of the gardens that came by their invite word: never a reply, a note or a photo. */
export type Overview = {
  garden: string
  /** The word by which people join, and the address to which it may be mailed. */
  invite: string | null
  mail: string | null
  on: Day
  plots: Plot[]
  more: number
}

/** The organiser's page. */
export function organiserPage(overview: Overview): string {
  const { overdue, trouble } = countsOf(overview)
  const name = oneLine(overview.garden)
  return pageOf(
    `${name}: plots`,
    html`<header><h1>${name}: plots</h1><p class="soft">As of ${showDay(overview.on, overview.on)}. ${summary(overview)}</p></header><main>
${joinWords(overview)}
<h2>Overdue cuts</h2>
${overdue.length === 0 ? html`<p>None. Every cover that had to be cut was told as cut.</p>` : overdueTable(overview)}
<h2>Who is not reached</h2>
${trouble.length === 0 ? html`<p>Everyone is.</p>` : reachTable(trouble)}
<h2>All plots</h2>
${overview.plots.length === 0 ? html`<p>Nobody has joined yet.</p>` : allTable(overview)}
${overview.more > 0 ? html`<p class="soft">${overview.more} plots more are not shown.</p>` : null}
</main><footer><p>What people write about their plots is theirs and is not shown here.</p></footer>`,
  )
}

function joinWords({ invite, mail }: Overview): Markup | null {
  if (!invite) return null
  const byMail = mail ? html`, or mail that word to ${mail}` : null
  return html`<p>To join, people text <strong>${invite}</strong> to the number of these reminders${byMail}.</p>`
}

/** The same in plain words, as the organiser's weekly mail. */
export function organiserMail(overview: Overview, link: string | null): { subject: string; text: string } {
  const { overdue, trouble } = countsOf(overview)
  const lines = [
    `${oneLine(overview.garden)}, as of ${showDay(overview.on, overview.on)}. ${summary(overview)}`,
    "",
    "Overdue cuts",
    ...(overdue.length === 0
      ? ["  none"]
      : overdue.map(
          ({ plot, cut }) =>
            `  ${oneLine(plot.garden)}, ${oneLine(cut.bed)}: ${lateBy(cut, overview.on)} (${names(plot)})`,
        )),
    "",
    "Who is not reached",
    ...(trouble.length === 0
      ? ["  nobody: all are"]
      : trouble.map(
          ({ plot, person }) => `  ${oneLine(person.name)} (${oneLine(plot.garden)}): ${reachWords(person)}`,
        )),
    ...(link ? ["", "All plots:", link] : []),
    "",
    "What people write about their plots is theirs and is not in this mail.",
  ]
  return {
    subject: `${oneLine(overview.garden)}: ${overdue.length} overdue, ${trouble.length} not reached`,
    text: `${lines.join("\n")}\n`,
  }
}

function countsOf(overview: Overview) {
  const overdue = overview.plots
    .flatMap((plot) => plot.overdue.map((cut) => ({ plot, cut })))
    .sort((a, b) => (a.cut.by < b.cut.by ? -1 : 1))
  const trouble = overview.plots.flatMap((plot) => plot.people.filter(isTrouble).map((person) => ({ plot, person })))
  return { overdue, trouble }
}

function summary(overview: Overview): string {
  const { overdue, trouble } = countsOf(overview)
  const people = overview.plots.reduce((sum, plot) => sum + plot.people.length, 0)
  const count = (n: number, one: string, many: string) => `${n} ${n === 1 ? one : many}`
  return `${count(overview.plots.length, "plot", "plots")}, ${count(people, "person", "people")}; ${count(overdue.length, "cut", "cuts")} overdue, ${trouble.length} not reached.`
}

/** A stop is somebody's wish and no trouble, as long as it is one of two ways. */
function isTrouble(person: Reach): boolean {
  const ways = [person.text, person.mail]
  return ways.includes("held") || ways.includes("not confirmed") || !ways.some((way) => way === "open")
}

function reachWords(person: Reach): string {
  const words = {
    open: "open",
    stopped: "they ended it",
    held: "nothing arrives any more",
    "not asked": "not asked yet",
    "not confirmed": "asked, no answer yet",
    none: "",
  } as const
  const ways = [
    person.text === "none" ? null : `texts: ${words[person.text]}`,
    person.mail === "none" ? null : `mail: ${words[person.mail]}`,
    person.lastFailed ? `last failure: ${person.lastFailed.code}` : null,
  ]
  return ways.filter((way) => way !== null).join("; ") || "no phone and no mail address"
}

function lateBy({ by }: OverdueCut, on: Day): string {
  const days = daysBetween(by, on)
  return `by ${showDay(by, on)}, ${days} ${days === 1 ? "day" : "days"} over`
}

const names = (plot: Plot): string => plot.people.map((person) => oneLine(person.name)).join(", ")

function overdueTable(overview: Overview): Markup {
  const rows = countsOf(overview).overdue.map(
    ({ plot, cut }) =>
      html`<tr><th scope="row">${oneLine(plot.garden)}</th><td>${oneLine(cut.bed)}: ${lateBy(cut, overview.on)}</td><td>${names(plot)}</td></tr>`,
  )
  return html`<table><thead><tr><th scope="col">Plot</th><th scope="col">Cut</th><th scope="col">Who</th></tr></thead><tbody>${rows}</tbody></table>`
}

function reachTable(trouble: readonly { plot: Plot; person: Reach }[]): Markup {
  const rows = trouble.map(
    ({ plot, person }) =>
      html`<tr><th scope="row">${oneLine(person.name)}</th><td>${oneLine(plot.garden)}</td><td>${reachWords(person)}</td></tr>`,
  )
  return html`<table><thead><tr><th scope="col">Who</th><th scope="col">Plot</th><th scope="col">How</th></tr></thead><tbody>${rows}</tbody></table>`
}

function allTable(overview: Overview): Markup {
  const rows = overview.plots.map((plot) => {
    const sent = plot.people
      .flatMap(({ lastSent }) => lastSent ?? [])
      .sort()
      .at(-1)
    const last = plot.unplanned
      ? "cannot be planned now"
      : sent
        ? `last told ${showDay(sent, overview.on)}`
        : "not told anything yet"
    return html`<tr><th scope="row">${oneLine(plot.garden)}</th><td>${names(plot)}</td><td>${last}</td></tr>`
  })
  return html`<table><thead><tr><th scope="col">Plot</th><th scope="col">Who</th><th scope="col">Delivery</th></tr></thead><tbody>${rows}</tbody></table>`
}
