import type { Then } from "../../src/garden/garden.ts"
import type { CutWindow, SowingPlan } from "../../src/season/bed-plan.ts"
import { compose, subjectOf } from "../../src/wording/compose.ts"
import { weekSubject } from "../../src/wording/digest.ts"
import { ANSWER_BY_MAIL } from "../../src/wording/parcel.ts"
import { aCut, aNext, aSowingPlan, aSpeciesPlan, day, range } from "../given.ts"
import { BECAUSE, everyText, gardenOf, MIXES, plansOf, type SaidText, TOPS } from "./every-text.ts"
import { asMail, asText, LONG, type Wording } from "./wording.ts"

/** Every reminder of its own accord: each kind and call, with its reason and without; a usual name leaves room for reasons. */
export function reminderWordings(): Wording[] {
  return [LONG.bed, "South bed"].flatMap(ofBed)
}

function ofBed(name: string): Wording[] {
  const garden = gardenOf(name, "us")
  const texts = [
    ...variants().flatMap(([mix, then, because]) => everyText(garden, plansOf([...mix], then, because))),
    ...everyText(gardenOf(name, "metric"), plansOf(["hairy-vetch", "winter-rye"], "leave", "seed")),
    ...everyText(garden, rarer()),
    ...everyText(garden, plansOf(["oats"], "leave", "seed"), { what: "not-up", on: "2026-09-08" }),
  ]
  return [...texts.flatMap(wordingsOf), ...together(texts)]
}

/** Every mix in its usual way, and one mix in every way. */
function variants(): [mix: readonly string[], then: Then, because: CutWindow["setBy"]["because"]][] {
  const [first = []] = MIXES
  return [
    ...MIXES.map((mix): [readonly string[], Then, "seed"] => [
      mix,
      mix.includes("brown-mustard") ? "turn-in" : "leave",
      "seed",
    ]),
    ...TOPS.map((then): [readonly string[], Then, "seed"] => [first, then, "seed"]),
    ...BECAUSE.map((because): [readonly string[], Then, typeof because] => [first, "leave", because]),
  ]
}

/** Plans of which the usual ones hold nothing: what is late, unsure, in glass, of one grass, without a crop to follow. */
function rarer(): SowingPlan[] {
  const ready = range("2026-05-30", "2026-06-05", "2026-06-14")
  const rest = { transplants: ready, smallSeed: ready, why: "stems rot slowly" }
  const unsure = range("2026-04-20", "2026-05-08", "2026-07-01")
  const setBy = { species: "hairy-vetch", because: "seed" } as const
  const vetch = aSpeciesPlan({ id: "hairy-vetch", firstFlower: unsure })
  const ask = { opens: day("2026-04-25"), lapses: day("2026-05-15"), why: "" }
  const way = { way: "cut on 2 May", ready: range("2026-05-20", "2026-05-24", "2026-05-30"), cost: "less nitrogen" }
  const late = aNext("summer-squash", "2026-05-25", ready, { fits: false })
  return [
    aSowingPlan({
      species: [vetch],
      watchBloom: { ...ask, species: "hairy-vetch" },
      cut: aCut("2026-04-29", "2026-05-08", "2026-05-14", { setBy }),
    }),
    aSowingPlan({
      species: [vetch],
      watchBloom: { ...ask, opens: day("2026-04-10"), species: "hairy-vetch" },
    }),
    aSowingPlan({ species: [{ ...vetch, firstFlower: null }], watchBloom: { ...ask, species: "hairy-vetch" } }),
    aSowingPlan({
      species: [aSpeciesPlan({ id: "winter-rye" })],
      watchBloom: { ...ask, species: "winter-rye" },
      cut: aCut("2026-04-29", "2026-05-14", "2026-05-14", { setBy: { species: "winter-rye", because: "next-crop" } }),
    }),
    aSowingPlan({ rest, next: late }),
    aSowingPlan({ rest, next: { ...late, ways: [way] } }),
    aSowingPlan({ rest, next: { ...late, ways: [{ ...way, ready }] } }),
    aSowingPlan({ state: "resting", wasCut: { on: day("2026-05-09"), then: "leave" }, rest }),
    aSowingPlan({
      state: "sown",
      sown: day("2026-08-24"),
      species: [aSpeciesPlan({ id: "oats", emergence: range("2026-08-28", "2026-09-01", "2026-09-06") })],
    }),
    aSowingPlan({ frost: { opens: day("2025-12-01"), lapses: day("2025-12-03"), species: ["hairy-vetch"], why: "" } }),
  ]
}

function wordingsOf({ kind, said, reminder, text }: SaidText): Wording[] {
  const short = compose([{ reminder: { ...reminder, text: reminder.short }, n: 17 }], null).text
  const asMailed = subjectOf([{ reminder, n: 17 }])
  return [
    asText(`reminder ${kind}`, text, { replies: "one" }),
    asText(`reminder ${kind}, without its reason`, short, { replies: "one" }),
    asMail(`reminder ${kind}, subject`, asMailed),
    ...(said.caution === undefined ? [] : [asMail(`reminder ${kind}, caution`, said.caution)]),
  ]
}

/** Several in one text, and what is said after days away. */
function together(texts: readonly SaidText[]): Wording[] {
  const kinds = [...Map.groupBy(texts, ({ kind }) => kind).values()].map(([first]) => first as SaidText)
  const lines = kinds.slice(0, 5).map(({ reminder }, index) => ({ reminder, n: 17 + index }))
  const away = { days: 12, restIn: "Sunday's mail" }
  return [
    ...[2, 3, 5].map((count) => asText(`reminders, ${count} in one`, compose(lines.slice(0, count), null).text)),
    ...[1, 2, 5].map((count) =>
      asText(`reminders after days away, ${count}`, compose(lines.slice(0, count), away).text),
    ),
    asText("reminders after a day away", compose(lines.slice(0, 1), { ...away, days: 1 }).text),
    asText("reminders after days away, the rest", compose(lines, away).text),
    asMail("reminders, subject of several", subjectOf(lines)),
    asMail("weekly mail subject", weekSubject(null, 1, LONG.garden)),
    ...[0, 1, 4].map((count) =>
      asMail("weekly mail subject", weekSubject(`Cut ${LONG.bed}, best by about 22 May`, count, LONG.garden)),
    ),
    asMail("reminder by mail, last line", ANSWER_BY_MAIL),
  ]
}
