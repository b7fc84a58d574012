import { TENTH } from "../agronomy/spread.ts"
import { SPAN_DAYS } from "../agronomy/stage-points.ts"
import type { KnownWeather } from "../agronomy/weather-series.ts"
import type { Fact, SowingRecord } from "../garden/facts.ts"
import type { Bed } from "../garden/garden.ts"
import type { Species } from "../handbook/species.ts"
import { addDays, type Day, dayNumber, daysBetween, earlier, later, partsOf } from "../values/day.ts"
import { rangeWidth } from "../values/range.ts"
import { estimateOnce } from "./estimate-once.ts"
import { type Learned, type LearnedSpecies, learnedKey, type OwnRun, pooled } from "./learned.ts"
import { seenBySpecies } from "./seen-by-species.ts"
import type { Setting } from "./setting.ts"
import { seasonOf } from "./sowing-season.ts"
import type { Seen, StageEstimates } from "./stage-estimates.ts"
import { speciesWord } from "./words.ts"

/** Stages that tell how a plant runs, the surest first, with the estimate each is held against. */
const TELLING = [
  ["bloom", "firstFlower"],
  ["heading", "heading"],
  ["boot", "boot"],
  ["flag-leaf", "flagLeaf"],
] as const

/**
 * The day to stand on for a sowing. No weather after its span can matter to it, so only a later report moves the day on. Of
 * the days of a sowing that is still to come nothing is known, and what is known of the place is looked at once a month.
 */
export function standingOn(from: Day, { on, weather }: Standing, observed: readonly Seen[] = []): Day {
  const { forecast } = weather
  const told = forecast ? forecast.first + forecast.tmin_c.length - 1 : 0
  if (observed.length === 0 && dayNumber(from) > Math.max(told, dayNumber(on))) return firstOfMonth(on)
  return earlier(
    on,
    observed.reduce((last, one) => later(last, one.on), addDays(from, SPAN_DAYS)),
  )
}
type Standing = Pick<Setting, "on" | "weather">

function firstOfMonth(on: Day): Day {
  return addDays(on, 1 - partsOf(on).dayOfMonth)
}

/**
 * What the garden's other sowings taught about the species of one: a pure function of garden, log, weather and day. Only
 * reports made by the end of the day count, and of the sowing itself none, since its own reports move it anyhow.
 */
export function learnedFrom(record: SowingRecord, from: Day, setting: Setting): Learned {
  const until = earlier(setting.on, addDays(from, SPAN_DAYS))
  const season = seasonOf(from, setting.weather.lat)
  const learned = new Map<string, LearnedSpecies>()
  for (const { id } of record.sowing.species) {
    const key = learnedKey(id, season)
    const runs = runsOf(setting).get(key) ?? []
    const others = runs.filter((run) => run.sowing !== record.sowing.id && run.on <= until)
    const found = pooled(others, speciesWord(setting.handbook, id))
    if (found) learned.set(key, found)
  }
  return learned
}

const known = new WeakMap<Setting, Map<string, OwnRun[]>>()

/** Every run of the garden by key; worked out once for a setting. */
function runsOf(setting: Setting): Map<string, OwnRun[]> {
  const before = known.get(setting)
  if (before) return before
  const runs = setting.garden.beds.flatMap((bed) =>
    (setting.history.beds.get(bed.id) ?? []).flatMap((record) => runsOfSowing(record, bed, setting)),
  )
  const made = Map.groupBy(runs, (run) => run.key)
  known.set(setting, made)
  return made
}

/** The runs of one sowing: the species that were seen to flower, or to come near it, before anything was cut. */
function runsOfSowing(record: SowingRecord, bed: Bed, setting: Setting): OwnRun[] {
  const { sown } = record
  if (sown === null || sown > setting.on) return []
  const facts = firstGrowth(record.facts, setting.on)
  if (!facts.some((fact) => fact.fact === "observed" && TELLING.some(([what]) => what === fact.what))) return []
  const species = record.sowing.species.flatMap(({ id }) => setting.handbook.species.get(id) ?? [])
  const guess = (one: Species, observed: readonly Seen[]) => bookOf(one, sown, bed, observed, setting)
  const seen = seenBySpecies(facts, species, guess)
  const season = seasonOf(sown, setting.weather.lat)
  return species.flatMap((one): OwnRun[] => {
    const run = runOf(seen.get(one.id) ?? [], () => guess(one, []))
    if (!run || run.on <= sown) return []
    const measured = measuredShare(setting.weather, sown, run.on)
    return [{ ...run, sowing: record.sowing.id, key: learnedKey(one.id, season), measured }]
  })
}

/** What the book says of a sowing with the weather that came, whatever the garden taught. */
function bookOf(species: Species, sown: Day, bed: Bed, observed: readonly Seen[], setting: Setting): StageEstimates {
  return estimateOnce({
    species,
    development: setting.handbook.development.get(species.id),
    sown,
    on: standingOn(sown, setting, observed),
    weather: setting.weather,
    bed: bed.kind,
    observed,
  })
}

/** What was known of the first growth by the end of a day: after a cut a plant is on another clock. */
function firstGrowth(facts: readonly Fact[], on: Day): Fact[] {
  const cut = facts.find((fact) => fact.fact === "cut")?.on ?? null
  return facts.filter((fact) => fact.on <= on && (cut === null || fact.on <= cut))
}

function runOf(seen: readonly Seen[], book: () => StageEstimates): Pick<OwnRun, "on" | "days" | "spread_days"> | null {
  for (const [what, stage] of TELLING) {
    const on = seen.find((one) => one.what === what)?.on
    if (on === undefined) continue
    const range = book()[stage]
    if (!range) continue
    const spread_days = Math.max(1, rangeWidth(range) / (2 * TENTH))
    return { on, days: daysBetween(range.likely, on), spread_days }
  }
  return null
}

/** Share of the days between two days that were measured. */
function measuredShare({ observed }: KnownWeather, from: Day, to: Day): number {
  if (!observed) return 0
  const first = dayNumber(from)
  const days = dayNumber(to) - first
  let count = 0
  for (let day = first; day < first + days; day += 1) {
    const tmin = observed.tmin_c[day - observed.first]
    if (tmin !== undefined && !Number.isNaN(tmin)) count += 1
  }
  return days > 0 ? count / days : 0
}
