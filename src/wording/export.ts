import type { Entry } from "../garden/entry.ts"
import type { Garden } from "../garden/garden.ts"
import type { Reminder } from "../reminders/reminder.ts"
import type { GardenPlan, SowingPlan } from "../season/bed-plan.ts"
import { instantText } from "../values/instant.ts"
import type { Range } from "../values/range.ts"
import { seen } from "./html.ts"

/** A cell: text may hold anything, numbers stay numbers, null is empty. */
export type Cell = string | number | null
export type Table = { columns: readonly string[]; rows: readonly (readonly Cell[])[] }

/**
 * What makes a spreadsheet take a text for a formula: these first in a cell (OWASP, "CSV injection", read), their
 * full-width forms, and a tab or return before anything else.
 */
const FORMULA = /^\s*[=+\-@\uff0b\uff0d\uff1d\uff20]|^[\t\r\n]/
/** Text that is nothing but a number: kept as it is, so that -9 stays -9. */
const NUMBER = /^-?\d+(\.\d+)?$/

/**
 * A table as CSV (RFC 4180: CRLF, quotes doubled). A text that a spreadsheet might run gets an apostrophe before it, also
 * behind a separator or a line break within the text, where a program that loses the quotes would begin a cell.
 */
export function csv({ columns, rows }: Table): string {
  return [columns, ...rows]
    .map((row) => row.map(csvCell).join(","))
    .join("\r\n")
    .concat("\r\n")
}

function csvCell(cell: Cell): string {
  if (cell === null) return ""
  if (typeof cell === "number") return Number.isFinite(cell) ? String(cell) : ""
  const safe = guarded(seen(cell))
  return /[",\r\n;\t']/.test(safe) || safe !== safe.trim() ? `"${safe.replaceAll('"', '""')}"` : safe
}

function guarded(text: string): string {
  if (NUMBER.test(text)) return text
  return text
    .split(/([,;\t\r\n"])/)
    .map((part, i) => (i % 2 === 0 && FORMULA.test(part) ? `'${part}` : part))
    .join("")
}

/** The log as a table: a row an entry. */
export function logTable(entries: readonly Entry[]): Table {
  return {
    columns: ["seq", "at", "by", "via", "kind", "to", "text", "acts", "undone", "photos"],
    rows: entries.map((each) => [
      each.seq,
      instantText(each.at),
      each.by,
      each.via,
      each.kind,
      "to" in each ? each.to : null,
      "text" in each ? (each.text ?? null) : each.kind === "lapsed" ? each.because : null,
      each.kind === "reply" ? JSON.stringify(each.acts) : null,
      each.kind === "undo" ? each.undone : null,
      each.kind === "reply" ? (each.photos ?? []).join(" ") || null : null,
    ]),
  }
}

/** The plan as a table: a row a species of each sowing, with the windows of the sowing beside it. */
export function planTable(plan: GardenPlan, garden: Garden): Table {
  const range = (name: string) => [`${name}_early`, `${name}_likely`, `${name}_late`]
  return {
    columns: [
      "on",
      "bed",
      "bed_name",
      "area_m2",
      "sowing",
      "state",
      "sown",
      "planned",
      "species",
      "share",
      ...range("emergence"),
      ...range("heading"),
      ...range("first_flower"),
      ...range("viable_seed"),
      "cut_from",
      "cut_best",
      "cut_by",
      "was_cut",
      ...range("ready"),
      "next_crop",
      "next_wanted",
      "fits",
      "nitrogen_low_g_per_m2",
      "nitrogen_likely_g_per_m2",
      "nitrogen_high_g_per_m2",
      "water_l",
    ],
    rows: plan.beds.flatMap((bed) => bed.sowings.flatMap((sowing) => sowingRows(sowing, plan, garden))),
  }
}

function sowingRows(sowing: SowingPlan, plan: GardenPlan, garden: Garden): Cell[][] {
  const bed = garden.beds.find((each) => each.id === sowing.bed)
  const ready = sowing.next?.ready ?? sowing.rest?.transplants ?? null
  const nitrogen = sowing.nitrogen?.credit_g_per_m2
  return sowing.species.map((each) => [
    plan.on,
    sowing.bed,
    bed?.name ?? null,
    bed?.area_m2 ?? null,
    sowing.sowing,
    sowing.state,
    sowing.sown,
    sowing.planned,
    each.id,
    each.share,
    ...cells(each.emergence),
    ...cells(each.heading),
    ...cells(each.firstFlower),
    ...cells(each.viableSeed),
    sowing.cut?.from ?? null,
    sowing.cut?.best ?? null,
    sowing.cut?.by ?? null,
    sowing.wasCut?.on ?? null,
    ...cells(ready),
    sowing.next?.crop ?? null,
    sowing.next?.wanted ?? null,
    sowing.next ? (sowing.next.fits ? "yes" : "no") : null,
    nitrogen?.low ?? null,
    nitrogen?.likely ?? null,
    nitrogen?.high ?? null,
    sowing.water?.water_l ?? null,
  ])
}

/** The reminders as a table. */
export function reminderTable(reminders: readonly Reminder[]): Table {
  return {
    columns: ["id", "kind", "bed", "person", "opens", "lapses", "state", "text"],
    rows: reminders.map((each) => [
      each.id,
      each.kind,
      each.bed,
      each.person,
      each.opens,
      each.lapses,
      each.state,
      each.text,
    ]),
  }
}

function cells(range: Range | null): Cell[] {
  return range ? [range.early, range.likely, range.late] : [null, null, null]
}
