import fc from "fast-check"
import type { DailyWeather, KnownWeather } from "../../src/agronomy/weather-series.ts"
import { type Act, MEASURES, STAGES } from "../../src/garden/acts.ts"
import type { Entry, NewEntry } from "../../src/garden/entry.ts"
import type { Bed, Garden, Then } from "../../src/garden/garden.ts"
import { readHistory } from "../../src/garden/history.ts"
import type { Climate } from "../../src/handbook/climate.ts"
import type { GardenPlan } from "../../src/season/bed-plan.ts"
import { planGarden } from "../../src/season/plan.ts"
import { addDays, type Day, day, dayNumber } from "../../src/values/day.ts"
import { aBed, aGarden, aSowing, handbook, log, reply } from "../given.ts"

/** Gardens, logs, weather and days as chance makes them, with no regard to sense. */

const PLACES: readonly [lat: number, lon: number, elev_m: number][] = [
  [40.04, -76.31, 110],
  [25.8, -80.2, 3],
  [50.61, 6.99, 159],
  [-43.64, 172.5, 10],
  [45.0, -93.2, 260],
  [45.5, -122.7, 30],
]
const climates = new Map<number, Climate>()
function climateAt(place: number): Climate {
  const [lat, lon, elev_m] = PLACES[place]!
  const known = climates.get(place) ?? handbook().climates.at({ lat, lon, elev_m })
  climates.set(place, known)
  return known
}

export type Case = { garden: Garden; entries: NewEntry[]; place: number; weather: number; on: Day }

const START = day("2025-03-01")
const anyDay = fc.integer({ min: 0, max: 640 }).map((n) => addDays(START, n))
const species = fc.constantFrom(...[...handbook().species.keys()].sort())
const crop = fc.constantFrom(...[...handbook().crops.keys()].sort())
const then = fc.constantFrom<Then>("leave", "carry-off", "turn-in", "tarp")
const bedIds = ["south", "north", "glass"] as const

const mix = fc
  .uniqueArray(species, { minLength: 1, maxLength: 3 })
  .map((ids) => ids.map((id) => ({ id, share: 1 / ids.length })))
const sowing = (bed: string) =>
  fc
    .record({
      on: anyDay,
      planned: fc.boolean(),
      species: mix,
      then,
      next: fc.option(fc.record({ crop, wanted: fc.option(anyDay) })),
    })
    .map(({ on, planned, ...known }) => aSowing({ bed, ...known, ...(planned ? { planned: on } : { sown: on }) }))

const bed = (id: string) =>
  fc.uniqueArray(sowing(id), { maxLength: 2, selector: (one) => one.id }).map(
    (sowings): Bed =>
      aBed({
        id,
        kind: id === "glass" ? "greenhouse" : "raised",
        sowings: sowings.toSorted((a, b) => (a.id < b.id ? -1 : 1)),
      }),
  )

const onBed = fc.constantFrom(...bedIds)
const act = fc.oneof(
  {
    weight: 6,
    arbitrary: fc.record({
      act: fc.constant("observe" as const),
      bed: onBed,
      species: fc.option(species),
      what: fc.constantFrom(...STAGES),
      on: anyDay,
    }),
  },
  {
    weight: 3,
    arbitrary: fc.record({
      act: fc.constant("cut" as const),
      bed: onBed,
      species: fc.oneof(fc.constant([]), fc.array(species, { minLength: 1, maxLength: 1 })),
      then: fc.option(then),
      on: anyDay,
    }),
  },
  fc.record({ act: fc.constant("watered" as const), bed: onBed, on: anyDay }),
  fc.record({
    act: fc.constant("measure" as const),
    bed: fc.option(onBed),
    species: fc.constant(null),
    what: fc.constantFrom(...MEASURES),
    value: fc.integer({ min: 0, max: 60 }),
    on: anyDay,
  }),
  fc.record({ act: fc.constant("planted" as const), bed: onBed, crop: fc.option(crop), on: anyDay }),
  fc.record({ act: fc.constant("want" as const), bed: onBed, crop: fc.option(crop), on: anyDay }),
  fc.record({
    act: fc.constant("sowed" as const),
    bed: onBed,
    species: fc.array(species, { maxLength: 2 }),
    on: anyDay,
  }),
)

/** Replies are sent on the day that they speak of. */
const replyOn = (one: object, on: Day): NewEntry => reply("ines", `${on} 10:00`, [{ ...one, on } as Act])

export const anyReply: fc.Arbitrary<NewEntry> = act.map((one) => replyOn(one, one.on))

/** Acts of any day, and as many of the last weeks, where they matter most. */
const acts = fc.array(fc.record({ one: act, lately: fc.option(fc.integer({ min: 0, max: 25 })) }), { maxLength: 14 })

export const anyCase: fc.Arbitrary<Case> = fc
  .record({
    garden: fc.tuple(...bedIds.map(bed)).map((beds) => aGarden({ beds })),
    acts,
    place: fc.integer({ min: 0, max: PLACES.length - 1 }),
    weather: fc.integer({ min: 0, max: 3 }),
    on: anyDay,
  })
  .map(({ acts: some, ...known }) => {
    const entries = some.map(({ one, lately }) => replyOn(one, lately === null ? one.on : addDays(known.on, -lately)))
    return { ...known, entries: entries.toSorted((a, b) => a.at - b.at) }
  })

/** One object for the same weather, as a running house holds it, so that what was worked out from it is kept. */
const MOST_WEATHERS = 40
const weathers = new Map<string, KnownWeather>()
function weatherFor(place: number, kind: number, on: Day): KnownWeather {
  const key = kind === 0 ? `${place}` : `${place}/${kind}/${on}`
  const known = weathers.get(key) ?? freshWeather(place, kind, on)
  if (weathers.size >= MOST_WEATHERS) weathers.clear()
  weathers.set(key, known)
  return known
}

/** Weather as chance makes it: none; or normals with a wave of warm, cold and wet days laid over them. */
function freshWeather(place: number, kind: number, on: Day): KnownWeather {
  const [lat, lon] = PLACES[place]!
  const climate = climateAt(place)
  if (kind === 0) return { lat, lon, observed: null, forecast: null, climate }
  const key = `${place}/${kind}`
  const observed = measured.get(key) ?? waves(climate, kind, addDays(START, -20), 700)
  measured.set(key, observed)
  return { lat, lon, observed, forecast: waves(climate, kind, addDays(on, 1), 10), climate }
}
const measured = new Map<string, DailyWeather>()

function waves(climate: Climate, kind: number, first: Day, days: number): DailyWeather {
  const number = dayNumber(first)
  const wave = (i: number) => Math.sin((number + i) * 0.7 * kind) * 6 + Math.sin((number + i) * 0.11) * 4
  const month = (i: number) => Number(addDays(first, i).slice(5, 7)) - 1
  const rain = (n: number) => (n % 5 === 0 ? 9 : n % 17 === 0 ? Number.NaN : 0)
  return {
    first: number,
    tmin_c: Float64Array.from({ length: days }, (_, i) => climate.tmin_c[month(i)]! + wave(i)),
    tmax_c: Float64Array.from({ length: days }, (_, i) => climate.tmax_c[month(i)]! + wave(i)),
    rain_mm: Float64Array.from({ length: days }, (_, i) => rain(number + i)),
  }
}

/** The garden of a case at its place. */
export function gardenOf({ garden, place }: Case): Garden {
  const [latitude, longitude, elev_m] = PLACES[place]!
  return { ...garden, place: { ...garden.place, latitude, longitude, elev_m } }
}

export function planOf(one: Case, entries: readonly Entry[] = log(...one.entries), garden = gardenOf(one)): GardenPlan {
  const history = readHistory(entries, garden)
  const weather = weatherFor(one.place, one.weather, one.on)
  return planGarden({ handbook: handbook(), garden, history, weather }, one.on)
}

/** The plan worked out from nothing that was kept: weather of its own. */
export function planAfresh(one: Case, entries: readonly Entry[]): GardenPlan {
  const garden = gardenOf(one)
  const weather = structuredClone(freshWeather(one.place, one.weather, one.on))
  return planGarden({ handbook: handbook(), garden, history: readHistory(entries, garden), weather }, one.on)
}
