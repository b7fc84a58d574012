import fc from "fast-check"
import { describe, expect, test } from "vitest"
import type { DailyWeather, KnownWeather } from "../../src/agronomy/weather-series.ts"
import type { Climate } from "../../src/handbook/climate.ts"
import { estimateStages } from "../../src/season/estimate.ts"
import type { EstimateInput, StageEstimates } from "../../src/season/stage-estimates.ts"
import { addDays, type Day, day, dayNumber, daysBetween } from "../../src/values/day.ts"
import type { Range } from "../../src/values/range.ts"
import { handbook } from "../given.ts"

const ids = [...handbook().species.keys()].sort()
const places = new Map<string, KnownWeather>()
/** A place with nothing measured. */
function known(lat: number, lon: number): KnownWeather {
  const before = places.get(`${lat} ${lon}`)
  if (before) return before
  const made = { lat, lon, observed: null, forecast: null, climate: handbook().climates.at({ lat, lon }) }
  places.set(`${lat} ${lon}`, made)
  return made
}
const estimate = (species: string, sown: string, weather: KnownWeather, more: Partial<EstimateInput> = {}) =>
  estimateStages({
    species: handbook().species.get(species)!,
    development: handbook().development.get(species),
    sown: day(sown),
    on: day(sown),
    weather,
    bed: "plot",
    observed: [],
    ...more,
  })

/** Ranges of a sowing in the order in which its stages come. */
const inOrder = (stages: StageEstimates): Range[] =>
  [stages.emergence, stages.flagLeaf, stages.boot, stages.firstFlower, stages.viableSeed].filter((one) => one !== null)

/** Places of the whole earth, poles and equator among them. */
const PLACES: readonly [number, number][] = [
  [40.04, -76.31],
  [0.3, 32.6],
  [-0.2, -78.5],
  [-43.6, 172.5],
  [-33.9, 151.2],
  [64.1, -21.9],
  [78.2, 15.6],
  [-54.8, -68.3],
  [25.8, -80.2],
  [51.5, 0],
]
const anyPlace = fc.constantFrom(...PLACES)
const anySpecies = fc.constantFrom(...ids)
const anySown = fc.integer({ min: 0, max: 364 }).map((n) => addDays(day("2025-01-01"), n))
/** Days from sowing to standing, and what the weather did beside the normals meanwhile. */
const anyWeather = fc.array(fc.double({ min: -12, max: 12, noNaN: true }), { minLength: 0, maxLength: 400 })

/** Daily weather from a day on: the normals of a place and departures from them. */
function daily(climate: Climate, from: Day, departures: readonly number[], warmer = 0): DailyWeather | null {
  if (departures.length === 0) return null
  const month = (i: number) => Number(addDays(from, i).slice(5, 7)) - 1
  return {
    first: dayNumber(from),
    tmin_c: Float64Array.from(departures, (off, i) => climate.tmin_c[month(i)]! + off + warmer),
    tmax_c: Float64Array.from(departures, (off, i) => climate.tmax_c[month(i)]! + off + warmer),
    rain_mm: new Float64Array(departures.length),
  }
}

describe("any sowing, anywhere, in any weather", () => {
  test("has ranges in order, stages in order, chances between 0 and 1, and reasons in words", () => {
    fc.assert(
      fc.property(anyPlace, anySpecies, anySown, anyWeather, (place, species, sown, departures) => {
        const weather = known(...place)
        const observed = daily(weather.climate, sown, departures)
        const on = addDays(sown, departures.length)
        const stages = estimate(species, sown, { ...weather, observed }, { on })
        const ranges = inOrder(stages)
        for (const { early, likely, late, why } of ranges) {
          expect(early <= likely && likely <= late).toBe(true)
          expect(why).not.toMatch(/undefined|NaN|null/)
          expect(why.length).toBeGreaterThan(5)
        }
        for (const key of ["early", "likely", "late"] as const)
          for (let i = 1; i < ranges.length; i += 1) expect(ranges[i - 1]![key] <= ranges[i]![key]).toBe(true)
        if (stages.heading && stages.boot) expect(stages.heading.likely >= stages.boot.likely).toBe(true)
        const { chance, when } = stages.frostKill
        expect(chance >= 0 && chance <= 1).toBe(true)
        if (when) expect(when.early <= when.likely && when.likely <= when.late).toBe(true)
        expect(stages.firstFlower === null).toBe(stages.noBloom !== null)
      }),
      { numRuns: 100, seed: 7 },
    )
  }, 60_000)

  test("warmer days never delay emergence", () => {
    const warmer = fc.double({ min: 0, max: 8, noNaN: true })
    const departures = fc.array(fc.double({ min: -8, max: 8, noNaN: true }), { minLength: 200, maxLength: 200 })
    fc.assert(
      fc.property(anyPlace, anySpecies, anySown, departures, warmer, (place, species, sown, off, more) => {
        const weather = known(...place)
        const upWith = (add: number) =>
          estimate(
            species,
            sown,
            { ...weather, observed: daily(weather.climate, sown, off, add) },
            { on: addDays(sown, 200) },
          ).emergence
        const cool = upWith(0)
        // Only what lies in the days that were measured: later ones hang on normals, which measured days correct.
        fc.pre(daysBetween(sown, cool.late) < 200)
        const warm = upWith(more)
        for (const key of ["early", "likely", "late"] as const) expect(warm[key] <= cool[key]).toBe(true)
      }),
      { numRuns: 50, seed: 8 },
    )
  }, 60_000)

  test("a warmer climate brings no later emergence, and a raised bed none later than open ground", () => {
    for (const place of PLACES)
      for (const species of ["winter-rye", "buckwheat", "hairy-vetch", "oats"]) {
        const weather = known(...place)
        const { climate } = weather
        const warmer = {
          ...climate,
          tmin_c: climate.tmin_c.map((t) => t + 3),
          tmax_c: climate.tmax_c.map((t) => t + 3),
        }
        const usual = estimate(species, "2026-04-20", weather).emergence
        const warm = estimate(species, "2026-04-20", { ...weather, climate: warmer }).emergence
        const raised = estimate(species, "2026-04-20", weather, { bed: "raised" }).emergence
        expect(warm.likely <= usual.likely).toBe(true)
        expect(raised.likely <= usual.likely).toBe(true)
      }
  })

  test("a later day with no news changes nothing where nobody measures", () => {
    fc.assert(
      fc.property(anyPlace, anySpecies, anySown, fc.nat(60), (place, species, sown, days) => {
        const weather = known(...place)
        const today = estimate(species, sown, weather)
        expect(estimate(species, sown, weather, { on: addDays(sown, days) })).toEqual({ ...today })
        expect(estimate(species, sown, { ...weather })).toEqual(today)
      }),
      { numRuns: 40, seed: 9 },
    )
  }, 60_000)

  test("days that were measured after the day it stands on change nothing", () => {
    const weather = known(40.04, -76.31)
    const off = Array.from({ length: 300 }, (_, i) => 5 * Math.sin(i / 9))
    const later = off.map((each, i) => (i > 60 ? each + 9 : each))
    const on = addDays(day("2025-09-20"), 60)
    const stages = (departures: number[]) =>
      estimate(
        "winter-rye",
        "2025-09-20",
        { ...weather, observed: daily(weather.climate, day("2025-09-20"), departures) },
        { on },
      )
    expect(stages(later)).toEqual(stages(off))
  })
})

/** A climate with its seasons turned by half a year, on the other side of the equator. */
function mirrored(climate: Climate): Climate {
  const turn = <T>(months: readonly T[]) => [...months.slice(6), ...months.slice(0, 6)]
  return {
    ...climate,
    lat: -climate.lat,
    tmin_c: turn(climate.tmin_c),
    tmax_c: turn(climate.tmax_c),
    rain_mm: turn(climate.rain_mm),
    sdDay_c: turn(climate.sdDay_c),
    sdYear_c: turn(climate.sdYear_c),
  }
}

describe("the south, the equator and the polar day", () => {
  test.each([
    ["winter-rye", "2025-09-20", "2026-03-22"],
    ["hairy-vetch", "2025-09-20", "2026-03-22"],
    ["buckwheat", "2025-06-20", "2025-12-20"],
    ["oats", "2026-04-10", "2026-10-10"],
    ["crimson-clover", "2025-09-10", "2026-03-12"],
  ])("%s sown half a year later in a mirrored climate takes as long", (species, north, south) => {
    const weather = known(40.04, -76.31)
    const up = estimate(species, north, weather)
    const down = estimate(species, south, { ...weather, lat: -40.04, climate: mirrored(weather.climate) })
    const took = (stages: StageEstimates, sown: string) => daysBetween(day(sown), stages.firstFlower!.likely)
    expect(Math.abs(took(up, north) - took(down, south))).toBeLessThanOrEqual(5)
  })

  test("winter wheat does not bloom where there is no winter: the reason says so", () => {
    const stages = estimate("winter-wheat", "2025-10-01", known(0.3, 32.6))
    expect(stages.firstFlower).toBeNull()
    expect(stages.noBloom).toContain("cold")
  })

  test("winter rye sown in spring does not head that year (finding of the trade)", () => {
    expect(estimate("winter-rye", "2026-04-25", known(40.04, -76.31)).noBloom).toContain("No bloom expected")
  })

  test("oats sown in the polar summer take no fewer days than it takes to grow them at 60 degrees", () => {
    const svalbard = estimate("oats", "2026-06-10", known(78.2, 15.6))
    const north = estimate("oats", "2026-05-20", known(60.2, 24.9))
    expect(north.firstFlower).not.toBeNull()
    if (svalbard.firstFlower)
      expect(daysBetween(day("2026-06-10"), svalbard.firstFlower.likely)).toBeGreaterThanOrEqual(
        daysBetween(day("2026-05-20"), north.firstFlower!.likely) - 5,
      )
    else expect(svalbard.noBloom).toContain("No bloom")
  })
})

describe("what was seen moves and narrows what is to come", () => {
  const weather = known(40.04, -76.31)
  const sown = "2025-09-20"
  const width = (range: Range) => daysBetween(range.early, range.late)
  const book = estimate("winter-wheat", sown, weather)

  test("a last leaf seen early brings every later stage forward and narrows it", () => {
    const on = addDays(book.flagLeaf!.likely, -8)
    const told = estimate("winter-wheat", sown, weather, { on, observed: [{ what: "flag-leaf", on }] })
    expect(told.flagLeaf!.likely).toBe(on)
    for (const stage of ["boot", "heading", "firstFlower"] as const) {
      expect(told[stage]!.likely < book[stage]!.likely).toBe(true)
      expect(width(told[stage]!)).toBeLessThan(width(book[stage]!))
    }
  })

  test("the reason for a bloom that was seen is the report, before it the book and what narrows it", () => {
    const home = known(40.04, -76.31)
    const seen = (what: "bloom" | "no-bloom", on: string) =>
      estimate("hairy-vetch", "2025-09-20", home, { on: day(on), observed: [{ what, on: day(on) }] }).firstFlower!
    const book = estimate("hairy-vetch", "2025-09-20", home).firstFlower!
    expect(seen("bloom", book.likely).why).toBe("You saw it.")
    expect(seen("no-bloom", book.early).why).toContain(`no bloom yet on ${book.early}`)
    expect(book.why).not.toContain("no bloom yet")
  })

  test("no bloom yet puts the bloom after that day", () => {
    const on = addDays(book.firstFlower!.likely, 1)
    const told = estimate("winter-wheat", sown, weather, { on, observed: [{ what: "no-bloom", on }] })
    expect(told.firstFlower!.early > on).toBe(true)
    expect(told.firstFlower!.why).toContain("no bloom yet")
  })

  test("not up yet puts emergence after that day, however late", () => {
    for (const days of [0, 5, 60]) {
      const on = addDays(book.emergence.late, days)
      const told = estimate("winter-wheat", sown, weather, { on, observed: [{ what: "not-up", on }] })
      expect(told.emergence.early > on).toBe(true)
    }
  })

  test("up, heading and bloom are the days they were seen", () => {
    const on = addDays(day(sown), 6)
    expect(estimate("winter-wheat", sown, weather, { on, observed: [{ what: "up", on }] }).emergence.likely).toBe(on)
    const late = addDays(book.firstFlower!.likely, 3)
    const bloomed = estimate("winter-wheat", sown, weather, { on: late, observed: [{ what: "bloom", on: late }] })
    expect(bloomed.firstFlower).toMatchObject({ early: late, likely: late, late })
    expect(bloomed.viableSeed!.early > late).toBe(true)
  })
})

describe("gaps in the weather", () => {
  const weather = known(40.04, -76.31)
  const off = Array.from({ length: 120 }, () => 0)
  const from = day("2026-03-01")
  const whole = daily(weather.climate, from, off)!
  const gappy: DailyWeather = { ...whole, tmin_c: whole.tmin_c.slice(), tmax_c: whole.tmax_c.slice() }
  for (let i = 20; i < 30; i += 1) {
    gappy.tmin_c[i] = Number.NaN
    gappy.tmax_c[i] = Number.NaN
  }
  const stages = (observed: DailyWeather) =>
    estimate("oats", "2026-03-05", { ...weather, observed }, { on: addDays(from, 60) })

  test("are bridged, and the reason says how many days", () => {
    expect(stages(gappy).firstFlower!.why).toContain("10 missing days bridged")
    expect(stages(whole).firstFlower!.why).not.toContain("bridged")
  })

  test("move an estimate by days, not by weeks", () => {
    const moved = daysBetween(stages(whole).firstFlower!.likely, stages(gappy).firstFlower!.likely)
    expect(Math.abs(moved)).toBeLessThanOrEqual(4)
  })
})
