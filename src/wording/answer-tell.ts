import type { ActOf } from "../garden/acts.ts"
import type { ReminderKind } from "../garden/entry.ts"
import type { Fact } from "../garden/facts.ts"
import { sowingOfReminder } from "../garden/history.ts"
import { showDay, showNearDay } from "../reminders/dates.ts"
import { bedName, capital, listOf, speciesName } from "../reminders/names.ts"
import type { Reminder } from "../reminders/reminder.ts"
import type { SowingPlan } from "../season/bed-plan.ts"
import { showAbout, showAmount } from "../values/amount.ts"
import type { Day } from "../values/day.ts"
import { must, type Piece, room } from "./answer-fit.ts"
import { statusOf } from "./answer-status.ts"
import { type AnswerInput, currentSowing, recordOf, todayOf } from "./answer-view.ts"
import { SEEN } from "./answer-words.ts"

type Tell = ActOf<"tell">

/** The most things that one answer lists. */
const MOST = 3

/** Answers to the questions of a reply, in their order. */
export function tellPieces(input: AnswerInput): Piece[] {
  const asked = input.understood.acts.filter((act): act is Tell => act.act === "tell")
  return asked.flatMap((act) => {
    switch (act.about) {
      case "why":
        return why(act, input)
      case "next":
        return next(act, input)
      case "how-much":
        return howMuch(act, input)
      case "status":
        return status(act, input)
      case "log":
        return logged(act, input)
      default:
        return act.about satisfies never
    }
  })
}

function why(act: Tell, input: AnswerInput): Piece[] {
  const asked = subjectOf(act, input)
  if (!asked) return [must("Which bed? Ask with its name, like: why south.")]
  const reason = reasonOf(asked.sowing, asked.kind)
  const bed = bedName(input.after.garden, asked.sowing.bed)
  if (!reason) return [must(`${bed}: nothing is planned for it now.`)]
  return [must(`${bed}: ${sentence(reason)}`), ...misfit(asked.sowing, reason), ...taught(asked.sowing)]
}

/** What the garden's own seasons taught of what still stands: it has moved the days that any reason gives. */
function taught({ species, cut }: SowingPlan): Piece[] {
  return cut === null ? [] : species.flatMap(({ learned }) => (learned === undefined ? [] : [room(learned)]))
}

/** Where the bed will not be ready when it is wanted, that belongs to every reason, with the first way out. */
function misfit({ next }: SowingPlan, said: string): Piece[] {
  if (!next || next.fits) return []
  const way = next.ways[0]?.way
  return [
    ...(next.why === said ? [] : [room(sentence(next.why))]),
    ...(way ? [room(`A way out: ${sentence(way)}`)] : []),
  ]
}

/** What a question is about: its number's reminder, its bed, what was said last and is open, the only bed. */
function subjectOf(act: Tell, input: AnswerInput): { sowing: SowingPlan; kind: ReminderKind | null } | null {
  const record = act.n === null ? null : recordOf(input.after.history, input.person.id, act.n)
  const last = record ?? (act.bed === null ? lastOpen(input) : null)
  if (last) {
    const id = sowingOfReminder(last.id)
    const sowing = input.after.plan.beds.flatMap((bed) => bed.sowings).find((each) => each.sowing === id)
    if (sowing) return { sowing, kind: last.kind }
  }
  const beds = input.after.garden.beds
  const bed = act.bed ?? (beds.length === 1 ? (beds[0]?.id ?? null) : null)
  const sowing = bed === null ? null : currentSowing(input.after, bed)
  return sowing ? { sowing, kind: null } : null
}

/** The reminder that this person heard of last and that is still open. */
function lastOpen(input: AnswerInput): Reminder | null {
  const open = input.after.reminders.filter(
    (each) =>
      each.person === input.person.id && (each.state === "sent" || each.state === "due" || each.state === "snoozed"),
  )
  const heard = (reminder: Reminder) =>
    input.after.history.reminders.get(reminder.id)?.said.findLast((said) => said.to === input.person.id)?.seq ?? 0
  const latest = open.filter((each) => heard(each) > 0).toSorted((a, b) => heard(b) - heard(a) || b.urgency - a.urgency)
  return latest[0] ?? null
}

function reasonOf(sowing: SowingPlan, kind: ReminderKind | null): string | null {
  switch (kind) {
    case "sow":
    case "resow":
      return sowing.sow?.why ?? null
    case "water-in":
      return sowing.water?.why ?? sowing.species[0]?.emergence.why ?? null
    case "check-emergence":
      return sowing.species[0]?.emergence.why ?? null
    case "frost":
      return sowing.frost?.why ?? null
    case "watch-boot":
      return sowing.watchBoot?.why ?? null
    case "watch-bloom":
      return sowing.watchBloom?.why ?? null
    case "cut":
      return sowing.cut?.why ?? sowing.noCut
    case "check-regrowth":
      return "grasses cut young can come back; a look 10-14 days on shows it"
    case "rest-over":
    case "plant":
      return sowing.next?.why ?? sowing.rest?.why ?? null
    case null:
      return stateReason(sowing)
    default:
      return kind satisfies never
  }
}

function stateReason(sowing: SowingPlan): string | null {
  switch (sowing.state) {
    case "planned":
      return sowing.sow?.why ?? null
    case "sown":
      return sowing.species[0]?.emergence.why ?? null
    case "up":
    case "growing":
    case "blooming":
      return sowing.cut?.why ?? sowing.noCut
    case "cut":
    case "resting":
      return sowing.rest?.why ?? sowing.next?.why ?? null
    case "ready":
    case "planted":
      return sowing.next?.why ?? sowing.rest?.why ?? null
    case "ended":
      return null
    default:
      return sowing.state satisfies never
  }
}

function next(act: Tell, input: AnswerInput): Piece[] {
  const today = todayOf(input)
  const coming = input.after.reminders
    .filter((each) => each.person === input.person.id && !each.mailOnly && each.state !== "lapsed")
    .filter((each) => each.state !== "done" && each.state !== "skipped" && each.title)
    .filter((each) => act.bed === null || each.bed === act.bed)
    .filter((each) => each.speaks !== null || each.state === "sent")
    .toSorted((a, b) => compare(whenOf(a), whenOf(b)) || b.urgency - a.urgency || compare(a.id, b.id))
  const where = act.bed ? ` on ${bedName(input.after.garden, act.bed)}` : ""
  if (coming.length === 0) return [must(`Nothing is coming up${where} that I know of.`)]
  const [first, ...rest] = coming.slice(0, MOST).map((each) => capital(`${comingLine(each, today)}.`))
  return [must(`Next: ${first}`), ...rest.map((line) => room(line))]
}

function whenOf(reminder: Reminder): Day {
  return reminder.state === "snoozed" && reminder.speaks ? reminder.speaks : reminder.opens
}

function comingLine(reminder: Reminder, today: Day): string {
  const title = reminder.title as string
  const when = whenOf(reminder)
  if (reminder.state === "snoozed") return `${title}, snoozed till ${showDay(when, today)}`
  return when > today ? `from ${showDay(when, today)}: ${title}` : title
}

function howMuch(act: Tell, input: AnswerInput): Piece[] {
  const { garden } = input.after
  const beds = act.bed ? [act.bed] : garden.beds.map((bed) => bed.id)
  const lines = beds.flatMap((bed) => {
    const sowing = currentSowing(input.after, bed)
    const amount = sowing && (seedOf(sowing, input) ?? waterOf(sowing, input) ?? nitrogenOf(sowing, input))
    return amount ? [`${bedName(garden, bed)}: ${amount}.`] : []
  })
  if (lines.length === 0)
    return [must(act.bed ? `${bedName(garden, act.bed)} needs no amount now.` : "No bed needs an amount now.")]
  const [first, ...rest] = lines
  return [must(first as string), ...rest.slice(0, MOST - 1).map((line) => room(line))]
}

/** What to weigh out of a usual bag: `0.5 oz vetch + 0.8 oz rye (14 g + 22 g). Inoculant for pea/vetch`. */
function seedOf(sowing: SowingPlan, input: AnswerInput): string | null {
  const amounts = sowing.seed ?? []
  if (sowing.state !== "planned" || amounts.length === 0) return null
  const { units } = input.after.garden.place
  const other = units === "us" ? "metric" : "us"
  const ids = amounts.map((each) => each.id)
  const named = amounts.map(
    (each) => `${showAmount(each.bag_g, "g", units)} ${speciesName(input.handbook, each.id, ids)}`,
  )
  const beside = amounts.map((each) => showAmount(each.bag_g, "g", other)).join(" + ")
  const groups = [...new Set(amounts.flatMap((each) => (each.inoculant ? [each.inoculant] : [])))]
  const inoculant = groups.length > 0 ? `. Inoculant for ${listOf(groups, "and")}` : ""
  return `${named.join(" + ")} (${beside})${inoculant}`
}

function waterOf(sowing: SowingPlan, input: AnswerInput): string | null {
  if (sowing.state !== "sown" || !sowing.water) return null
  return `${showAbout(sowing.water.water_l, "l", input.after.garden.place.units)} of water. ${capital(sentence(sowing.water.why)).replace(/\.$/, "")}`
}

function nitrogenOf(sowing: SowingPlan, input: AnswerInput): string | null {
  const credit = sowing.nitrogen?.credit_g_per_m2
  if (!credit) return null
  const { units } = input.after.garden.place
  const low = showAmount(credit.low, "g/m2", units).split(" ")[0]
  return `nitrogen left for the next crop. ${capital(showAbout(credit.likely, "g/m2", units))} (${low} to ${showAmount(credit.high, "g/m2", units)})`
}

function status(act: Tell, input: AnswerInput): Piece[] {
  const { garden } = input.after
  const beds = act.bed ? [act.bed] : garden.beds.map((bed) => bed.id)
  const lines = beds.flatMap((bed) => {
    const sowing = currentSowing(input.after, bed)
    return sowing ? [`${bedName(garden, bed)}: ${statusOf(sowing, todayOf(input))}.`] : []
  })
  if (lines.length === 0) return [must("Nothing is sown or planned there that I know of.")]
  const [first, ...rest] = lines
  return [must(first as string), ...rest.map((line) => room(line))]
}

function logged(act: Tell, input: AnswerInput): Piece[] {
  const { garden, history } = input.after
  const today = todayOf(input)
  const beds = act.bed ? [act.bed] : garden.beds.map((bed) => bed.id)
  const facts = beds
    .flatMap((bed) => (history.beds.get(bed) ?? []).flatMap((record) => record.facts.map((fact) => ({ bed, fact }))))
    .toSorted((a, b) => compare(b.fact.on, a.fact.on) || b.fact.seq - a.fact.seq)
    .slice(0, MOST)
  if (facts.length === 0)
    return [must(act.bed ? `Nothing is logged for ${bedName(garden, act.bed)} yet.` : "Nothing is logged yet.")]
  const lines = facts.map(({ bed, fact }) => `${factWords(fact, bedName(garden, bed))}, ${onDay(fact.on, today)}.`)
  return [must(`Last logged: ${lines[0]}`), ...lines.slice(1).map((line) => room(capital(line)))]
}

function factWords(fact: Fact, bed: string): string {
  switch (fact.fact) {
    case "observed":
      return `${SEEN[fact.what].bed} on ${bed}`
    case "measured":
      return `a measurement on ${bed}`
    case "want":
      return `a wish for planting ${bed}`
    case "sowed":
      return `${bed} sown`
    default:
      return `${bed} ${fact.fact}`
  }
}

/** `yesterday`, `on 4 May`. */
function onDay(day: Day, today: Day): string {
  const near = showNearDay(day, today)
  return /^\d/.test(near) ? `on ${near}` : near
}

function sentence(text: string): string {
  return /[.?]$/.test(text) ? text : `${text}.`
}

function compare(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0
}
