import type { Act, Measure } from "../garden/acts.ts"
import type { Units } from "../garden/garden.ts"
import { showNearDay } from "../reminders/dates.ts"
import { bedName, capital, cropName, listOf, speciesName } from "../reminders/names.ts"
import { showAmount } from "../values/amount.ts"
import type { Day } from "../values/day.ts"
import { type AnswerInput, recordOf } from "./answer-view.ts"
import { DONE, SEEN, TOPS_DONE } from "./answer-words.ts"

/** Something that was logged: in few words, of which bed, for which day. */
export type Noted = { clause: string; bed: string | null; on: Day }

/** What the acts of a reply put into the log. Two acts that tell the same thing of one bed are told once, by the fuller one. */
export function notedOf(input: AnswerInput): Noted[] {
  const { acts } = input.understood
  const plain = new Set(acts.flatMap((act) => (isPlain(act) ? [`${act.act} ${act.bed}`] : [])))
  return acts.flatMap((act) => {
    if (act.act === "done") return doneNoted(act.n, act.on, input, plain)
    const one = noted(act, input)
    return one ? [one] : []
  })
}

/** `Bloom on South bed, noted for today.` or, for several, `Noted for today: bloom on South bed and East bed cut.` */
export function notedSentence(all: readonly Noted[], today: Day): string {
  const [first, ...rest] = all
  if (!first) return ""
  if (rest.length === 0) return `${capital(first.clause)}, noted for ${showNearDay(first.on, today)}.`
  if (rest.every((each) => each.on === first.on))
    return `Noted for ${showNearDay(first.on, today)}: ${listOf(
      all.map((each) => each.clause),
      "and",
    )}.`
  return `Noted: ${listOf(
    all.map((each) => `${each.clause} ${showNearDay(each.on, today)}`),
    "and",
  )}.`
}

function isPlain(act: Act): act is Act & { act: "sowed" | "cut" | "watered" | "planted"; bed: string } {
  return act.act === "sowed" || act.act === "cut" || act.act === "watered" || act.act === "planted"
}

/** What a number that was done says, unless it was settled before or a fuller act beside it says the same. */
function doneNoted(numbers: readonly number[], on: Day, input: AnswerInput, plain: ReadonlySet<string>): Noted[] {
  const same = { sow: "sowed", resow: "sowed", "water-in": "watered", cut: "cut", plant: "planted" } as const
  return numbers.flatMap((n) => {
    const record = recordOf(input.before.history, input.person.id, n)
    if (!record || record.settled) return []
    const act = record.kind in same ? same[record.kind as keyof typeof same] : null
    if (act && plain.has(`${act} ${record.bed}`)) return []
    return [{ clause: `${bedName(input.before.garden, record.bed)} ${DONE[record.kind]}`, bed: record.bed, on }]
  })
}

function noted(act: Act, input: AnswerInput): Noted | null {
  const { garden } = input.before
  const bedOf = (id: string) => bedName(garden, id)
  switch (act.act) {
    case "observe": {
      const words = SEEN[act.what]
      const what = act.species ? `${words.of} ${speciesName(input.handbook, act.species)}` : words.bed
      return { clause: `${what} on ${bedOf(act.bed)}`, bed: act.bed, on: act.on }
    }
    case "measure": {
      const where = act.bed ? ` on ${bedOf(act.bed)}` : ""
      return { clause: `${measured(act.what, act.value, garden.place.units)}${where}`, bed: act.bed, on: act.on }
    }
    case "sowed":
      return { clause: `${bedOf(act.bed)} sown`, bed: act.bed, on: act.on }
    case "cut": {
      const species = act.species.map((id) => speciesName(input.handbook, id))
      const what = species.length > 0 ? `the ${listOf(species, "and")} on ${bedOf(act.bed)}` : bedOf(act.bed)
      return { clause: `${what} cut${act.then ? TOPS_DONE[act.then] : ""}`, bed: act.bed, on: act.on }
    }
    case "watered":
      return { clause: `${bedOf(act.bed)} watered`, bed: act.bed, on: act.on }
    case "planted": {
      const crop = act.crop ? ` with ${cropName(input.handbook, act.crop)}` : ""
      return { clause: `${bedOf(act.bed)} planted${crop}`, bed: act.bed, on: act.on }
    }
    case "want": {
      const crop = act.crop ? cropName(input.handbook, act.crop) : "planting"
      return { clause: `${crop} wanted on ${bedOf(act.bed)}`, bed: act.bed, on: act.on }
    }
    default:
      return null
  }
}

function measured(what: Measure, value: number, units: Units): string {
  switch (what) {
    case "height_cm":
      return `a height of ${showAmount(value, "cm", units)}`
    case "fresh_g":
      return `fresh weight of ${showAmount(value, "g", units)}`
    case "fresh_g_per_m2":
      return `fresh weight of ${showAmount(value, "g/m2", units)}`
    case "soil_c":
      return `soil at ${showAmount(value, "c", units)}`
    case "rain_mm":
      return `rain of ${showAmount(value, "mm", units)}`
    case "cover_percent":
      return `${Math.round(value)}% cover`
    default:
      return what satisfies never
  }
}

/** The beds that a reply was about. */
export function bedsTouched(input: AnswerInput): string[] {
  const named = notedOf(input).flatMap((each) => (each.bed ? [each.bed] : []))
  const undone = (input.undone?.acts ?? []).flatMap((act) => {
    if ("bed" in act && act.bed) return [act.bed]
    if (!("n" in act) || !Array.isArray(act.n)) return []
    return act.n.flatMap((n) => recordOf(input.before.history, input.person.id, n)?.bed ?? [])
  })
  return [...new Set([...named, ...undone])]
}

/** Was something seen, and not only done? */
export function sawSomething(input: AnswerInput): boolean {
  return input.understood.acts.some((act) => act.act === "observe")
}
