import type { Garden } from "../garden/garden.ts"
import { showDay } from "../reminders/dates.ts"
import { bedName } from "../reminders/names.ts"
import type { Reminder } from "../reminders/reminder.ts"
import type { Day } from "../values/day.ts"
import { oneLine } from "./html.ts"

/** A button of the season page: the reply word it stands for, and what it says. */
export type Press = { word: string; label: string; main: boolean }

/** What each reply word says on a button. A word that is not here gets no button. */
const LABELS: Record<string, string> = {
  DONE: "Done",
  SOWED: "Sowed it",
  PLANTED: "Planted it",
  UP: "It is up",
  PATCHY: "Patchy",
  "NOT YET": "Not yet",
  BOOT: "Saw it: boot",
  BLOOM: "Saw it: first bloom",
  REGROWTH: "Saw regrowth",
  NONE: "No regrowth",
  SNOOZE: "Snooze",
  SKIP: "Skip for good",
}

/** Words whose act has a day: the gardener may say that it was another than today. */
const DATED = new Set(["DONE", "SOWED", "PLANTED", "UP", "PATCHY", "BOOT", "BLOOM", "REGROWTH", "NONE"])

/** The buttons of a reminder: the reply words of its text first, then Snooze and Skip, which are always offered. */
export function pressesFor(reminder: Pick<Reminder, "words">): Press[] {
  const first = reminder.words.map((word) =>
    word.startsWith("SNOOZE") ? "SNOOZE" : word.startsWith("SKIP") ? "SKIP" : word,
  )
  return [...new Set([...first, "SNOOZE", "SKIP"])]
    .filter((word) => LABELS[word] !== undefined)
    .map((word, i) => ({ word, label: LABELS[word] as string, main: i === 0 && word !== "SNOOZE" && word !== "SKIP" }))
}

/** May this word carry the day on which it happened? */
export function takesDay(word: string): boolean {
  return DATED.has(word)
}

/**
 * The words that a press stands for, as the gardener would have texted them, so that it goes through the same door:
 * `DONE 3`, `SNOOZE 3 to 16 May`, `BLOOM 2 on 8 May`; by the bed's name where the reminder has no number.
 */
export function pressText(
  press: { word: string; reminder: Pick<Reminder, "bed">; n: number | null; until?: Day | null; day?: Day | null },
  garden: Garden,
  on: Day,
): string {
  const what = press.n === null ? oneLine(bedName(garden, press.reminder.bed)) : String(press.n)
  const words = [press.word, what]
  if (press.word === "SNOOZE" && press.until) words.push("to", showDay(press.until, on))
  if (takesDay(press.word) && press.day && press.day !== on) words.push("on", showDay(press.day, on))
  return words.join(" ")
}
