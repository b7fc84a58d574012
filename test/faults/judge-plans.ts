import { knownWeather, viewOf } from "../../src/bot/known.ts"
import type { Garden } from "../../src/garden/garden.ts"
import type { Handbook } from "../../src/handbook/handbook.ts"
import type { Reminder } from "../../src/reminders/reminder.ts"
import { addDays, type Day } from "../../src/values/day.ts"
import { DAY_MS, instantOf } from "../../src/values/instant.ts"
import { localDay } from "../../src/values/zone.ts"
import { LIMITS } from "../../src/wording/limits.ts"
import type { Outcome } from "./scene.ts"

/** So long nothing went wrong at the end of a run: what was due before has been said by then. */
const SETTLED_DAYS = 8

/**
 * Makes each garden's plan anew from its file and the log, holds it against the one that the living process had, and looks
 * for reminders of which nothing was heard: neither said, settled nor lapsed with a reason.
 */
export function judgePlans(
  outcome: Outcome,
  gardens: readonly Garden[],
  handbook: Handbook,
): { unequal: string[]; lost: string[] } {
  const unequal: string[] = []
  const lost: string[] = []
  const live = outcome.plans as { garden: string; plan: unknown; reminders: unknown }[]
  for (const garden of gardens) {
    const on = localDay(instantOf(outcome.ended), garden.place.zone)
    const entries = outcome.entries[garden.id] ?? []
    const cold = viewOf(handbook, garden, entries, knownWeather(handbook, garden, null), on)
    const alive = live.find((each) => each.garden === garden.id)
    if (JSON.stringify(alive?.plan) !== JSON.stringify(cold.plan)) unequal.push(`the plan of ${garden.id}`)
    if (JSON.stringify(alive?.reminders) !== JSON.stringify(cold.reminders))
      unequal.push(`the reminders of ${garden.id}`)
    const lapsed = new Set(entries.flatMap((entry) => (entry.kind === "lapsed" ? [entry.of] : [])))
    const began = localDay(instantOf(outcome.began), garden.place.zone)
    for (const reminder of cold.reminders) {
      if (
        reminder.state === "lapsed" &&
        reminder.lapses > began &&
        reminder.lapses < addDays(on, -1) &&
        !lapsed.has(reminder.id)
      )
        lost.push(`${reminder.id} for ${reminder.person} lapsed without a word in the log`)
      if (
        isForgotten(reminder, on) &&
        isReachable(outcome, garden, reminder) &&
        !isHeldByNumber(outcome, garden, reminder)
      )
        lost.push(`${reminder.id} has been due to ${reminder.person} since ${reminder.speaks} and was never said`)
    }
  }
  return { unequal, lost }
}

function isForgotten(reminder: Reminder, on: Day): boolean {
  return reminder.state === "due" && reminder.speaks !== null && reminder.speaks < addDays(on, -SETTLED_DAYS)
}

function isReachable({ entries }: Outcome, garden: Garden, { person }: Reminder): boolean {
  return !(entries[garden.id] ?? []).some(
    (entry) =>
      (entry.kind === "channel" && entry.person === person) ||
      (entry.kind === "reply" &&
        entry.by === person &&
        entry.acts.some((act) => act.act === "stop" || act.act === "pause")),
  )
}

/** Who got as many texts in thirty days as questions may make is told the rest by the weekly mail. */
function isHeldByNumber({ entries, ended }: Outcome, garden: Garden, { person }: Reminder): boolean {
  const sent = (entries[garden.id] ?? []).filter(
    (entry) => entry.kind === "sent" && entry.to === person && entry.at > ended - 31 * DAY_MS,
  )
  return sent.length >= LIMITS.perMonth.questions
}
