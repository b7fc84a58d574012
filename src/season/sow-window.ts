import { nearestYearly } from "../agronomy/frost-dates.ts"
import type { Species } from "../handbook/species.ts"
import { addDays, type Day, dayFromNumber, dayNumber, earlier, later } from "../values/day.ts"
import type { Setting } from "./setting.ts"
import { seasonOf } from "./sowing-season.ts"
import { dayWords, speciesWord } from "./words.ts"

/** Days in which a species can be sown. `rests` says what sets the last one. */
export type SowSpan = { from: Day; by: Day; rests: "autumn-frost" | "spring-frost" | "season" }

/** Glass stretches a sowing season by about so many weeks at both ends: common practice, no source. */
const GLASS_WEEKS = 4

/**
 * The spans of days about `near` in which a species can be sown in this place: weeks from the last spring frost, weeks
 * before the first autumn frost, or the seasons that the tables of the trade name where no weeks are known.
 */
export function sowSpans(species: Species, near: Day, glass: boolean, setting: Setting): SowSpan[] {
  const { last, first } = setting.frosts
  const { seasons, weeksFromLastSpringFrost: spring, weeksBeforeFirstAutumnFrost: autumn } = species.sowing
  const stretch = glass ? GLASS_WEEKS : 0
  const weeks = (d: Day, n: number) => addDays(d, Math.round(n * 7))
  const spans: SowSpan[] = []
  for (const shift of [-365, 0, 365]) {
    const around = addDays(near, shift)
    const lastFrost = last === null ? null : nearestYearly(last, around)
    const firstFrost = first === null ? null : nearestYearly(first, around)
    if (spring && lastFrost && seasons.spring.fit !== "no") {
      spans.push({
        from: weeks(lastFrost, spring.low - stretch),
        by: weeks(lastFrost, spring.high + stretch),
        rests: "spring-frost",
      })
    }
    if (autumn && firstFrost) {
      spans.push({
        from: weeks(firstFrost, -autumn.high - stretch),
        by: weeks(firstFrost, -autumn.low + stretch),
        rests: "autumn-frost",
      })
    }
  }
  const joined = join(spans, seasons.summer.fit === "good")
  return joined.length > 0 ? joined : seasonSpan(species, near, setting)
}

/** The span that a day lies in, else the nearest one to come, else the nearest. */
export function spanFor(species: Species, near: Day, glass: boolean, setting: Setting): SowSpan | null {
  const spans = sowSpans(species, near, glass, setting)
  const holding = spans.find((span) => span.from <= near && near <= span.by)
  if (holding) return holding
  const distance = (span: SowSpan) =>
    near < span.from ? dayNumber(span.from) - dayNumber(near) : dayNumber(near) - dayNumber(span.by)
  return spans.toSorted((a, b) => distance(a) - distance(b))[0] ?? null
}

/** When to sow a planned mix: from the planned day, or the first good day after it, to the last good day of its members. */
export function sowWindow(
  mix: readonly Species[],
  planned: Day,
  glass: boolean,
  setting: Setting,
): { from: Day; by: Day; why: string } {
  const spans = mix.flatMap((species) => {
    const span = spanFor(species, planned, glass, setting)
    return span ? [{ species, span }] : []
  })
  const near = spans.filter(({ span }) => span.by >= planned && dayNumber(span.from) - dayNumber(planned) <= 45)
  const from = near.reduce((d, { span }) => later(d, span.from), planned)
  const first = near.reduce<(typeof near)[number] | null>((a, b) => (a === null || b.span.by < a.span.by ? b : a), null)
  const usual = addDays(planned, 14)
  if (!first || first.span.by < from) {
    const late = mix.length > 0 && spans.length > 0
    const why = late
      ? "That is late for this mix here; sooner is better."
      : "No sowing season is known for it here; two weeks from the planned day are kept open."
    return { from, by: later(from, usual), why }
  }
  return { from, by: first.span.by, why: whySpan(first.species, first.span, setting) }
}

/** The last day on which sowing the same again still makes sense. */
export function resowBy(mix: readonly Species[], sown: Day, glass: boolean, setting: Setting): Day {
  const spans = mix.flatMap((species) => spanFor(species, sown, glass, setting) ?? [])
  const open = spans.filter((span) => span.by >= sown)
  const by = open.reduce<Day | null>((d, span) => (d === null ? span.by : earlier(d, span.by)), null)
  return by ?? addDays(sown, 21)
}

function whySpan(species: Species, span: SowSpan, setting: Setting): string {
  const name = speciesWord(setting.handbook, species.id)
  const { last, first } = setting.frosts
  if (span.rests === "autumn-frost" && first !== null) {
    const frost = nearestYearly(first, span.by)
    if (span.by > frost)
      return `Sown later, the ${name} would have too little time before winter. The first frost is usually about ${dayWords(frost)}.`
    return `Sown later, the ${name} would have too little time before the first frost, usually about ${dayWords(frost)}.`
  }
  if (span.rests === "spring-frost" && last !== null)
    return `Its season is reckoned from the last spring frost, usually about ${dayWords(nearestYearly(last, span.by))}.`
  return `That is the sowing season of the ${name} here.`
}

/** Spans in the order of their days; a spring and an autumn span become one where the summer between suits too. */
function join(spans: readonly SowSpan[], throughSummer: boolean): SowSpan[] {
  const sorted = spans.filter((span) => span.from <= span.by).toSorted((a, b) => (a.from < b.from ? -1 : 1))
  const joined: SowSpan[] = []
  for (const span of sorted) {
    const before = joined.at(-1)
    const summer = before?.rests === "spring-frost" && span.rests === "autumn-frost" && throughSummer
    if (before && (span.from <= before.by || summer)) {
      joined[joined.length - 1] = { from: before.from, by: later(before.by, span.by), rests: span.rests }
    } else joined.push(span)
  }
  return joined
}

/** The stretch of days around `near` whose season suits the species, where no weeks from a frost are known. */
function seasonSpan(species: Species, near: Day, setting: Setting): SowSpan[] {
  const suits = (number: number) => {
    const { fit } = species.sowing.seasons[seasonOf(dayFromNumber(number), setting.weather.lat)]
    return fit === "good" || fit === "ok"
  }
  const start = dayNumber(near)
  if (!suits(start)) return []
  let from = start
  let by = start
  while (start - from < 200 && suits(from - 1)) from -= 1
  while (by - start < 200 && suits(by + 1)) by += 1
  return [{ from: dayFromNumber(from), by: dayFromNumber(by), rests: "season" }]
}
