import type { ReminderKind } from "../garden/entry.ts"
import type { Garden } from "../garden/garden.ts"
import { showDay } from "../reminders/dates.ts"
import { bedName } from "../reminders/names.ts"
import type { Reminder } from "../reminders/reminder.ts"
import type { Day } from "../values/day.ts"
import { oneLine } from "./html.ts"

/** A button of the season page: the reply word it stands for, and what it says. `main`: the first thing one would press. */
export type Press = { word: string; label: string; main: boolean }

type Button = {
  label: string
  /** What a gardener would text with the bed's name; null: this press needs the reminder's number. */
  byName: ((bed: string, kind: ReminderKind) => string | null) | null
  /** Does the text take the number where there is one? Words that read the same for every kind do. */
  byNumber: boolean
  /** It happened on a day, which may be another than today. */
  dated: boolean
}

/** What "done" means where a reminder is known by its bed only. */
const DEEDS: Partial<Record<ReminderKind, string>> = {
  sow: "sowed",
  resow: "sowed",
  "water-in": "watered",
  cut: "cut",
  plant: "planted",
}

/** "Not yet" of what was asked. */
const NOT_YET: Partial<Record<ReminderKind, string>> = {
  "check-emergence": "not up yet on",
  "water-in": "not up yet on",
  "watch-bloom": "no bloom yet on",
}

const deed = (bed: string, kind: ReminderKind) => (DEEDS[kind] ? `${DEEDS[kind]} ${bed}` : null)
const seenOn = (what: string) => (bed: string) => `${what} ${bed}`

/** Every reply word that has a button, with its words. A word that is not here has none. */
const BUTTONS: Record<string, Button> = {
  DONE: { label: "Done", byName: deed, byNumber: true, dated: true },
  SOWED: { label: "Sowed it", byName: deed, byNumber: true, dated: true },
  PLANTED: { label: "Planted it", byName: deed, byNumber: true, dated: true },
  UP: { label: "It is up", byName: seenOn("up on"), byNumber: true, dated: true },
  PATCHY: { label: "Patchy", byName: seenOn("patchy on"), byNumber: true, dated: true },
  "NOT YET": {
    label: "Not yet",
    byName: (bed, kind) => (NOT_YET[kind] ? `${NOT_YET[kind]} ${bed}` : null),
    byNumber: false,
    dated: false,
  },
  BOOT: { label: "Saw it: boot", byName: seenOn("boot on"), byNumber: true, dated: true },
  BLOOM: { label: "Saw it: first bloom", byName: seenOn("bloom on"), byNumber: true, dated: true },
  "NO BLOOM": { label: "No bloom yet", byName: seenOn("no bloom yet on"), byNumber: false, dated: false },
  REGROWTH: { label: "Saw regrowth", byName: seenOn("regrowth on"), byNumber: true, dated: true },
  NONE: { label: "No regrowth", byName: seenOn("no regrowth on"), byNumber: false, dated: true },
  CRUMBLES: { label: "The stems crumble", byName: seenOn("broken down on"), byNumber: false, dated: true },
  KILLED: { label: "Frost killed it", byName: seenOn("frost killed on"), byNumber: false, dated: true },
  SURVIVED: { label: "It survived", byName: seenOn("survived on"), byNumber: false, dated: true },
  SNOOZE: { label: "Snooze", byName: null, byNumber: true, dated: false },
  SKIP: { label: "Skip for good", byName: null, byNumber: true, dated: false },
}

/** What can be told of a kind besides the reply words that its text teaches. */
const MORE: Partial<Record<ReminderKind, readonly string[]>> = {
  "rest-over": ["CRUMBLES"],
  frost: ["KILLED", "SURVIVED"],
}

type Pressable = Pick<Reminder, "words" | "kind"> & Partial<Pick<Reminder, "days">>

/**
 * Does it warn, long before the end of the rest, that the bed will be late for its crop? Then there is nothing to see yet;
 * the ways out stand on the bed's page.
 */
export function warnsOfLateBed({ kind, days }: Pressable): boolean {
  return kind === "rest-over" && days?.wanted !== undefined
}

/**
 * The buttons of a reminder: the reply words of its text, what else can be told of its kind, and Snooze and Skip. Where it
 * has no number yet (`n` null), only what the bed's name is enough for.
 */
export function pressesFor(reminder: Pressable, n: number | null): Press[] {
  const taught = reminder.words.map((word) => /^(SNOOZE|SKIP)/.exec(word)?.[1] ?? word)
  const more = warnsOfLateBed(reminder) ? [] : (MORE[reminder.kind] ?? [])
  return [...new Set([...taught, ...more, "SNOOZE", "SKIP"])]
    .filter((word) => BUTTONS[word] && textOf(word, reminder.kind, "bed", n) !== null)
    .map((word, i) => ({
      word,
      label: (BUTTONS[word] as Button).label,
      main: i === 0 && word !== "SNOOZE" && word !== "SKIP",
    }))
}

/** May this word carry the day on which it happened? */
export function takesDay(word: string): boolean {
  return BUTTONS[word]?.dated ?? false
}

/**
 * The words that a press stands for, as the gardener would have texted them, so that it goes through the same door:
 * `DONE 3`, `SNOOZE 3 to 16 May`, `BLOOM 2 on 8 May`; `cut South bed` where the reminder has no number. Null where the
 * word cannot be said of this reminder.
 */
export function pressText(
  press: {
    word: string
    reminder: Pick<Reminder, "bed" | "kind">
    n: number | null
    until?: Day | null
    day?: Day | null
  },
  garden: Garden,
  on: Day,
): string | null {
  const said = textOf(press.word, press.reminder.kind, oneLine(bedName(garden, press.reminder.bed)), press.n)
  if (said === null) return null
  if (press.word === "SNOOZE" && press.until) return `${said} to ${showDay(press.until, on)}`
  const other = takesDay(press.word) && press.day && press.day !== on ? `, ${showDay(press.day, on)}` : ""
  return `${said}${other}`
}

function textOf(word: string, kind: ReminderKind, bed: string, n: number | null): string | null {
  const button = BUTTONS[word]
  if (!button) return null
  if (n !== null && button.byNumber) return `${word} ${n}`
  return button.byName?.(bed, kind) ?? null
}
