import { existsSync, readFileSync } from "node:fs"
import { type Act, type Ask, actSchema, askSchema } from "../../src/garden/acts.ts"
import type { DateOrder, Units } from "../../src/garden/garden.ts"
import { openHandbook } from "../../src/handbook/open.ts"
import type { OpenReminder, ReplyBed, ReplyContext } from "../../src/replies/context.ts"
import { prepareWords } from "../../src/replies/vocabulary.ts"
import { day } from "../../src/values/day.ts"

/** A garden as the files of cases describe it. */
export type CaseGarden = {
  about: string
  zone: string
  dates: DateOrder
  units: Units
  beds: ReplyBed[]
  open: OpenReminder[]
}

export type Reading = { acts: Act[]; ask: Ask | null; note: boolean }

/** A reply with its right reading; `accept` lists other readings that count as right. */
export type ReplyCase = {
  id: string
  text: string
  now: string
  context: string
  expect: Reading
  accept?: Partial<Reading>[]
  note_free?: boolean
  last?: { acts: Act[] }
  tags?: string[]
}

export const WORDS = prepareWords(openHandbook(new URL("../../shared/", import.meta.url)))

/**
 * Batches of replies that were written before anyone saw how they would be read, in gardens of their own; all invented, no
 * source. The first reading of the last six, before any change for them: fresh-5 202 of 236 right and 5 acts that nobody
 * meant; fresh-6, with rarer wording on purpose, 151 of 190 and 4; fresh-7 121 of 130 and 2; fresh-8 91 of 106 and 2;
 * fresh-9 91 of 100 and 2; fresh-10 52 of 57 and none.
 */
export const FRESH = [
  "fresh-1",
  "fresh-2",
  "fresh-3",
  "fresh-4",
  "fresh-5",
  "fresh-6",
  "fresh-7",
  "fresh-8",
  "fresh-9",
  "fresh-10",
]

/** The folder of reference data beside a checkout, where there is one. */
export const REFERENCE = new URL("../../../shared/reference/", import.meta.url)
export const hasReference = existsSync(new URL("replies.jsonl", REFERENCE))

export function readCases(file: URL): ReplyCase[] {
  return readFileSync(file, "utf8")
    .split("\n")
    .filter((line) => line.trim() !== "")
    .map((line) => JSON.parse(line) as ReplyCase)
}

export function readGardens(file: URL): Record<string, CaseGarden> {
  return JSON.parse(readFileSync(file, "utf8")) as Record<string, CaseGarden>
}

export function contextFor(garden: CaseGarden, now: string, last?: { acts: Act[] }): ReplyContext {
  const [date, time] = now.split("T") as [string, string]
  const [hour, minute] = time.split(":").map(Number) as [number, number]
  return {
    now: { day: day(date), minutes: hour * 60 + minute },
    dates: garden.dates,
    units: garden.units,
    beds: garden.beds,
    open: garden.open,
    last,
    words: WORDS,
  }
}

/** Throws where a reading has not the shape that the log keeps. */
export function checkShape(reading: Reading): void {
  for (const act of reading.acts) actSchema.parse(act)
  if (reading.ask) askSchema.parse(reading.ask)
}
