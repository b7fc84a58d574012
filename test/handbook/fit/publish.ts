/**
 * Turns published days from sowing to flower into development days and writes `shared/development/ID.json` for every species
 * that no rows were fitted for:
 *
 *   node test/handbook/fit/publish.ts
 *
 * A range of days holds for the climate it was written in. Most of ours are North American and north-eastern, so the days
 * are walked off there, from the middle of each season of sowing, and what the plant got of warmth and light on the way is
 * what it needs elsewhere. The published range, no more and no less, is the spread between stands.
 */
import { existsSync, mkdirSync, readFileSync, writeFileSync } from "node:fs"
import type { KnownWeather } from "../../../src/agronomy/weather-series.ts"
import type { Development, DevelopmentClock } from "../../../src/handbook/development.ts"
import { type Figure, middle } from "../../../src/handbook/figure.ts"
import { openHandbook } from "../../../src/handbook/open.ts"
import type { Season, Species } from "../../../src/handbook/species.ts"
import { estimateStages } from "../../../src/season/estimate.ts"
import { addDays, type Day, day, daysBetween, partsOf } from "../../../src/values/day.ts"
import { COLD } from "./model.ts"
import { BEDS } from "./spreads.ts"

/** Where most of the published days were written down; the middle of each season of sowing there (our choice). */
const REFERENCE_CLIMATE = "york-pa"
/** The buckwheat and mustard pages of Cornell and of Ontario speak of their own, cooler summers. */
const NORTHERN_CLIMATE = "geneva-ny"
const NORTHERN_SOURCE = /^(CORNELL|ONT|GFO)/
const NO_PLACE = ["PRACTICE", "TRADE-MUSTARD"]
/** Days that would bring a flower in the dead of the winter there were written down where winters are mild. */
const MILD_CLIMATE = "sacramento-ca"
const WINTER_ENDS = "04-05"
const SOWN: Record<Season, Day> = {
  spring: day("2025-04-15"),
  summer: day("2025-06-25"),
  "late-summer": day("2025-08-15"),
  autumn: day("2025-09-22"),
}
/** What the lightest frost kills is sown in spring only once frosts are over. */
const TENDER_SPRING = day("2025-05-22")
/** Mean temperature of the weeks in which each clock runs there, so that a development day is about a day (its normals). */
const REFERENCE_C: Record<Season, number> = { spring: 17, summer: 22, "late-summer": 18, autumn: 14 }
/**
 * Published days of covers that winter run from the latest sowing to the earliest bloom and from the earliest to the latest, and
 * the day of sowing hardly moves the bloom: so many days on each side of the middle are the sowing's (the weeks of autumn
 * sowing, common practice). Sorts alone still move bloom by 10 to 15 days (SARE 2007 of vetch).
 */
const SOWING_SIDE_DAYS = 15
const SORT_SIDE_DAYS = 10
/** Plants that follow the calendar and day length rather than heat (Butler et al. 2002 for crimson clover; sunn hemp alike). */
const CALENDAR_PLANTS = new Set(["crimson-clover", "sunn-hemp"])
const CALENDAR_SHARE = 0.25
/** Last leaf to heading of a grass of which no more is known (common practice, no source). */
const LEAF_TO_EAR_DAYS = 12
/** Any warmth does for a clock that is a plain sum; this is one of April and May. */
const NEW_YEAR_REFERENCE_C = 14

/** Peas have a published row of days by soil warmth from 5 to 20 C, which one sum over 1 C fits: 120 to 155 degree-days. */
const PEA_SEEDBED: Development["emergence"] = {
  base_c: 1,
  ceiling_c: 30,
  sum: { low: 120, likely: 138, high: 155, unit: "C d", source: ["HM1954"], grade: "read" },
}
const PEAS = new Set(["field-pea", "winter-pea"])

const shared = new URL("../../../shared/", import.meta.url)
const out = new URL("development/", shared)
const handbook = openHandbook(shared)
const usual = weatherAt(REFERENCE_CLIMATE)
const northern = weatherAt(NORTHERN_CLIMATE)
const mild = weatherAt(MILD_CLIMATE)
mkdirSync(out, { recursive: true })

for (const species of handbook.species.values()) {
  const file = new URL(`${species.id}.json`, out)
  if (existsSync(file) && JSON.parse(readFileSync(file, "utf8")).clocks[0].basis.how !== "published") continue
  const development = published(species)
  writeFileSync(file, `${JSON.stringify(development, null, 1)}\n`)
  console.log(
    `${species.id}: ${development.clocks.map((clock) => `${[clock.sown].flat()} ${clock.rate.days} from ${clock.from}`).join("; ")}`,
  )
}

function weatherAt(id: string): KnownWeather {
  const climate = handbook.climates.byId(id)!
  return { lat: climate.lat, lon: climate.lon, observed: null, forecast: null, climate }
}

function published(species: Species): Development {
  const base = Math.min(10, Math.max(0, species.germination.minSoil_c.low))
  const shell: Development = {
    id: species.id,
    emergence: PEAS.has(species.id) ? PEA_SEEDBED : { base_c: base, ceiling_c: 30, sum: seedbed(species, base) },
    clocks: [],
    needsCold: null,
    cold: COLD,
    sorts: { month: "coldest", from_c: 4, to_c: 10 },
    beds: BEDS,
    bootShare: species.kind === "grass" ? 0.5 : null,
  }
  for (const item of species.flowering) {
    if (item.stage !== "first-flower" || !item.comes || !item.days || item.sown === "any") continue
    const clock = clockOf(species, item.sown, item.days, base, shell)
    const { degreeDays } = item
    shell.clocks.push(degreeDays?.from === "01-01" ? heatClock(clock, degreeDays) : clock)
  }
  return { ...shell, clocks: joined(shell.clocks) }
}

/**
 * Covers that overwinter bloom at their time whenever they were sown before it: what was sown in late summer goes by the clock
 * of autumn (the findings of the reference data: autumn sowing dates hardly move spring bloom).
 */
function joined(clocks: readonly DevelopmentClock[]): DevelopmentClock[] {
  const isOf = (clock: DevelopmentClock, sown: Season) => clock.sown !== "any" && clock.sown.includes(sown)
  const autumn = clocks.find((clock) => isOf(clock, "autumn"))
  const late = clocks.find((clock) => isOf(clock, "late-summer"))
  if (!autumn || late?.from !== "new-year") return [...clocks]
  return clocks.flatMap((clock) =>
    clock === late ? [] : clock === autumn ? [{ ...autumn, sown: ["late-summer", "autumn"] as Season[] }] : [clock],
  )
}

/** Degree-days of the seedbed in the published days to emergence, at a usual soil: 15 C, or 22 C for covers of the summer. */
function seedbed(species: Species, base: number): Figure {
  const days = species.germination.emergence_days
  const good = Object.entries(species.sowing.seasons).filter(([, { fit }]) => fit === "good")
  const soil = good.every(([season]) => season === "summer") ? 22 : 15
  const sum = (value: number) => Number(((soil - base) * value).toPrecision(3))
  const { source, grade } = days
  return {
    low: sum(days.low),
    likely: sum(middle(days)),
    high: sum(days.high),
    unit: "C d",
    source,
    grade,
    note: `days to emergence at ${soil} C`,
  }
}

function clockOf(species: Species, sown: Season, days: Figure, base: number, shell: Development): DevelopmentClock {
  const sownOn = sown === "spring" && species.winterKill_c.high >= -1 ? TENDER_SPRING : SOWN[sown]
  const likelyDay = addDays(sownOn, Math.round(middle(days)))
  const isNextYear = partsOf(likelyDay).year > partsOf(sownOn).year
  const isMild = isNextYear && likelyDay.slice(5) < WINTER_ENDS && sown === "autumn"
  const weather = isMild ? mild : isNorthern(days) ? northern : usual
  const from = isNextYear && !isMild ? "new-year" : "emergence"
  const grass = species.kind === "grass"
  const ear = species.flowering.find((item) => item.stage === "heading" && item.sown === sown && item.days)?.days
  const clock: DevelopmentClock = {
    sown: [sown],
    from,
    reference_c: REFERENCE_C[sown],
    heat: CALENDAR_PLANTS.has(species.id) ? { share: CALENDAR_SHARE, rest: "normals" } : { share: 1, rest: "steady" },
    rate: {
      base_c: Math.min(base, 8),
      ceiling_c: 30,
      ...light(species),
      uncooled: 1,
      cold_days: 40,
      days: 1,
      localLight: 0,
      localDays: 0,
      localLeast: 0,
    },
    grass: grass
      ? {
          base_c: Math.min(base, 8),
          ceiling_c: 30,
          dayShare: 0,
          heading_days: LEAF_TO_EAR_DAYS,
          flower_days: LEAF_TO_EAR_DAYS + Math.max(1, ear ? middle(days) - middle(ear) : 7),
        }
      : null,
    stands: { low: 1, likely: 1, high: 1 },
    noise_days: 0,
    reported: grass ? { log: 0.2, days: 2 } : null,
    members: null,
    basis: {
      how: "published",
      grade: days.grade,
      source: days.source,
      says: `${days.low} to ${days.high} days from sowing in the books, turned into warmth and light`,
      note: `walked off at ${weather.climate.name}, ${weather.climate.where}, sown ${sownOn.slice(5)}`,
    },
  }
  const likely = needed(species, shell, clock, weather, sownOn, middle(days))
  const one = from === "new-year" ? ofOneSowing(days) : days
  const low = needed(species, shell, clock, weather, sownOn, one.low)
  const high = needed(species, shell, clock, weather, sownOn, one.high)
  clock.rate.days = short(likely)
  clock.stands = { low: short(Math.min(0.98, low / likely)), likely: 1, high: short(Math.max(1.02, high / likely)) }
  clock.noise_days = 2
  return clock
}

/** Does every source of some days that has a place at all lie in New York or Ontario? */
function isNorthern({ source }: Figure): boolean {
  const placed = source.filter((key) => !NO_PLACE.includes(key))
  return placed.length > 0 && placed.every((key) => NORTHERN_SOURCE.test(key))
}

/** What is left of published days where they are counted from one sowing. */
function ofOneSowing(days: Figure): { low: number; high: number } {
  const likely = middle(days)
  return {
    low: Math.min(days.low + SOWING_SIDE_DAYS, Math.max(days.low, likely - SORT_SIDE_DAYS)),
    high: Math.max(days.high - SOWING_SIDE_DAYS, Math.min(days.high, likely + SORT_SIDE_DAYS)),
  }
}

/** A published sum of degree-days from 1 January says more than a range of days from sowing: it is taken as it stands. */
function heatClock(
  clock: DevelopmentClock,
  { base_c, sum }: NonNullable<Species["flowering"][number]["degreeDays"]>,
): DevelopmentClock {
  const day_c = NEW_YEAR_REFERENCE_C - base_c
  return {
    ...clock,
    from: "new-year",
    reference_c: NEW_YEAR_REFERENCE_C,
    rate: { ...clock.rate, base_c, from_h: 10, to_h: 12, least: 1, days: short(middle(sum) / day_c) },
    stands: { low: short(sum.low / middle(sum)), likely: 1, high: short(sum.high / middle(sum)) },
    basis: {
      how: "published",
      grade: sum.grade,
      source: sum.source,
      says: `${sum.low} to ${sum.high} degree-days above ${base_c} C after 1 January in the books`,
    },
  }
}

/** How light speeds a plant up: a broad ramp, since no more than its kind is known (general botany, no source). */
function light(species: Species): { from_h: number; to_h: number; least: number } {
  if (species.photoperiod === "long") return { from_h: 9, to_h: 15.5, least: 0.4 }
  if (species.photoperiod === "short") return { from_h: 16, to_h: 12.5, least: 0.5 }
  return { from_h: 10, to_h: 12, least: 1 }
}

/** Development days that bring the first flower so many days after sowing in the normal year of the reference climate. */
function needed(
  species: Species,
  shell: Development,
  clock: DevelopmentClock,
  weather: KnownWeather,
  sown: Day,
  days: number,
): number {
  let low = 0.5
  let high = 600
  for (let i = 0; i < 24; i += 1) {
    const half = Math.sqrt(low * high)
    const trial = { ...shell, clocks: [{ ...clock, sown: "any" as const, rate: { ...clock.rate, days: half } }] }
    const { firstFlower } = estimateStages({
      species: hardy(species),
      development: trial,
      sown,
      on: sown,
      weather,
      bed: "plot",
      observed: [],
    })
    if (firstFlower && daysBetween(sown, firstFlower.likely) < days) low = half
    else high = half
  }
  return Math.sqrt(low * high)
}

/** The same plant without its frost: days that are published are of stands that lived. */
function hardy(species: Species): Species {
  return { ...species, winterKill_c: { ...species.winterKill_c, low: -60, high: -55 } }
}

function short(value: number): number {
  return Number(value.toPrecision(4))
}
