import { REMINDER_KINDS, type ReminderKind } from "../garden/entry.ts"
import type { History, ReminderRecord } from "../garden/facts.ts"
import { type Garden, mindersOf } from "../garden/garden.ts"
import { sowingOfReminder } from "../garden/history.ts"
import type { Handbook } from "../handbook/handbook.ts"
import type { GardenPlan, SowingPlan } from "../season/bed-plan.ts"
import type { Day } from "../values/day.ts"
import { hushed } from "./answered.ts"
import { checkEmergence } from "./check-emergence.ts"
import { checkRegrowth } from "./check-regrowth.ts"
import { cut } from "./cut.ts"
import { frost } from "./frost.ts"
import type { Kind, Scene } from "./kind.ts"
import { plant } from "./plant.ts"
import type { Reminder } from "./reminder.ts"
import { resow } from "./resow.ts"
import { restOver } from "./rest-over.ts"
import { pastRow, rowOf } from "./rows.ts"
import { sow } from "./sow.ts"
import { watchBloom } from "./watch-bloom.ts"
import { watchBoot } from "./watch-boot.ts"
import { waterIn } from "./water-in.ts"

export type { Reminder, ReminderState } from "./reminder.ts"

/** Every kind of reminder, in the order of the job. */
export const KINDS = {
  sow,
  "water-in": waterIn,
  "check-emergence": checkEmergence,
  resow,
  frost,
  "watch-boot": watchBoot,
  "watch-bloom": watchBloom,
  cut,
  "check-regrowth": checkRegrowth,
  "rest-over": restOver,
  plant,
} satisfies Record<ReminderKind, Kind>

/** What reminders are made of besides the plan. */
export type Known = { garden: Garden; history: History; handbook: Handbook }

/**
 * Every reminder of a garden as it stands at the end of a day: one for each person who minds the bed, in the order of
 * beds, sowings, kinds and people. Planning again moves a reminder and never doubles it: its id is sowing, kind and
 * ordinal. States follow from plan, history and day alone.
 */
export function remindersFor(plan: GardenPlan, known: Known, on: Day): Reminder[] {
  const hush = hushedKinds(known)
  const told = Map.groupBy(known.history.reminders.values(), (record) => sowingOfReminder(record.id))
  return plan.beds.flatMap((bed) =>
    bed.sowings.flatMap((sowing) => ofSowing(sowing, known, on, hush, told.get(sowing.sowing) ?? [])),
  )
}

/** By person, the kinds whose texts they let go by: for those only first and last calls are said, and the mail says so. */
export function hushedKinds({ garden, history }: Pick<Known, "garden" | "history">): Map<string, Set<ReminderKind>> {
  return new Map(
    garden.people.map((person) => [
      person.id,
      new Set(REMINDER_KINDS.filter((kind) => hushed(history, person.id, kind, KINDS[kind]))),
    ]),
  )
}

function ofSowing(
  sowing: SowingPlan,
  known: Known,
  on: Day,
  hush: ReadonlyMap<string, ReadonlySet<ReminderKind>>,
  told: readonly ReminderRecord[],
): Reminder[] {
  const record = known.history.beds.get(sowing.bed)?.find((each) => each.sowing.id === sowing.sowing) ?? null
  const scene: Scene = { sowing, record, on, ...known }
  const people = mindersOf(known.garden, sowing.bed)
  return REMINDER_KINDS.flatMap((name) => {
    const kind: Kind = KINDS[name]
    const drafts = kind.drafts(scene)
    const ids = new Set(drafts.map((draft) => `${sowing.sowing}:${name}:${draft.ordinal}`))
    const past = told.filter((each) => each.kind === name && !ids.has(each.id))
    return [
      ...past.flatMap((each) => people.map((person) => pastRow(each, kind, scene, person))),
      ...drafts.flatMap((draft) =>
        people.map((person) => rowOf(name, kind, draft, scene, person, hush.get(person.id)?.has(name) ?? false)),
      ),
    ]
  })
}
