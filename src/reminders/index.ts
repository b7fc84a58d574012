import { REMINDER_KINDS, type ReminderKind } from "../garden/entry.ts"
import type { History, ReminderRecord } from "../garden/facts.ts"
import { type Garden, mindersOf } from "../garden/garden.ts"
import { sowingOfReminder } from "../garden/history.ts"
import type { Handbook } from "../handbook/handbook.ts"
import type { GardenPlan, SowingPlan } from "../season/bed-plan.ts"
import type { Day } from "../values/day.ts"
import { isHushed, type Unanswered, unanswered } from "./answered.ts"
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
  const silence = unansweredBy(known)
  const told = Map.groupBy(known.history.reminders.values(), (record) => sowingOfReminder(record.id))
  return plan.beds.flatMap((bed) =>
    bed.sowings.flatMap((sowing) => ofSowing(sowing, known, on, silence, told.get(sowing.sowing) ?? [])),
  )
}

/** By person, the kinds of which they let several texts go by: the weekly mail says that fewer come. */
export function hushedKinds(known: Pick<Known, "garden" | "history">): Map<string, ReminderKind[]> {
  const silence = unansweredBy(known)
  return new Map(
    [...silence].map(([person, kinds]) => [person, REMINDER_KINDS.filter((kind) => isHushed(kinds[kind], ""))]),
  )
}

type Silence = ReadonlyMap<string, Readonly<Record<ReminderKind, Unanswered>>>

function unansweredBy({ garden, history }: Pick<Known, "garden" | "history">): Silence {
  return new Map(
    garden.people.map((person) => {
      const kinds = REMINDER_KINDS.map((kind) => [kind, unanswered(history, person.id, kind, KINDS[kind])] as const)
      return [person.id, Object.fromEntries(kinds) as Record<ReminderKind, Unanswered>]
    }),
  )
}

function ofSowing(
  sowing: SowingPlan,
  known: Known,
  on: Day,
  silence: Silence,
  told: readonly ReminderRecord[],
): Reminder[] {
  const record = known.history.beds.get(sowing.bed)?.find((each) => each.sowing.id === sowing.sowing) ?? null
  const scene: Scene = { sowing, record, on, ...known }
  const people = mindersOf(known.garden, sowing.bed)
  return REMINDER_KINDS.flatMap((name) => {
    const kind: Kind = KINDS[name]
    const drafts = kind.drafts(scene)
    const ids = new Set(drafts.map((draft) => `${sowing.sowing}:${name}:${draft.ordinal}`))
    const past = told.filter(
      (each) => each.kind === name && !ids.has(each.id) && (each.said.length > 0 || each.settled),
    )
    return [
      ...past.flatMap((each) => people.map((person) => pastRow(each, kind, scene, person))),
      ...drafts.flatMap((draft) =>
        people.map((person) => rowOf(name, kind, draft, scene, person, silence.get(person.id)?.[name] ?? new Map())),
      ),
    ]
  })
}
