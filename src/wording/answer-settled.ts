import type { ReminderRecord } from "../garden/facts.ts"
import { sowingOfReminder } from "../garden/history.ts"
import { showDay, showWeekday, weekdayWord } from "../reminders/dates.ts"
import { bedName, cropName, listOf, speciesName } from "../reminders/names.ts"
import { addDays, type Day } from "../values/day.ts"
import { localDay, localMinutes } from "../values/zone.ts"
import { must, nice, type Piece, room } from "./answer-fit.ts"
import { type AnswerInput, numberOf, recordOf, sowingOf, todayOf } from "./answer-view.ts"
import { DONE, WORK } from "./answer-words.ts"

/** Numbers of the reply that somebody had settled before: `Ines did, at 9:10.` Nothing else is settled in their place. */
export function settledBefore(input: AnswerInput): Piece[] {
  const numbers = input.understood.acts.flatMap((act) => (act.act === "done" || act.act === "skip" ? act.n : []))
  const told = numbers.flatMap((n) => {
    const record = recordOf(input.before.history, input.person.id, n)
    return record?.settled ? [whoDid(record, input)] : []
  })
  return [...new Set(told)].map(must)
}

/** Who settled a reminder, and when. */
export function whoDid(record: ReminderRecord, input: AnswerInput): string {
  const settled = record.settled as NonNullable<ReminderRecord["settled"]>
  const { person, before } = input
  const bed = bedName(before.garden, record.bed)
  const day = localDay(settled.at, person.zone)
  const when =
    day === todayOf(input) ? `at ${clock(localMinutes(settled.at, person.zone))}` : `on ${showDay(day, todayOf(input))}`
  if (settled.how === "skipped") {
    const by = settled.by === person.id ? "You" : nameOf(settled.by, input)
    return `${by} set it aside, ${when}: ${WORK[record.kind]} ${bed}.`
  }
  if (settled.by === person.id) return `That was noted already, ${when}: ${bed} ${DONE[record.kind]}.`
  return `${nameOf(settled.by, input)} did, ${when}: ${bed} ${DONE[record.kind]}.`
}

/** A snooze: the day, what it risks, and at the third time the ways out. */
export function snoozePieces(input: AnswerInput): Piece[] {
  const today = todayOf(input)
  const acts = input.understood.acts.filter((act) => act.act === "snooze")
  return acts.flatMap((act) => {
    const records = act.n.flatMap((n) => recordOf(input.after.history, input.person.id, n) ?? [])
    const what =
      records.length > 1
        ? ` for ${listOf(
            records.map((each) => bedName(input.after.garden, each.bed)),
            "and",
          )}`
        : ""
    const pieces = [must(`All right, ${showWeekday(act.until, today)} it is${what}.`)]
    for (const record of records) pieces.push(...riskOf(record, act.until, input, today))
    const third = records.find((record) => record.snoozed?.times === 3)
    if (third) pieces.push(room(thirdTime(third, input)))
    else if (act.n[0] !== undefined) pieces.push(nice(`Change it: SNOOZE ${act.n[0]} ${otherDay(act.until)}.`))
    return pieces
  })
}

/** A skip, and how to have it back. */
export function skipPieces(input: AnswerInput): Piece[] {
  const records = input.understood.acts.flatMap((act) =>
    act.act === "skip" ? act.n.flatMap((n) => recordOf(input.before.history, input.person.id, n) ?? []) : [],
  )
  const fresh = records.filter((record) => !record.settled)
  if (fresh.length === 0) return []
  const what = listOf(
    fresh.map((record) => `${WORK[record.kind]} ${bedName(input.before.garden, record.bed)}`),
    "or",
  )
  return [must(`All right, no more about ${what}.`)]
}

/** What waiting until that day risks, where it is past a limit. */
function riskOf(record: ReminderRecord, until: Day, input: AnswerInput, today: Day): Piece[] {
  const sowing = sowingOf(input.after, sowingOfReminder(record.id))
  if (!sowing) return []
  if (record.kind === "sow" && sowing.sow && until > sowing.sow.by)
    return [room(`That is past ${showDay(sowing.sow.by, today)}, so it may have too little time to grow.`)]
  if (record.kind !== "cut" || !sowing.cut || until <= sowing.cut.by) return []
  const past = `That is past ${showDay(sowing.cut.by, today)}, so`
  const { because, species } = sowing.cut.setBy
  switch (because) {
    case "seed": {
      const name = speciesName(
        input.handbook,
        species,
        sowing.species.map((each) => each.id),
      )
      return [room(`${past} some ${name} seed may fall first.`), nice("If you can, cut the ripest corner sooner.")]
    }
    case "next-crop":
      return [
        room(`${past} the ${sowing.next ? cropName(input.handbook, sowing.next.crop) : "next crop"} may have to wait.`),
      ]
    case "frost":
      return [room(`${past} frost may come first.`)]
    case "regrowth":
      return [room(`${past} the stems will be tougher and rot slowly.`)]
    default:
      return because satisfies never
  }
}

/** Said once: a thing put off three times may want another way. */
function thirdTime(record: ReminderRecord, input: AnswerInput): string {
  const n = numberOf(record, input.person.id)
  const half = record.kind === "cut" ? ", or cut half of it now and half then" : ""
  return `That is the third time. SKIP ${n} drops it for good${half}.`
}

/** Another day than the one chosen, as an example of how to change it. */
function otherDay(until: Day): string {
  return weekdayWord(addDays(until, 3))
}

function nameOf(id: string, input: AnswerInput): string {
  return input.before.garden.people.find((person) => person.id === id)?.name ?? "Somebody"
}

function clock(minutes: number): string {
  return `${Math.floor(minutes / 60)}:${String(minutes % 60).padStart(2, "0")}`
}
