import type { DailyWeather, KnownWeather } from "../../src/agronomy/weather-series.ts"
import type { Entry } from "../../src/garden/entry.ts"
import type { Bed, Garden } from "../../src/garden/garden.ts"
import { climateOf } from "../../src/garden/place-climate.ts"
import type { Climate } from "../../src/handbook/climate.ts"
import type { GardenPlan, SowingPlan } from "../../src/season/bed-plan.ts"
import { planGarden } from "../../src/season/plan.ts"
import { type Setting, settingOf } from "../../src/season/setting.ts"
import type { StageEstimates } from "../../src/season/stage-estimates.ts"
import type { Member, Stand } from "../../src/season/stand.ts"
import { type Day, day, dayNumber } from "../../src/values/day.ts"
import { aBed, aGarden, aSowing, handbook, historyOf, range } from "../given.ts"

/** Normals of a garden's place, with nothing measured and nothing forecast unless it is given. */
export function weatherOf(garden: Garden, known: Partial<KnownWeather> = {}): KnownWeather {
  return {
    lat: garden.place.latitude,
    lon: garden.place.longitude,
    observed: null,
    forecast: null,
    climate: climateOf(garden.place, handbook()),
    ...known,
  }
}

/** A climate without seasons: the same every day, no spread. For tests of one thing at a time. */
export function evenClimate(tmin_c: number, tmax_c: number, rain_mm = 90): Climate {
  const all = (value: number) => Array.from({ length: 12 }, () => value)
  return {
    id: "even",
    name: "Even",
    where: "",
    lat: 40,
    lon: -76,
    elev_m: 100,
    tmin_c: all(tmin_c),
    tmax_c: all(tmax_c),
    rain_mm: all(rain_mm),
    sdDay_c: all(3),
    sdYear_c: all(0),
    source: "TEST",
  }
}

/** Daily weather from a day on: lists of minimum, maximum and rain. */
export function daily(first: string, days: readonly (readonly [number, number, number])[]): DailyWeather {
  return {
    first: dayNumber(day(first)),
    tmin_c: Float64Array.from(days, (one) => one[0]),
    tmax_c: Float64Array.from(days, (one) => one[1]),
    rain_mm: Float64Array.from(days, (one) => one[2]),
  }
}

/** The plan of a garden on a day from its log. */
export function planOn(
  garden: Garden,
  entries: readonly Entry[],
  on: string,
  known: Partial<KnownWeather> = {},
): GardenPlan {
  return planGarden(
    { handbook: handbook(), garden, history: historyOf(garden, entries), weather: weatherOf(garden, known) },
    day(on),
  )
}

/** The plan of one sowing of a garden. */
export function sowingOn(
  garden: Garden,
  entries: readonly Entry[],
  on: string,
  sowing = garden.beds[0]!.sowings[0]!.id,
  known: Partial<KnownWeather> = {},
): SowingPlan {
  const found = planOn(garden, entries, on, known)
    .beds.flatMap((bed) => bed.sowings)
    .find((one) => one.sowing === sowing)
  if (!found) throw new Error(`no sowing ${sowing}`)
  return found
}

/** A garden of one bed with one sowing: `oneBed("2025-09-20", { "winter-rye": 1 }, { next: {...} })`. */
export function oneBed(
  sown: string,
  species: Record<string, number>,
  known: {
    next?: { crop: string; wanted: string | null }
    then?: Bed["sowings"][number]["then"]
    kind?: Bed["kind"]
    place?: Partial<Garden["place"]>
  } = {},
): Garden {
  const next = known.next && {
    crop: known.next.crop,
    wanted: known.next.wanted === null ? null : day(known.next.wanted),
  }
  const sowing = aSowing({
    bed: "south",
    sown: day(sown),
    species: Object.entries(species).map(([id, share]) => ({ id, share })),
    then: known.then ?? "leave",
    next: next ?? null,
  })
  return aGarden({
    beds: [aBed({ id: "south", kind: known.kind ?? "raised", sowings: [sowing] })],
    ...(known.place ? { place: known.place } : {}),
  })
}

/** The setting of a garden on a day with nothing in its log. */
export function settingOn(on: string, garden: Garden = aGarden(), known: Partial<KnownWeather> = {}): Setting {
  return settingOf(
    { handbook: handbook(), garden, history: historyOf(garden), weather: weatherOf(garden, known) },
    day(on),
  )
}

/** A member with its stages given by hand: `aMember("winter-rye", 0.6, { firstFlower: ["2026-05-18", ...] })`. */
export function aMember(
  id: string,
  share = 1,
  known: {
    heading?: Three
    firstFlower?: Three
    viableSeed?: Three
    noBloom?: string
    frost?: { chance: number; when: Three }
  } & Partial<Pick<Member, "seen" | "gone" | "survivedOn" | "cut" | "regrownOn" | "secondGrowth">> = {},
): Member {
  const species = handbook().species.get(id)
  if (!species) throw new Error(`no species ${id}`)
  const three = (days: Three | undefined) => (days ? range(...days) : null)
  const { heading, firstFlower, viableSeed, noBloom, frost, ...rest } = known
  const stages: StageEstimates = {
    emergence: range("2025-09-27", "2025-09-30", "2025-10-04"),
    flagLeaf: null,
    boot: null,
    heading: three(heading),
    firstFlower: three(firstFlower),
    viableSeed: three(viableSeed),
    ripens: 1,
    noBloom: noBloom ?? null,
    frostKill: {
      temperature_c: { low: species.winterKill_c.low, high: species.winterKill_c.high },
      chance: frost?.chance ?? 0,
      when: three(frost?.when),
    },
    worth: { boot: 0, bloom: 0 },
    ask: { boot: null, bloom: null },
  }
  return {
    species,
    share,
    seen: [],
    stages,
    gone: null,
    survivedOn: null,
    cut: null,
    regrownOn: null,
    secondGrowth: null,
    ...rest,
  }
}
export type Three = [early: string, likely: string, late: string]

/** A stand of members made by hand. */
export function aStand(members: readonly Member[], known: Partial<Stand> = {}): Stand {
  const bed = aBed({ id: "south" })
  const sowing = aSowing({
    bed: "south",
    sown: day("2025-09-20"),
    species: members.map((member) => ({ id: member.species.id, share: member.share })),
  })
  return {
    record: { sowing, sown: sowing.sown, facts: [] },
    bed,
    from: sowing.sown as Day,
    sown: true,
    facts: [],
    members,
    usualWeekdays: [],
    ...known,
  }
}
