import type { Act, Stage } from "../garden/acts.ts"
import { lastChangeBy, undoneSeqs } from "../garden/effective.ts"
import type { Entry, EntryOf } from "../garden/entry.ts"
import { showDay } from "../reminders/dates.ts"
import { bedName, cropName, speciesNames } from "../reminders/names.ts"
import { showAmount } from "../values/amount.ts"
import { localDay, localMinutes } from "../values/zone.ts"
import { nameOf } from "./digest-changes.ts"
import { bedsOf, ownNotes } from "./digest-log.ts"
import { html, type Markup, oneLine, type Piece, seen } from "./html.ts"
import { hidden } from "./season-page-frame.ts"
import type { SeasonPaths, SeasonView } from "./season-page-view.ts"

const STAGE_WORDS: Record<Stage, string> = {
  up: "up",
  "not-up": "not up yet",
  patchy: "patchy",
  "flag-leaf": "last leaf out",
  boot: "boot",
  heading: "heads out",
  "no-bloom": "no bloom yet",
  bloom: "first bloom",
  "full-bloom": "full bloom",
  seed: "seed forming",
  "seed-drop": "seed dropping",
  "frost-killed": "killed by frost",
  "survived-frost": "survived the frost",
  regrowth: "green regrowth",
  "no-regrowth": "no regrowth",
  "broken-down": "broken down",
}

/** A stage in words. */
function stageWords(stage: Stage): string {
  return STAGE_WORDS[stage]
}

/** The person's log, newest first; `bed` narrows it to what names that bed. */
export function logList(view: SeasonView, paths: SeasonPaths, most: number, bed: string | null = null): Markup {
  const notes = ownNotes(view.entries, view.person).filter((each) => bed === null || bedsOf(each).includes(bed))
  const shown = notes.slice(-most).toReversed()
  if (shown.length === 0) return html`<p>Nothing was written yet.</p>`
  const taken = undoneSeqs(view.entries)
  const last = undoable(view)
  return html`<ol class="log">${shown.map((each) => noteItem(each, view, paths, taken.has(each.seq), last === each.seq))}</ol>`
}

/** The entry that UNDO would take back: the person's last reply that changed something and still counts; else null. */
export function undoable(view: Pick<SeasonView, "entries" | "person">): number | null {
  return lastChangeBy(view.entries, view.person.id)?.seq ?? null
}

/** An answer stands at the top of the page for so long. */
const FRESH_MS = 15 * 60_000

/**
 * What to say at the top after a press: the bot's answer to this person where it came just now; else, where they just
 * pressed or wrote on the page, what it was taken as. Null where neither is fresh.
 */
export function freshWords(view: SeasonView): string | null {
  const fresh = view.entries.filter((each) => view.now - each.at < FRESH_MS)
  const answer = fresh.findLast(
    (each): each is EntryOf<"answer"> => each.kind === "answer" && each.to === view.person.id,
  )
  const press = fresh.findLast(
    (each): each is EntryOf<"reply"> => each.kind === "reply" && each.via === "web" && each.by === view.person.id,
  )
  if (!press || (answer && answer.seq > press.seq)) return answer?.text ?? null
  const undo = fresh.findLast((each) => each.kind === "undo" && each.by === view.person.id && each.seq > press.seq)
  if (undo?.kind === "undo") return `Taken back: ${wordsOf(undo.undone, view)}`
  const acts = press.acts.map((act) => actWords(act, view)).filter((words) => words !== null)
  if (acts.length > 0) return `Noted: ${acts.join("; ")}.`
  return press.ask
    ? "That was kept, but not what it is about. Write it once more with the bed's name."
    : "Noted, in your own words."
}

/** The words of an entry that was taken back. */
function wordsOf(seq: number, view: SeasonView): string {
  const entry = view.entries.find((each) => each.seq === seq)
  return entry?.kind === "reply" ? entry.text : "what you told last."
}

function noteItem(
  entry: EntryOf<"reply">,
  view: SeasonView,
  paths: SeasonPaths,
  taken: boolean,
  mayUndo: boolean,
): Markup {
  const who = entry.by === view.person.id ? "you" : nameOf(entry.by, view)
  const acts = entry.acts.map((act) => actWords(act, view)).filter((words) => words !== null)
  return html`<li><p class="soft">${when(entry, view)}, ${who}${taken ? html`, <strong>taken back</strong>` : null}</p><blockquote class="words">${seen(
    entry.text.slice(0, 1600),
  )}</blockquote>${acts.length > 0 ? html`<p class="soft">Taken as: ${acts.join("; ")}.</p>` : null}${photosOf(entry, view, paths)}${
    mayUndo
      ? html`<form class="noprint" method="post" action="${paths.base}/undo">${hidden({ form: paths.form, seq: entry.seq })}<button type="submit" aria-label="Undo what you told on ${when(
          entry,
          view,
        )}">Undo</button></form>`
      : null
  }</li>`
}

function photosOf(entry: EntryOf<"reply">, view: SeasonView, paths: SeasonPaths): Piece {
  return (entry.photos ?? []).map((name, i) => {
    const to = `${paths.base}/photo/${encodeURIComponent(name)}`
    const alt = `Photo ${(entry.photos?.length ?? 0) > 1 ? `${i + 1} ` : ""}sent with the note of ${when(entry, view)}`
    return html`<p class="noprint"><a href="${to}"><img src="${to}" alt="${alt}" width="240" height="180" loading="lazy"></a></p>`
  })
}

function when(entry: Entry, { garden, on }: Pick<SeasonView, "garden" | "on">): string {
  const minutes = localMinutes(entry.at, garden.place.zone)
  const clock = `${Math.floor(minutes / 60)}:${String(minutes % 60).padStart(2, "0")}`
  return `${showDay(localDay(entry.at, garden.place.zone), on)}, ${clock}`
}

/** What an act was taken as, in few words; null for acts that are no news. */
export function actWords(
  act: Act,
  { garden, handbook, on }: Pick<SeasonView, "garden" | "handbook" | "on">,
): string | null {
  const bed = "bed" in act && act.bed !== null ? oneLine(bedName(garden, act.bed)) : null
  const species = (ids: readonly string[]) => (ids.length > 0 ? `${speciesNames(handbook, ids)} ` : "")
  switch (act.act) {
    case "done":
      return `${numbers(act.n)} done ${showDay(act.on, on)}`
    case "snooze":
      return `${numbers(act.n)} snoozed to ${showDay(act.until, on)}`
    case "skip":
      return `${numbers(act.n)} skipped`
    case "observe":
      return `${species(act.species ? [act.species] : [])}${stageWords(act.what)} on ${bed}, ${showDay(act.on, on)}`
    case "measure":
      return `${measured(act, garden.place.units)}${bed ? ` on ${bed}` : ""}, ${showDay(act.on, on)}`
    case "sowed":
      return `${species(act.species)}sown on ${bed}, ${showDay(act.on, on)}`
    case "cut":
      return `${species(act.species)}cut on ${bed}, ${showDay(act.on, on)}`
    case "watered":
      return `${bed} watered, ${showDay(act.on, on)}`
    case "planted":
      return `${act.crop ? `${cropName(handbook, act.crop)} ` : ""}planted on ${bed}, ${showDay(act.on, on)}`
    case "want":
      return `${act.crop ? `${cropName(handbook, act.crop)} ` : ""}wanted on ${bed}, ${showDay(act.on, on)}`
    case "pause":
      return act.until ? `texts paused until ${showDay(act.until, on)}` : "texts paused"
    case "resume":
      return "texts resumed"
    case "add-bed":
      return `${oneLine(act.name)} added`
    case "drop-bed":
      return `${oneLine(act.name)} left out`
    case "tell":
    case "undo":
    case "join":
    case "stop":
    case "start":
    case "help":
      return null
    default:
      return act satisfies never
  }
}

function numbers(n: readonly number[]): string {
  return `number${n.length > 1 ? "s" : ""} ${n.join(", ")}`
}

function measured(act: Extract<Act, { act: "measure" }>, units: "us" | "metric"): string {
  switch (act.what) {
    case "height_cm":
      return `${showAmount(act.value, "cm", units)} high`
    case "fresh_g":
      return `${showAmount(act.value, "g", units)} fresh weight`
    case "fresh_g_per_m2":
      return `${showAmount(act.value, "g/m2", units)} fresh weight`
    case "soil_c":
      return `soil at ${showAmount(act.value, "c", units)}`
    case "rain_mm":
      return `rain ${showAmount(act.value, "mm", units)}`
    case "cover_percent":
      return `${act.value} in 100 of the ground covered`
    default:
      return act.what satisfies never
  }
}
